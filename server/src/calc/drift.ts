// Drift: whether a correction moves with time or with metres run, where it will be, and when it leaves the tolerance.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { fitParallelLines, type Line, type Prediction, predict } from './regression.ts'
import { upperQuantile } from './student-t.ts'

export interface DriftPoint {
  /** Seconds (from any origin), or metres run. */
  readonly at: number
  /** The correction found there, as a fraction. */
  readonly value: number
  /** What it was found on, such as a lot: each has a level of its own, and a step from one to the next is no drift. */
  readonly group?: string | undefined
}

export interface Drift {
  readonly line: Line
  /** Change of the value per unit of `at`, and its standard uncertainty. */
  readonly slope: number
  readonly uSlope: number
  /** |slope|/uSlope; the largest double for points exactly on a sloping line, 0 where nothing moves. */
  readonly t: number
  /** What t must exceed for the drift to be real, at n − 2 degrees of freedom. */
  readonly tCritical: number
  /** Whether the slope is more than scatter. A high R² does not say so. */
  readonly real: boolean
  readonly first: number
  readonly last: number
}

/**
 * Fits a line to corrections against time or metres and tests its slope with t(n − 2), two-sided at 1 − `coverage` (0.95 unless given).
 * Points of several groups share the slope and keep a level each; the line is then that of the last point's group.
 * At least three points at two or more places, within one group. Source: NIST/SEMATECH e-Handbook 4.1.4.1, 4.4.4; GUM H.3.
 * Refuses coverage outside ]0, 1[, and what `fitParallelLines` refuses, under the name `points`.
 */
export function driftOf({ points, coverage = 0.95 }: { points: readonly DriftPoint[]; coverage?: number }): Outcome<Drift> {
  if (!(coverage > 0 && coverage < 1)) return refuse('coverage', 'the coverage probability lies between 0 and 1, both excluded')
  const group = points.map((p) => p.group ?? '')
  const newest = points.reduce((last, p) => (p.at >= last.at ? p : last), points[0]!)
  const of = newest?.group ?? ''
  const fitted = fitParallelLines({ x: points.map((p) => p.at), y: points.map((p) => p.value), group, of })
  if (!fitted.ok) return refuse('points', fitted.problem.reason)
  const line = fitted.value
  // Points on a level line scatter by the rounding of the arithmetic alone: no drift.
  const still = Math.abs(line.slope) * line.xSpread <= 1e-13 * Math.abs(line.yMean)
  const t = still ? 0 : Math.min(Number.MAX_VALUE, Math.abs(line.slope) / line.uSlope)
  const tCritical = upperQuantile((1 - coverage) / 2, line.nu)
  const places = points.map((p) => p.at)
  const [first, last] = [places.reduce((a, b) => Math.min(a, b)), places.reduce((a, b) => Math.max(a, b))]
  return ok({ line, slope: line.slope, uSlope: line.uSlope, t, tCritical, real: t > tCritical, first, last })
}

interface DriftPrediction extends Prediction {
  /** Whether the place lies outside the points; the further out, the more it rests on the line staying straight. */
  readonly extrapolated: boolean
}

/** Where the next check will find the correction at `at` (seconds or metres, as the drift): value and prediction interval. Source and refusals: `predict`. */
export function predictDrift({
  drift,
  at,
  coverage = 0.95,
}: {
  drift: Drift
  at: number
  coverage?: number
}): Outcome<DriftPrediction> {
  const prediction = predict({ line: drift.line, x: at, coverage })
  return prediction.ok ? ok({ ...prediction.value, extrapolated: at < drift.first || at > drift.last }) : prediction
}

interface ToleranceReached {
  /** Where the line itself leaves applied ± tolerance, from `from` on; undefined where it never does. */
  readonly expected: number | undefined
  /** Where the prediction interval of a single check first reaches out of applied ± tolerance: the place to check again by. */
  readonly earliest: number | undefined
}

/**
 * When a drifting correction will have left the one keyed in (`applied`, fraction) by more than `tolerance` (fraction, above zero), looking from
 * `from` onwards (seconds or metres, as the drift). Both answers are `from` itself if it has happened already.
 * The answer means something only where `drift.real`; it assumes the line stays straight. Source: the prediction interval of `predict`, solved for its place.
 * Refuses what is not finite, a tolerance of zero or below, and what `predict` refuses.
 */
export function toleranceReached({
  drift,
  applied,
  tolerance,
  from,
  coverage = 0.95,
}: {
  drift: Drift
  applied: number
  tolerance: number
  from: number
  coverage?: number
}): Outcome<ToleranceReached> {
  const problem = firstProblem({ applied, tolerance, from }, ['tolerance'])
  if (problem) return { ok: false, problem }
  const now = predict({ line: drift.line, x: from, coverage })
  if (!now.ok) return now
  const { line } = drift
  const away = Math.abs(now.value.y - applied)
  const place = (d: number): number => line.xMean + d
  const after = (candidates: readonly number[]): number | undefined => {
    const ahead = candidates.map(place).filter((x) => Number.isFinite(x) && x > from)
    return ahead.length > 0 ? ahead.reduce((a, b) => Math.min(a, b)) : undefined
  }
  const bounds = [applied + tolerance, applied - tolerance].map((bound) => bound - line.yMean)
  return ok({
    expected: away > tolerance ? from : after(bounds.map((bound) => bound / line.slope)),
    earliest:
      away + now.value.nextInterval > tolerance
        ? from
        : after(bounds.flatMap((bound) => bandCrossings(line, bound, now.value.k))),
  })
}

/** Distances d from the mean x at which the prediction band meets a bound: (slope·d − bound)² = k²s²(1 + 1/n + d²/Sxx). */
function bandCrossings({ slope, residualSd, n, xSpread }: Line, bound: number, k: number): number[] {
  // d in units of the spread of x, which keeps seconds and fractions in one range.
  const rise = slope * xSpread
  const width = k * residualSd
  const a = rise * rise - width * width
  const b = -rise * bound
  const c = bound * bound - width * width * (1 + 1 / n)
  if (a === 0 && b === 0) return []
  const discriminant = b * b - a * c
  if (discriminant < 0) return []
  const q = -(b + Math.sign(b || 1) * Math.sqrt(discriminant))
  // Where a is zero the first of the two is infinite, and no place.
  return (q === 0 ? [0] : [q / a, c / q]).map((d) => d * xSpread)
}
