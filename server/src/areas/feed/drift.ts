// How the feed correction of a setup has moved over its whole history of checks, and when it will have left the shop's tolerance.
import { recorded } from '../../base/recorder.ts'
import { type Drift, type DriftPoint, driftOf, predictDrift, toleranceReached } from '../../calc/drift.ts'
import { addDays, DAY } from '../../model/dates.ts'
import type { Setup } from '../../model/setup.ts'
import { feedOf, impliedOf } from './facts.ts'

export interface FeedDrift {
  readonly drift: Drift
  /** How many checks it rests on, and of how many lots: each lot has a level of its own. */
  readonly n: number
  readonly lots: number
  /** Change of the correction in thirty days, and its half-width at 95 %. */
  readonly perMonth: number
  readonly perMonthU: number
  /** First and last date of the checks. */
  readonly first: string
  readonly last: string
  /** What the line says for today, with the half-width of the interval for one more check. */
  readonly today: { readonly correction: number; readonly interval: number } | undefined
  /** Dates at which prints with today's correction leave the tolerance: by the line itself, and at the earliest within its interval. */
  readonly reached:
    | { readonly already: boolean; readonly expected: string | undefined; readonly earliest: string | undefined }
    | undefined
}

/** Fewer checks, or a shorter time within the lots, say nothing about drift. */
const LEAST_CHECKS = 5
const LEAST_DAYS = 21
/** Dates further ahead than this rest on nothing. */
const FURTHEST_DAYS = 730

/** The drift over all checks that nobody left out, of whatever age, within each lot; undefined where there are too few. */
export const feedDriftOf: (setup: Setup) => FeedDrift | undefined = recorded('feed drift', reckon)

/** The corrections of all checks that nobody left out, by when they were made: seconds from today. */
export function driftPoints(setup: Setup): readonly DriftPoint[] {
  const facts = feedOf(setup)
  const suspects = new Set(facts.reckoning?.suspects)
  const points: DriftPoint[] = []
  for (const evidence of facts.evidence) {
    const { leftOut, age } = evidence
    if (leftOut === 'skipped' || leftOut === 'future' || leftOut === 'instrument' || age === undefined) continue
    // Where the machine was worked on, a line through before and after says nothing.
    if (evidence.doubt?.why === 'event') continue
    if (suspects.size > 0 && suspects.has(evidence.id)) continue
    const implied = impliedOf(facts, evidence)
    if (implied?.ok) points.push({ at: -age * DAY, value: implied.value.correction, group: evidence.check.lot?.value })
  }
  return points
}

function reckon(setup: Setup): FeedDrift | undefined {
  const { applied: set, tolerance } = feedOf(setup)
  const points = driftPoints(setup)
  const lots = new Map<string | undefined, { first: number; last: number }>()
  for (const { group, at } of points) {
    const lot = lots.get(group)
    if (!lot) lots.set(group, { first: at, last: at })
    else if (at < lot.first) lot.first = at
    else if (at > lot.last) lot.last = at
  }
  // Each further lot costs a check, for its level.
  if (points.length - (lots.size - 1) < LEAST_CHECKS) return undefined
  const watched = [...lots.values()].reduce((sum, { first, last }) => sum + last - first, 0)
  if (watched < LEAST_DAYS * DAY) return undefined
  const outcome = driftOf({ points })
  if (!outcome.ok) return undefined
  const drift = outcome.value
  const date = (at: number): string => addDays(setup.today, Math.round(at / DAY))
  const ahead = (at: number | undefined): string | undefined =>
    at === undefined || at > FURTHEST_DAYS * DAY ? undefined : date(at)
  const applied = set?.value.si
  const reached = drift.real && applied !== undefined ? toleranceReached({ drift, applied, tolerance, from: 0 }) : undefined
  const today = predictDrift({ drift, at: 0 })
  return {
    drift,
    n: points.length,
    lots: lots.size,
    perMonth: drift.slope * 30 * DAY,
    perMonthU: drift.uSlope * drift.tCritical * 30 * DAY,
    first: date(drift.first),
    last: date(drift.last),
    today: today.ok ? { correction: today.value.y, interval: today.value.nextInterval } : undefined,
    reached: reached?.ok
      ? {
          already: reached.value.expected === 0,
          expected: ahead(reached.value.expected),
          earliest: ahead(reached.value.earliest),
        }
      : undefined,
  }
}
