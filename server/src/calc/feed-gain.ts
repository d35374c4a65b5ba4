// Between gains, which feed checks measure, and corrections, which people key in.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

/**
 * The correction that a gain (measured over expected length, without correction) asks for, c = 1/gain − 1, with what an uncertainty of the gain is worth in it:
 * times (1 + c)². Fractions. Source: GUM 5.1.3. Refuses a gain of zero or below.
 */
export function correctionOfGain({ gain, u }: { gain: number; u: number }): Outcome<{ correction: number; u: number }> {
  if (!(gain > 0 && gain < Number.POSITIVE_INFINITY)) return refuse('gain', 'a gain must be above zero, and finite')
  const correction = (1 - gain) / gain
  return ok({ correction, u: u * (1 + correction) ** 2 })
}

/**
 * The gains at which a print with the correction `set` keyed in is within ± tolerance of its true length: gain·(1 + set) = 1 ± tolerance, exactly. Fractions.
 * Refuses a correction of −100 % or below, and a tolerance of zero or below.
 */
export function gainLimits({ set, tolerance }: { set: number; tolerance: number }): Outcome<{ low: number; high: number }> {
  if (!(set > -1 && set < Number.POSITIVE_INFINITY)) return refuse('set', 'a correction lies above −100 %, and is finite')
  if (!(tolerance > 0 && tolerance < Number.POSITIVE_INFINITY))
    return refuse('tolerance', 'the tolerance must be above zero, and finite')
  return ok({ low: (1 - tolerance) / (1 + set), high: (1 + tolerance) / (1 + set) })
}
