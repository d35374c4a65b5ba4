// What instruments can prove at the very best: with any number of prints of a feed that repeats perfectly, their own errors are left.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalQuantile } from './normal.ts'

/**
 * The smallest tolerance (fraction of length) that instruments can prove, however often is measured: half the interval that holds a print with the probability
 * 1 − risk where all that is not known are the instruments' own errors, each one's independent of the others' and the same in all that it measures. `u`: of each
 * instrument the standard uncertainty of that, as a fraction of the length. Valid for near-normal errors. Source: JCGM 106:2012, 7 (conformance probability); GUM 5.1.2,
 * the mean weighted by 1/u².
 * Refuses no instruments, an uncertainty below zero or not finite, and a risk outside ]0, 1[.
 */
export function provableTolerance({ u, risk }: { readonly u: readonly number[]; readonly risk: number }): Outcome<number> {
  if (u.length === 0) return refuse('u', 'without an instrument nothing can be proven')
  if (!u.every((one) => one >= 0 && one < Number.POSITIVE_INFINITY))
    return refuse('u', 'an uncertainty must be zero or more, and finite')
  if (!(risk > 0 && risk < 1)) return refuse('risk', 'the risk lies between 0 and 1, both excluded')
  const together = 1 / Math.sqrt(u.reduce((sum, one) => sum + 1 / (one * one), 0))
  return ok(normalQuantile(1 - risk / 2) * together)
}
