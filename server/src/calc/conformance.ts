// Decisions at a limit by a measured value that is not exact: the probability of conformity, and the guard band that a stated risk asks for.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalBetween, normalQuantile } from './normal.ts'

/**
 * Probability that a quantity measured as `value` with standard uncertainty `u` lies between `low` and `high`, normally distributed; limits may be infinite.
 * Any one unit. Source: JCGM 106:2012, 7.2 to 7.4. Refuses a value that is not finite, u of zero or below, and limits not in order.
 */
export function conformanceProbability({
  value,
  u,
  low,
  high,
}: {
  value: number
  u: number
  low: number
  high: number
}): Outcome<number> {
  const problem = firstProblem({ value, u }, ['u'])
  if (problem) return { ok: false, problem }
  if (!(low <= high)) return refuse('limits', 'the lower limit must not lie above the upper one')
  return ok(normalBetween((low - value) / u, (high - value) / u))
}

/**
 * Width of the guard band: a value that keeps this far inside one limit is beyond it with at most the probability `risk`. Zero at a risk of one half. It
 * speaks of one limit, the other being far away. Source: JCGM 106:2012, 8.3.2 (a length parameter of 2u is a risk of 2.3 %).
 * Refuses u of zero or below, and a risk outside ]0, 0.5].
 */
export function guardBand({ u, risk }: { u: number; risk: number }): Outcome<number> {
  const problem = firstProblem({ u }, ['u'])
  if (problem) return { ok: false, problem }
  if (!(risk > 0 && risk <= 0.5)) return refuse('risk', 'the risk lies above 0 and is at most a half')
  return ok(-u * normalQuantile(risk))
}
