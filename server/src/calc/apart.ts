// How far two results are apart, how much of that known causes explain, and whether what is left is more than both can be wrong.
import { firstProblem, type Outcome } from '../base/outcome.ts'
import { finished } from './inputs.ts'
import { differenceOf, type Range } from './range.ts'
import { shiftOfRange } from './two-piece.ts'

/** A result with the half-width of its 95 % interval. */
interface Result {
  readonly value: number
  readonly U: number
}

export interface Apart {
  /** b − a, and the half-width of its 95 % interval. */
  readonly difference: number
  readonly U: number
  /** What the causes do together, and the half-width of its 95 % interval. */
  readonly explained: number
  readonly explainedU: number
  /** What they leave, and the half-width of its 95 % interval. */
  readonly left: number
  readonly leftU: number
  /** none: the two agree as they stand. causes: what is left is within its interval. open: it is not. */
  readonly verdict: 'none' | 'causes' | 'open'
}

/** Standard deviations in the half-width of a 95 % interval of a normal distribution. */
const K95 = 1.959963984540054

/**
 * Two results of independent measurements, and causes known as a quantity at each of them, `at.b − at.a` being what each adds to b. All in one unit; the
 * two ends of a cause share what is unknown of it, so its difference is taken low with low, typical with typical, high with high. What several causes share
 * (the stiffness of one stock) is not known to be independent: their uncertainties add up. U² = U_a² + U_b² (GUM 5.1.2); agreement as by the E_n number
 * with its limit of 1 (ISO 13528; from memory). Refuses what is not finite, and a U below zero.
 */
export function apartOf({
  a,
  b,
  causes,
}: {
  readonly a: Result
  readonly b: Result
  readonly causes: readonly { readonly a: Range; readonly b: Range }[]
}): Outcome<Apart> {
  const problem =
    firstProblem({ a: a.value, b: b.value, aU: a.U, bU: b.U }) ??
    (a.U >= 0 && b.U >= 0 ? undefined : { input: 'U', reason: 'an uncertainty is no less than nothing' })
  if (problem) return { ok: false, problem }
  let [explained, explainedU] = [0, 0]
  for (const cause of causes) {
    const shift = shiftOfRange({ range: differenceOf(cause.b, cause.a) })
    if (!shift.ok) return shift
    explained += shift.value.shift
    explainedU += K95 * shift.value.u
  }
  const difference = b.value - a.value
  const U = Math.hypot(a.U, b.U)
  const left = difference - explained
  const leftU = Math.hypot(U, explainedU)
  const verdict = Math.abs(difference) <= U ? 'none' : Math.abs(left) <= leftU ? 'causes' : 'open'
  return finished('apart', { difference, U, explained, explainedU, left, leftU, verdict })
}
