// A profile's history by its stands in git, oldest first, and by the evidence that stands in it now.

import { addDays, daysBetween } from '../../../model/dates.ts'
import { settingMeaning } from '../../../model/setting-meaning.ts'
import type { Setup } from '../../../model/setup.ts'
import { settingWords } from '../../../model/state-words.ts'
import { STATE_SETTINGS } from '../../../model/states.ts'
import { heatEvidence } from '../../heat/evidence.ts'
import { heatOf } from '../../heat/facts.ts'
import { alignmentEvidence } from '../../landing/evidence.ts'
import { feedOf, impliedOf } from '../facts.ts'
import { heldThen } from '../held-then.ts'
import { verdictOf } from '../verdict.ts'
import { K95 } from '../words.ts'
import { marksOf } from './marks.ts'
import type { HistoryAlignment, HistoryCheck, HistoryMark, HistoryMoment, HistoryReading, ProfileHistory } from './result.ts'

/** A profile as a commit left it, until the next one. */
export interface StandThen {
  readonly day: string
  readonly commit: string
  readonly subject: string
  /** As on a day; undefined where nothing could be read. */
  readonly on: (day: string) => Setup | undefined
}

/** Stands the oldest first; `now` is the profile as it stands today. Never throws. */
export function historyOf(stands: readonly StandThen[], now: Setup): ProfileHistory {
  // Of the commits of one day the last counts: nobody prints between them.
  const days = stands.filter(({ day }, i) => stands[i + 1]?.day !== day)
  const moments = days.flatMap((stand, i) => momentsOf(stand, days[i + 1]?.day, now.today))
  const checks = checksOf(now)
  const readings = readingsOf(now)
  const alignments = alignmentsOf(days)
  const marks = [...settingMarks(days), ...marksOf(now)].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
  const all = [...moments, ...checks, ...readings, ...alignments].map(({ date }) => date).sort()
  return {
    profile: now.own.profile?.value ?? '',
    from: all[0] ?? now.today,
    to: now.today,
    tolerance: now.shop.tolerance.length.value,
    moments,
    checks,
    readings,
    alignments,
    marks,
  }
}

/** As the commit left it, and from the first day on which the days alone have brought another word of the feed. */
function momentsOf(stand: StandThen, next: string | undefined, today: string): readonly HistoryMoment[] {
  const end = next === undefined ? today : addDays(next, -1)
  const first = momentOn(stand, stand.day, 'commit')
  if (!first || end <= stand.day) return first ? [first] : []
  const last = momentOn(stand, end, 'days')
  if (!last || last.feed === first.feed) return [first]
  let [same, other] = [0, daysBetween(stand.day, end)]
  while (other - same > 1) {
    const middle = Math.floor((same + other) / 2)
    if (momentOn(stand, addDays(stand.day, middle), 'days')?.feed === first.feed) same = middle
    else other = middle
  }
  return [first, momentOn(stand, addDays(stand.day, other), 'days')!]
}

function momentOn({ on, commit, subject }: StandThen, date: string, by: HistoryMoment['by']): HistoryMoment | undefined {
  const setup = on(date)
  if (!setup) return undefined
  const facts = feedOf(setup)
  const held = heldThen(facts)
  const { wanted } = facts.reckoning ?? {}
  return {
    date,
    by,
    commit,
    subject,
    set: facts.applied?.value.si ?? null,
    held: held?.correction ?? null,
    heldBy: held?.by ?? null,
    wanted: wanted?.correction ?? null,
    wantedU: wanted?.U ?? null,
    feed: verdictOf(facts).word,
    chance: facts.expected ? null : (held?.chance?.print ?? null),
    alignment: alignmentEvidence(setup).word,
    heat: Object.fromEntries(heatOf(setup).zones.map((zone) => [zone.zone, heatEvidence(setup, zone).word])),
  }
}

function checksOf(setup: Setup): readonly HistoryCheck[] {
  const facts = feedOf(setup)
  return facts.evidence
    .flatMap((evidence): readonly HistoryCheck[] => {
      const { check, leftOut, reason } = evidence
      if (!check.date || leftOut === 'future') return []
      const implied = impliedOf(facts, evidence)
      return [
        {
          date: check.date.value,
          asks: implied?.ok ? implied.value.correction : null,
          asksU: implied?.ok ? K95 * implied.value.u : null,
          applied: check.applied?.value.si ?? null,
          lot: check.lot ? String(check.lot.value) : null,
          instrument: check.with?.value ?? null,
          under: check.under?.value ?? null,
          leftOut: leftOut === undefined ? null : (reason ?? leftOut),
        },
      ]
    })
    .sort(byDate)
}

const byDate = (a: { readonly date: string }, b: { readonly date: string }): number =>
  a.date < b.date ? -1 : a.date > b.date ? 1 : 0

const readingsOf = ({ own, today }: Setup): readonly HistoryReading[] =>
  (own.heat?.readings?.items ?? [])
    .flatMap(({ date, zone, set, web }) =>
      date && zone && date.value <= today
        ? [{ date: date.value, zone: zone.value, set: set?.value.si ?? null, web: web?.value.si ?? null }]
        : [],
    )
    .sort(byDate)

/** One stands in the file at a time, and the next is written over it: each as it first stood. */
function alignmentsOf(stands: readonly StandThen[]): readonly HistoryAlignment[] {
  const out: HistoryAlignment[] = []
  for (const { day, commit, on } of stands) {
    const alignment = on(day)?.own.alignment
    if (!alignment?.date) continue
    const picks = Object.fromEntries(
      (['one-way', 'two-way'] as const).map((way) => [
        way,
        Object.fromEntries([...(alignment[way]?.entries ?? [])].map(([channel, pick]) => [channel, pick.value])),
      ]),
    )
    const last = out.at(-1)
    if (last?.date === alignment.date.value && JSON.stringify(last.picks) === JSON.stringify(picks)) continue
    out.push({ date: alignment.date.value, commit, picks })
  }
  return out
}

/** Settings that evidence rests on, and the correction, where a commit changed what they mean. */
function settingMarks(stands: readonly StandThen[]): readonly HistoryMark[] {
  const keys = ['feed.correction', ...STATE_SETTINGS.map(({ key }) => key)]
  const values = stands.map(({ day, on }) => {
    const setup = on(day)
    return setup && new Map(keys.map((key) => [key, settingMeaning(setup, key)]))
  })
  return stands.flatMap(({ day }, i): readonly HistoryMark[] => {
    const [before, after] = [values[i - 1], values[i]]
    if (!before || !after) return []
    return keys.flatMap((key): readonly HistoryMark[] => {
      const [then, now] = [before.get(key), after.get(key)]
      if (then?.meaning === now?.meaning) return []
      const text = (one: typeof then): string =>
        one ? `${one.text}${one.real && key !== 'mode' ? ` (${one.real})` : ''}` : 'nothing'
      return [{ date: day, kind: 'setting', text: `${settingWords(key)}: ${text(then)}, then ${text(now)}` }]
    })
  })
}
