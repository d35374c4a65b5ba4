// The chi-square distribution: how often a sum of squares of standard normal values is larger than the one there is.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalBeyond, normalDensity } from './normal.ts'

/**
 * P(X² > x) with so many degrees of freedom, a whole number: the finite sums, exact but for rounding. Source: M. Abramowitz, I. A. Stegun, Handbook of
 * Mathematical Functions, 26.4.4 and 26.4.5. Refuses x below zero or not finite, and degrees of freedom that are no whole number from 1 to 1000.
 */
export function chiSquareBeyond({ x, freedom }: { x: number; freedom: number }): Outcome<number> {
  if (!(x >= 0 && x < Number.POSITIVE_INFINITY)) return refuse('x', 'a sum of squares is zero or more, and finite')
  if (!(Number.isInteger(freedom) && freedom >= 1 && freedom <= 1000))
    return refuse('freedom', 'degrees of freedom are a whole number from 1 to 1000')
  const root = Math.sqrt(x)
  if (freedom % 2 === 1) {
    let sum = 0
    for (let r = 1, term = root; r <= (freedom - 1) / 2; r++, term *= x / (2 * r - 1)) sum += term
    return ok(Math.min(1, normalBeyond(root) + (freedom === 1 ? 0 : 2 * normalDensity(root) * sum)))
  }
  let sum = 0
  for (let r = 0, term = 1; r <= freedom / 2 - 1; r++, term *= x / (2 * r)) sum += term
  return ok(Math.min(1, Math.exp(-x / 2) * sum))
}
