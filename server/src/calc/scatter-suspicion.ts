// How suspect each value is, judged by what all others predict, while the nodes of the average go by.
import { normalBeyond } from './normal.ts'
import type { Solver } from './scatter-solver.ts'

/** Below this share (e⁻⁶⁰) a node adds nothing. */
const NEGLIGIBLE = 60

/**
 * For each of n rows the probability of a distance from the others as large as its own, averaged over nodes weighted by the likelihood of the others alone:
 * that of all values, times s·exp(½(e/s)²). The result is n times that, as for the largest of n (Bonferroni).
 */
export function suspicions(n: number): { add: (logWeight: number, solver: Solver) => void; result: () => Float64Array } {
  const distance = new Float64Array(n)
  const deviation = new Float64Array(n)
  const most = new Float64Array(n).fill(Number.NEGATIVE_INFINITY)
  const weight = new Float64Array(n)
  const beyond = new Float64Array(n)
  const add = (logWeight: number, solver: Solver): void => {
    solver.leaveOneOut(distance, deviation)
    for (let j = 0; j < n; j++) {
      const s = deviation[j]!
      const z = Math.abs(distance[j]! / s)
      const log = logWeight + 0.5 * z * z + Math.log(s)
      if (!(log > most[j]! - NEGLIGIBLE)) continue
      if (log > most[j]!) {
        const shrink = Math.exp(most[j]! - log)
        weight[j]! *= shrink
        beyond[j]! *= shrink
        most[j] = log
      }
      const w = Math.exp(log - most[j]!)
      weight[j]! += w
      beyond[j]! += w * normalBeyond(z)
    }
  }
  return { add, result: () => beyond.map((sum, j) => (n * sum) / weight[j]!) }
}
