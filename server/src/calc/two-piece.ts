// A shift known as low, typical and high, as one number with a standard uncertainty.

import type { Outcome } from '../base/outcome.ts'
import { finished } from './inputs.ts'
import { type Range, rangeProblem } from './range.ts'

/** A carry is a calculation, and no calculation of a web is surer than this share of what it says; from memory. */
const LEAST_SHARE = 0.3

interface Shift {
  /** Mean of the distribution; the typical value where the range is symmetrical. */
  readonly shift: number
  /** Standard uncertainty, at least 0.3 of the shift. */
  readonly u: number
  /** Whether that floor is what it is. */
  readonly floored: boolean
}

/**
 * A range as a two-piece normal distribution with its mode at the typical value and the ends at √3 standard deviations on their sides:
 * shift = typical + √(2/π)(s₂ − s₁), u² = (1 − 2/π)(s₂ − s₁)² + s₁s₂. The uncertainty is shared by all that the same law carries, and never divided by n.
 * Any one unit. Source: K. F. Wallis, Stat. Sci. 29 (2014) 106 (Fechner's distribution, its mean and variance); floor from memory.
 * Refuses a range that is not finite or out of order.
 */
export function shiftOfRange({ range }: { range: Range }): Outcome<Shift> {
  const problem = rangeProblem('range', range)
  if (problem) return { ok: false, problem }
  const below = (range.typical - range.low) / Math.sqrt(3)
  const above = (range.high - range.typical) / Math.sqrt(3)
  const shift = range.typical + Math.sqrt(2 / Math.PI) * (above - below)
  const u = Math.sqrt((1 - 2 / Math.PI) * (above - below) ** 2 + above * below)
  const least = LEAST_SHARE * Math.abs(shift)
  return finished('range', { shift, u: Math.max(u, least), floored: u < least })
}
