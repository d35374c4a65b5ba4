// A mixture of normal distributions: its probability between two limits, and the interval that holds a given share of it.
import { normalBetween, normalDensity } from './normal.ts'

/** The normal distributions of which an answer is the mixture, in rows of equal length. Any one unit. */
export interface MixtureParts {
  /** Weights, sum 1. */
  readonly p: readonly number[]
  readonly mean: readonly number[]
  /** Standard uncertainty of the mean. */
  readonly u: readonly number[]
  /** Scatter of one print about the mean. */
  readonly tau: readonly number[]
}

/** Probability that the mean lies between the limits, or with `ofPrint` one print made now, which scatters too. */
export function mixtureBetween({ p, mean, u, tau }: MixtureParts, low: number, high: number, ofPrint = false): number {
  let sum = 0
  for (let k = 0; k < p.length; k++) {
    const s = ofPrint ? Math.hypot(u[k]!, tau[k]!) : u[k]!
    sum += p[k]! * normalBetween((low - mean[k]!) / s, (high - mean[k]!) / s)
  }
  return Math.min(1, sum)
}

/**
 * Half-width of the interval about `centre` that holds `coverage` of the mixture of the mean: Newton's steps from `start` (its standard uncertainty, above
 * zero), kept between bounds that close in, to 1e-13 relative.
 */
export function mixtureHalfWidth({ p, mean, u }: MixtureParts, centre: number, start: number, coverage: number): number {
  let low = 0
  let high = Number.POSITIVE_INFINITY
  let half = 2 * start
  for (let i = 0; i < 200; i++) {
    let missing = coverage
    let slope = 0
    for (let k = 0; k < p.length; k++) {
      const above = (centre + half - mean[k]!) / u[k]!
      const below = (centre - half - mean[k]!) / u[k]!
      missing -= p[k]! * normalBetween(below, above)
      slope += (p[k]! * (normalDensity(above) + normalDensity(below))) / u[k]!
    }
    if (missing > 0) low = half
    else high = half
    const next = half + missing / slope
    const inside = next > low && next < high
    const step = (inside ? next : high < Number.POSITIVE_INFINITY ? (low + high) / 2 : 2 * half) - half
    half += step
    if (!(Math.abs(step) > 1e-13 * half)) break
  }
  return half
}

/** Mean of what a mixture weighs, and the ends that leave 2.5 % of the weight on either side, between the points where it stands. */
export function weightedInterval(
  p: readonly number[],
  values: readonly number[],
): { expected: number; low: number; high: number } {
  const order = values.map((_, k) => k).sort((a, b) => values[a]! - values[b]!)
  const at = (share: number): number => {
    let sum = 0
    let [before, reached] = [values[order[0]!]!, 0]
    for (const k of order) {
      // Half of a point's weight lies below it.
      const here = sum + p[k]! / 2
      if (here >= share)
        return here > reached ? before + ((share - reached) / (here - reached)) * (values[k]! - before) : values[k]!
      ;[before, reached] = [values[k]!, here]
      sum += p[k]!
    }
    return before
  }
  return { expected: p.reduce((sum, w, k) => sum + w * values[k]!, 0), low: at(0.025), high: at(0.975) }
}
