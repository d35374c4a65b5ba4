// A print that somebody complains of: what was known of it before anybody measured it, what was measured, both together, and the decision at a tolerance.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalBetween, normalCdf, normalDensity } from './normal.ts'

/** Normal distributions of which what is known is the mixture, in rows of equal length; any one unit. */
export interface Mixture {
  /** Weights, sum 1. */
  readonly p: readonly number[]
  readonly mean: readonly number[]
  /** Standard deviations, above zero. */
  readonly s: readonly number[]
}

interface ClaimInput {
  /** What was known of this one print beforehand; undefined where nothing was. */
  readonly known: Mixture | undefined
  /** What was measured, with its standard uncertainty; undefined where nothing was, or nobody knows how well. */
  readonly measured: { readonly value: number; readonly u: number } | undefined
  /** The tolerance; may be infinite on one side. */
  readonly low: number
  readonly high: number
  /** The probability with which either side may be wronged, above 0 and at most a half. */
  readonly risk: number
}

/** `within`: the tolerance was kept; `out`: it was not; `open`: nobody can tell at this risk. */
type Decision = 'within' | 'out' | 'open'

export interface Claim {
  /** Probabilities that the print is within the tolerance: by what was known, by the measurement, by both. Undefined where there is nothing to say it by. */
  readonly knownWithin: number | undefined
  readonly measuredWithin: number | undefined
  readonly within: number | undefined
  /** Both together; that of the one there is where there is one. */
  readonly both: Mixture | undefined
  readonly mean: number | undefined
  readonly s: number | undefined
  /** How often a print of which that was known is measured so far off, to either side; undefined unless there are both. */
  readonly surprise: number | undefined
  readonly decision: Decision
}

/** A measurement so unlikely by what was known means that one of the two is wrong, and their product belongs to neither. */
export const CONTRADICTION = 0.01

/**
 * Bayes' rule for a normal mixture and a normal measurement: each part becomes the product of two normals, weighed anew by how well it foretold the
 * measurement. Without knowledge beforehand the measurement stands alone. The decision is guarded either way: within at a conformance probability of 1 − risk
 * or more, out at risk or less; open in between, where measurement and knowledge contradict each other (less than 1 in 100), and where there is neither.
 * Source: JCGM 106:2012, 6.2 and 6.3 (knowledge before and after measuring), 7 (conformance probability), 8.3 (guarded acceptance and rejection); A. Gelman et al.,
 * Bayesian Data Analysis, 3rd ed., 2.5 (the product of normals). Refuses numbers that are not finite, deviations that are not above zero, limits not in order.
 */
export function judgeClaim({ known, measured, low, high, risk }: ClaimInput): Outcome<Claim> {
  const problem = measured && firstProblem({ measured: measured.value, u: measured.u }, ['u'])
  if (problem) return { ok: false, problem }
  if (!(low < high)) return refuse('limits', 'the lower limit must lie below the upper one')
  if (!(risk > 0 && risk <= 0.5)) return refuse('risk', 'the risk lies above 0 and is at most a half')
  if (known && !isMixture(known)) return refuse('known', 'what is known needs weights, finite means and deviations above zero')
  const alone = measured && { p: [1], mean: [measured.value], s: [measured.u] }
  const product = known && measured ? productOf(known, measured) : undefined
  const both = product ?? known ?? alone
  const surprise = known && measured ? surpriseOf(known, measured) : undefined
  const inside = (mixture: Mixture | undefined): number | undefined =>
    mixture?.p.reduce(
      (sum, p, k) => sum + p * normalBetween((low - mixture.mean[k]!) / mixture.s[k]!, (high - mixture.mean[k]!) / mixture.s[k]!),
      0,
    )
  const within = inside(both)
  const mean = both?.p.reduce((sum, p, k) => sum + p * both.mean[k]!, 0)
  const s = both && Math.sqrt(both.p.reduce((sum, p, k) => sum + p * (both.s[k]! ** 2 + (both.mean[k]! - mean!) ** 2), 0))
  const open = within === undefined || (surprise !== undefined && surprise < CONTRADICTION)
  const decision = open ? 'open' : within >= 1 - risk ? 'within' : within <= risk ? 'out' : 'open'
  return ok({ knownWithin: inside(known), measuredWithin: inside(alone), within, both, mean, s, surprise, decision })
}

/** Undefined where no part foretold anything near the measurement: then they contradict each other, and `surprise` tells. */
function productOf({ p, mean, s }: Mixture, { value, u }: { value: number; u: number }): Mixture | undefined {
  const weights = p.map((weight, k) => {
    const wide = Math.hypot(s[k]!, u)
    return (weight * normalDensity((value - mean[k]!) / wide)) / wide
  })
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  if (!(total > 0)) return undefined
  return {
    p: weights.map((weight) => weight / total),
    mean: mean.map((m, k) => (m * u ** 2 + value * s[k]! ** 2) / (s[k]! ** 2 + u ** 2)),
    s: s.map((one) => (one * u) / Math.hypot(one, u)),
  }
}

function surpriseOf({ p, mean, s }: Mixture, { value, u }: { value: number; u: number }): number {
  const below = p.reduce((sum, weight, k) => sum + weight * normalCdf((value - mean[k]!) / Math.hypot(s[k]!, u)), 0)
  const above = p.reduce((sum, weight, k) => sum + weight * normalCdf((mean[k]! - value) / Math.hypot(s[k]!, u)), 0)
  return Math.min(1, 2 * Math.min(below, above))
}

const isMixture = ({ p, mean, s }: Mixture): boolean =>
  p.length > 0 &&
  p.length === mean.length &&
  p.length === s.length &&
  [...p, ...mean].every(Number.isFinite) &&
  s.every((one) => one > 0 && one < Number.POSITIVE_INFINITY)
