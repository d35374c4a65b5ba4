// A level that drifts, wanders and steps at each new lot, followed through dated checks: the Kalman filter of one profile's correction.
import { normalCdf } from './normal.ts'

/** One dated value of what is followed: brought to today's conditions, suspects left out. */
export interface LevelCheck {
  /** Day it was measured on, counted from any day that all checks share; parts of a day are allowed. */
  readonly day: number
  /** The value, as a fraction. */
  readonly value: number
  /** Its standard uncertainty (reading, print-to-print scatter and instrument together), a fraction above zero. */
  readonly u: number
  /** The lot it was measured on. One that is not known counts as that of the check before. */
  readonly lot?: string | undefined
}

/** How fast a level moves. */
export interface Rates {
  /** Standard deviation of the wandering over one day, as a fraction; it grows with the root of the days. */
  readonly walk: number
  /** Standard deviation of the step from one lot to the next, as a fraction. */
  readonly lot: number
  /** Standard deviation, between printers, of the steady drift a day, as a fraction. */
  readonly slope: number
}

/** What is known of a level on one day: mean and variances of the level and of its steady drift a day. */
export interface Level {
  readonly value: number
  readonly slope: number
  readonly variance: number
  readonly covariance: number
  readonly slopeVariance: number
  /** ln of the probability of the checks at these rates but for a part that hangs on their number alone, the mean level integrated over (REML). */
  readonly logLikelihood: number
}

/**
 * Follows a level through checks in the order of their days and says what is known of it on the day of the last.
 * Nothing is assumed of the level before the first check; the drift is 0 ± `rates.slope`. At least one check.
 * Source: A. C. Harvey, Forecasting, Structural Time Series Models and the Kalman Filter (1989) 2.3, 3.2: local linear trend, diffuse start.
 */
export function followLevel(checks: readonly LevelCheck[], rates: Rates): Level {
  const { day, value, u, lot } = checks[0]!
  const lotVariance = rates.lot * rates.lot
  const walkVariance = rates.walk * rates.walk
  let [on, known] = [day, lot]
  let [level, slope] = [value, 0]
  let [p00, p01, p11] = [u * u, 0, rates.slope * rates.slope]
  let squares = 0
  // ln of the product of all s, the product turned into its logarithm before it can leave the range of a double.
  let [product, logs] = [1, 0]
  for (let i = 1; i < checks.length; i++) {
    const check = checks[i]!
    const days = check.day - on
    on = check.day
    level += slope * days
    p00 += days * (2 * p01 + days * p11 + walkVariance)
    p01 += days * p11
    if (check.lot !== undefined) {
      if (known !== undefined && check.lot !== known) p00 += lotVariance
      known = check.lot
    }
    const s = p00 + check.u * check.u
    const error = check.value - level
    const [k0, k1] = [p00 / s, p01 / s]
    level += k0 * error
    slope += k1 * error
    p11 -= k1 * p01
    // Written as products, so that rounding leaves no variance below zero.
    p01 *= 1 - k0
    p00 = k0 * check.u * check.u
    squares += (error * error) / s
    product *= s
    if (product < 1e-150 || product > 1e150) {
      logs += Math.log(product)
      product = 1
    }
  }
  const logLikelihood = -0.5 * (squares + logs + Math.log(product))
  return { value: level, slope, variance: p00, covariance: p01, slopeVariance: Math.max(0, p11), logLikelihood }
}

/** Mean and variance of a level `days` after the day it is known for, `lots` new lots later. Source: as `followLevel`. */
export function levelAhead(level: Level, rates: Rates, days: number, lots: number): { value: number; variance: number } {
  const grown = days * (2 * level.covariance + days * level.slopeVariance + rates.walk * rates.walk)
  return { value: level.value + level.slope * days, variance: level.variance + grown + lots * rates.lot * rates.lot }
}

/** The probability that a normal value of this mean and variance (above zero) lies more than `half` from zero. */
export function riskBeyond(mean: number, variance: number, half: number): number {
  const sd = Math.sqrt(variance)
  const away = Math.abs(mean)
  const farther = (half + away) / sd
  // Beyond nine standard deviations no double tells the difference.
  return normalCdf((away - half) / sd) + (farther < 9 ? normalCdf(-farther) : 0)
}
