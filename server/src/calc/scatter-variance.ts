// The variance of a weighted mean at one node of the scatter mixture, from the whole covariance, and where it comes from.
import type { Layout } from './scatter-model.ts'
import type { ScatterNode } from './scatter-nodes.ts'

/** The parts of a variance, by where they come from; their sum is the variance. */
export interface VarianceParts {
  readings: number
  scatter: number
  days: number
  lots: number
  drift: number
  /** By cause, in the order of the layout. */
  readonly shared: Float64Array
}

/**
 * Variance, at a node, of the mean with given weights of the rows about the value asked for: w'Vw − 2w'c + omega², where c is the covariance with the lot
 * asked for. Its parts are added to `parts`, times `share`.
 */
export function varianceOf(
  layout: Layout,
): (node: ScatterNode, weights: Float64Array, parts: VarianceParts, share: number) => number {
  const { n, width, own, start, column, groups, levels, ages } = layout
  const inColumn = new Float64Array(width)
  const inDay = new Float64Array(layout.dayCount)

  return ({ tau, rho, omega, q }, w, parts, share) => {
    const between = rho * tau * tau
    let readings = 0
    let scatter = 0
    let days = 0
    inColumn.fill(0)
    inDay.fill(0)
    for (let j = 0; j < n; j++) {
      const weight = w[j]!
      const square = weight * weight
      readings += square * own[j]!
      scatter += square * (tau * tau - between)
      if (layout.dayOf[j]! < 0) days += square * between
      else inDay[layout.dayOf[j]!]! += weight
      for (let e = start[j]!; e < start[j + 1]! - 1; e++) inColumn[column[e]!]! += weight * layout.entry[e]!
    }
    for (let d = 0; d < inDay.length; d++) days += between * inDay[d]! ** 2
    let lots = 0
    if (layout.lotsDiffer) {
      lots = 1
      for (let c = layout.firstLot; c < width; c++) lots += inColumn[c]! ** 2 - (c === layout.lotNow ? 2 * inColumn[c]! : 0)
      lots *= omega * omega
    }
    let drift = 0
    if (q > 0) {
      let tail = 0
      for (let k = ages.length - 1; k >= 0; k--) {
        for (let j = groups[levels[k]!]!; j < groups[levels[k + 1]!]!; j++) tail += w[j]!
        drift += q * q * tail * tail * (ages[k]! - (k > 0 ? ages[k - 1]! : 0))
      }
    }
    let sum = readings + scatter + days + lots + drift
    parts.readings += share * readings
    parts.scatter += share * scatter
    parts.days += share * days
    parts.lots += share * lots
    parts.drift += share * drift
    for (let c = 0; c < parts.shared.length; c++) {
      const square = inColumn[1 + c]! ** 2
      parts.shared[c]! += share * square
      sum += square
    }
    return sum
  }
}
