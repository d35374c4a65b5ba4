// The feed over time: when it is to be checked again by how feeds wander and lots differ, and whether its history still is that of one and the same feed.
import { recorded } from '../../base/recorder.ts'
import { type Due, nextCheckDue } from '../../calc/due.ts'
import { judgeProcess, type Process } from '../../calc/process.ts'
import { addDays, daysBetween } from '../../model/dates.ts'
import { openingOf } from '../../model/events.ts'
import type { Setup } from '../../model/setup.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, feedOf, resultOf, runningWith } from './facts.ts'
import { verdictOf } from './verdict.ts'

export interface FeedDue {
  /** The day on which the next check is due, and by what: the shop's re-check time, or the risk that the feed has wandered off by then. */
  readonly date: string
  readonly by: 'recheck' | 'risk'
  /** The day by the risk alone; undefined where it stays below the shop's for two years. */
  readonly byRisk: string | undefined
}

/** When a feed that is proven or carried has to be checked again; undefined for one that is not: it is to be checked now. */
export const feedDueOf: (setup: Setup) => FeedDue | undefined = recorded('feed due', due)

function due(setup: Setup): FeedDue | undefined {
  const facts = feedOf(setup)
  const { word } = verdictOf(facts)
  if (word !== 'proven' && word !== 'carried') return undefined
  const newest = facts.counted.reduce((least, { age = 0 }) => Math.min(least, age), Number.POSITIVE_INFINITY)
  const recheck = addDays(setup.today, Math.floor(facts.recheckDays - newest))
  const found = dueByRisk(facts)
  const byRisk = found?.due === undefined ? undefined : addDays(setup.today, found.due)
  return byRisk !== undefined && byRisk < recheck
    ? { date: byRisk, by: 'risk', byRisk }
    : { date: recheck, by: 'recheck', byRisk }
}

/** By this profile's own checks and what is typical: no verdict of one profile rests on another's. */
function dueByRisk(facts: FeedFacts): Due | undefined {
  const { setup, counted, lot, tolerance, reckoning } = facts
  const set = runningWith(facts)
  const scatter = reckoning?.combined?.scatter.expected ?? 0
  const checks = counted.flatMap((evidence) => {
    const one = resultOf(facts, evidence)
    if (one?.now === undefined || !one.implied || one.suspect !== undefined) return []
    const lotOf = evidence.check.lot && String(evidence.check.lot.value)
    return [{ day: -(evidence.age ?? 0), value: one.now, u: Math.hypot(one.implied.u, scatter), lot: lotOf }]
  })
  if (checks.length === 0 || set === undefined) return undefined
  const found = nextCheckDue({ checks, today: 0, lot, set, tolerance, risk: setup.shop.tolerance.risk.value, scatter })
  return found.ok ? found.value : undefined
}

export interface FeedChange {
  readonly process: Process
  /** Days between which the feed changed. */
  readonly after: string
  readonly by: string
  readonly shift: number
  readonly U: number
  readonly n: number
  /** What happened then, as far as anybody wrote it down: "the lot changed from B-1 to B-2". */
  readonly meanwhile: readonly string[]
}

/** A change of the feed that its history shows; undefined where it shows none, or where fewer than eight checks can be compared. */
export const feedChangeOf: (setup: Setup) => FeedChange | undefined = recorded('feed change', change)

function change(setup: Setup): FeedChange | undefined {
  const facts = feedOf(setup)
  if (facts.expected) return undefined
  const points = facts.counted.flatMap((evidence) => {
    const one = resultOf(facts, evidence)
    if (one?.now === undefined || !one.implied || one.suspect !== undefined || evidence.check['same-print']?.value) return []
    return [{ evidence, day: -(evidence.age ?? 0), value: one.now, u: one.implied.uRandom }]
  })
  const judged = judgeProcess({ values: points })
  if (!judged.ok || judged.value.inControl || !judged.value.change) return undefined
  const { after, by, shift, U } = judged.value.change
  const [from, to] = [addDays(setup.today, after), addDays(setup.today, by)]
  const before = points.filter(({ day }) => day <= after).map(({ evidence }) => evidence)
  const since = points.filter(({ day }) => day > after).map(({ evidence }) => evidence)
  return {
    process: judged.value,
    after: from,
    by: to,
    shift,
    U,
    n: points.length,
    meanwhile: whatHappened(setup, from, to, before, since),
  }
}

/** What was written down of the time in which it changed: an event, another lot, another instrument, another season. */
function whatHappened(
  { printer }: Setup,
  from: string,
  to: string,
  before: readonly FeedEvidence[],
  since: readonly FeedEvidence[],
): readonly string[] {
  const events = (printer?.events?.items ?? []).flatMap((item) => {
    const one = openingOf(item)
    return one && one.date >= from && one.date <= to ? [`${one.what} on ${one.date}`] : []
  })
  return [
    ...events,
    ...changed('lot', before, since, ({ check }) => check.lot && String(check.lot.value)),
    ...changed('instrument', before, since, ({ check }) => check.with?.value),
    ...(daysBetween(from, to) > SEASON ? [`${daysBetween(from, to)} days without a check`] : []),
  ]
}

/** Days without a check after which weather and wear may have done anything. */
const SEASON = 90

function changed(
  what: string,
  before: readonly FeedEvidence[],
  since: readonly FeedEvidence[],
  of: (evidence: FeedEvidence) => string | undefined,
): readonly string[] {
  const [was, is] = [before, since].map((list) => new Set(list.flatMap((e) => of(e) ?? [])))
  const fresh = [...is!].filter((name) => !was!.has(name))
  return fresh.length > 0 && was!.size > 0 ? [`another ${what} since: ${fresh.join(', ')}`] : []
}
