// What a mean of unknown scatter says of a tolerance: of the prints that follow, of the mean itself, and of the best that the machine could do.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalBeyond } from './normal.ts'
import { type MixtureParts, mixtureBetween } from './normal-mixture.ts'

/** Of what a probability is asked: one print made now, with its own scatter, or the mean of very many. */
type ProbabilityOf = 'print' | 'mean'

/**
 * Probability that a print, or the mean, lies between two limits, which may be infinite; in the unit of the mixture. A print scatters about the mean: its
 * variance is that of the mean and tau². Source: JCGM 106:2012, 7 (conformance probability), for the mixture. Refuses limits that are no numbers or not in
 * order.
 */
export function probabilityWithin(
  { parts }: { readonly parts: MixtureParts },
  low: number,
  high: number,
  { of }: { readonly of: ProbabilityOf },
): Outcome<number> {
  if (Number.isNaN(low) || Number.isNaN(high)) return refuse('limits', 'a limit is not a number')
  if (low > high) return refuse('limits', 'the lower limit lies above the upper one')
  return ok(mixtureBetween(parts, low, high, of === 'print'))
}

/**
 * Probability that a print lies within ± tolerance where the mean is known perfectly and keyed in exactly: what no further check can better.
 * Refuses a tolerance of zero or below.
 */
export function bestProbability({ parts }: { readonly parts: MixtureParts }, tolerance: number): Outcome<number> {
  if (!(tolerance > 0)) return refuse('tolerance', 'the tolerance must be above zero')
  return ok(parts.p.reduce((sum, p, k) => sum + p * (1 - normalBeyond(tolerance / parts.tau[k]!)), 0))
}
