// The feed as a picture: each check on its day with its interval, what brings it here or leaves it out, what is asked for and what is set, the shop's
// tolerance, lots and events, the drift, and the day of the next check.
import { daysBetween } from '../../model/dates.ts'
import { openingOf } from '../../model/events.ts'
import type { Setup } from '../../model/setup.ts'
import type { Band, Line, PictureRow, Point, Shape, Stretch, Upright } from '../../picture/picture.ts'
import { formatQuantity } from '../../quantities/format.ts'
import type { AreaPicture } from '../picture.ts'
import { carryText, eventText } from './doubt-words.ts'
import { feedDriftOf } from './drift.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, feedOf, resultOf, runningWith } from './facts.ts'
import { whyOut } from './reckoning-check.ts'
import { shortly } from './reckoning-text.ts'
import { feedChangeOf, feedDueOf } from './watch.ts'
import { correctionText, driftSentence, K95, perLength, plusMinus, plusMinusOfOne } from './words.ts'

/** The newest checks that are drawn and listed; older ones are counted. */
const MOST_SHOWN = 200

export const picture: AreaPicture = (setup) => {
  const facts = feedOf(setup)
  if (facts.evidence.length === 0 && !setup.own.feed) return undefined
  const shown = facts.evidence.slice(-MOST_SHOWN)
  const points = shown.flatMap((evidence) => pointOf(facts, evidence) ?? [])
  const hidden = facts.evidence.length - shown.length
  const events = eventsOf(setup, points)
  const due = feedDueOf(setup)
  const change = feedChangeOf(setup)
  const drift = feedDriftOf(setup)
  return {
    id: 'feed',
    title: 'Feed: what the checks ask for',
    said: [...shortly(facts).filter((line) => line !== undefined), ...(due ? [dueText(due.date, due.by)] : [])],
    chart:
      points.length === 0
        ? undefined
        : {
            x: { kind: 'days', today: setup.today, label: 'day of the check' },
            y: { label: 'correction, %', sign: true },
            bands: bandsOf(facts),
            lines: linesOf(facts, points, due && daysBetween(setup.today, due.date)),
            uprights: [
              ...events,
              { x: 0, look: 'today', mark: 'today', name: setup.today },
              ...(due
                ? [{ x: daysBetween(setup.today, due.date), look: 'limit' as const, mark: 'next check', name: due.date }]
                : []),
            ],
            spans: lotsOf(shown, points),
            points,
          },
    table: {
      header: ['check of', 'lot', 'measured', 'asks for', 'counts'],
      rows: shown.map((evidence) => rowOf(facts, evidence)),
    },
    notes: [
      ...(hidden > 0 ? [`${hidden} earlier check${hidden === 1 ? ' is' : 's are'} not shown.`] : []),
      ...events.map(({ mark, name }) => `${mark}: ${name}.`),
      ...(change
        ? [
            `Between ${change.after} and ${change.by} the feed changed by ${percent(change.shift)} ${plusMinus(change.U)}, by ${change.n} checks${change.meanwhile.length > 0 ? `. Then: ${change.meanwhile.join('; ')}` : ''}.`,
          ]
        : []),
      ...(drift?.drift.real ? [driftSentence(setup, drift)] : []),
    ],
    at: setup.own.feed?.$,
  }
}

const dueText = (date: string, by: 'recheck' | 'risk'): string =>
  `Check again by ${date}: ${by === 'risk' ? 'by then the risk that the feed has wandered off is too great' : 'by the shop’s re-check time'}.`

const percent = (fraction: number): string => `${fraction > 0 ? '+' : ''}${Number((fraction * 100).toPrecision(2))} %`

/** What is asked for with its interval, and the corrections under which prints keep the shop's tolerance with what is set. */
function bandsOf(facts: FeedFacts): readonly Band[] {
  const { reckoning, tolerance, setup } = facts
  const set = runningWith(facts)
  const wanted = reckoning?.wanted
  return [
    ...(set === undefined
      ? []
      : [
          {
            low: (set - tolerance) * 100,
            high: (set + tolerance) * 100,
            look: 'tolerance' as const,
            name: `set, within ${perLength(setup, tolerance)}`,
          },
        ]),
    ...(wanted
      ? [
          {
            low: (wanted.correction - wanted.U) * 100,
            high: (wanted.correction + wanted.U) * 100,
            look: 'asked' as const,
            name: `${plusMinus(wanted.U)} (95 %)`,
          },
        ]
      : []),
  ]
}

function linesOf(facts: FeedFacts, points: readonly Point[], due: number | undefined): readonly Line[] {
  const { reckoning, expected, setup } = facts
  const set = runningWith(facts)
  const wanted = reckoning?.wanted
  const first = points.reduce((least, { x }) => Math.min(least, x), 0)
  const last = Math.max(0, due ?? 0)
  const level = (value: number): Line['points'] => [
    [first, value * 100],
    [last, value * 100],
  ]
  const drift = feedDriftOf(setup)
  const slope = drift?.drift.real && drift.today ? { now: drift.today.correction, perDay: drift.perMonth / 30 } : undefined
  const at = (day: number): readonly [number, number] => [day, (slope!.now + slope!.perDay * day) * 100]
  return [
    ...(wanted
      ? [
          {
            points: level(wanted.correction),
            look: 'asked' as const,
            name: `${expected ? 'to expect' : 'asked for'} ${correctionText(facts, wanted.correction)}`,
          },
        ]
      : []),
    ...(set === undefined ? [] : [{ points: level(set), look: 'set' as const, name: `set ${correctionText(facts, set)}` }]),
    ...(slope
      ? [{ points: [at(-daysBetween(drift!.first, setup.today)), at(last)], look: 'drift' as const, name: 'drift' }]
      : []),
  ]
}

/** How a check stands: its shape, and what it is called in the key. */
function standingOf(
  facts: FeedFacts,
  evidence: FeedEvidence,
): { readonly shape: Shape; readonly kind: string; readonly counts: string } {
  const result = resultOf(facts, evidence)
  const out = whyOut(facts, evidence)
  if (out !== undefined)
    return evidence.doubt
      ? { shape: 'diamond', kind: 'proves nothing of today', counts: `not counted: ${out}` }
      : { shape: 'cross', kind: 'left out', counts: `left out: ${out}` }
  const share = `${Math.round((result?.weight ?? 0) * 100)} %`
  if (result?.suspect !== undefined)
    return { shape: 'square', kind: 'far from the others', counts: `${share}, far from what the others predict` }
  if (evidence.doubt) return { shape: 'ring', kind: 'to be expected', counts: `proves nothing of today: ${evidence.reason}` }
  const carried = evidence.carries.map((carry) => carryText(carry, facts.setup))
  return carried.length > 0
    ? { shape: 'triangle', kind: 'brought here', counts: `${share}, brought here by ${carried.join('; ')}` }
    : { shape: 'dot', kind: 'counts', counts: share }
}

const addressOf = ({ index }: FeedEvidence): string => String(index + 1)

/** Undefined for a check without a day, or that says nothing. */
function pointOf(facts: FeedFacts, evidence: FeedEvidence): Point | undefined {
  const result = resultOf(facts, evidence)
  const { age, check } = evidence
  if (!result?.implied || age === undefined) return undefined
  const { correction, u } = result.implied
  const now = result.now ?? correction
  const { shape, kind, counts } = standingOf(facts, evidence)
  const lot = check.lot ? `, lot ${check.lot.value}` : ''
  const rule = check.with ? `, ${check.with.value}` : ''
  return {
    row: addressOf(evidence),
    x: -age,
    y: now * 100,
    low: (now - K95 * u) * 100,
    high: (now + K95 * u) * 100,
    ...(now !== correction && { before: correction * 100 }),
    shape,
    kind,
    name: `${check.date!.value}: ${correctionText(facts, now)} ${plusMinusOfOne(u)}${lot}${rule}, ${shape === 'dot' || shape === 'triangle' || shape === 'square' ? 'counts for ' : ''}${counts}`,
    ...(result.use !== 'included' && { aside: true as const }),
  }
}

function rowOf(facts: FeedFacts, evidence: FeedEvidence): PictureRow {
  const { check } = evidence
  const result = resultOf(facts, evidence)
  const { measured, commanded, applied } = check
  const now = result?.now ?? result?.implied?.correction
  const read = measured && commanded ? `${formatQuantity(measured.value)} of ${formatQuantity(commanded.value)}` : '—'
  return {
    id: addressOf(evidence),
    cells: [
      check.date?.value ?? 'no day',
      check.lot ? String(check.lot.value) : '—',
      applied ? `${read}, with ${formatQuantity(applied.value)}` : read,
      now === undefined ? '—' : `${correctionText(facts, now)} ${plusMinusOfOne(result!.implied!.u)}`,
      standingOf(facts, evidence).counts,
    ],
    at: check.$,
  }
}

/** The lots in the order of their checks, each from its first to its last. */
function lotsOf(shown: readonly FeedEvidence[], points: readonly Point[]): readonly Stretch[] {
  const drawn = new Map(points.map(({ row, x }) => [row, x]))
  const found: { from: number; to: number; name: string }[] = []
  const dated = shown.flatMap((evidence) => {
    const x = drawn.get(addressOf(evidence))
    const lot = evidence.check.lot
    return x === undefined || !lot ? [] : [{ x, name: String(lot.value) }]
  })
  for (const { x, name } of dated.sort((a, b) => a.x - b.x)) {
    const last = found.at(-1)
    if (last?.name === name) last.to = x
    else found.push({ from: x, to: x, name })
  }
  return found.map((lot) => ({ ...lot, name: `lot ${lot.name}` }))
}

/** What was done to the machine since the first check that opens the feed, lettered by day. */
function eventsOf({ printer, today }: Setup, points: readonly Point[]): readonly Upright[] {
  const first = points.reduce((least, { x }) => Math.min(least, x), 0)
  return (printer?.events?.items ?? [])
    .flatMap((item) => {
      const one = openingOf(item)
      const x = one && daysBetween(today, one.date)
      return one?.opens.includes('feed') && x! >= first && x! <= 0 ? [{ x: x!, name: `${one.date}, ${eventText(one.what)}` }] : []
    })
    .sort((a, b) => a.x - b.x)
    .map(({ x, name }, i) => ({ x, look: 'event' as const, mark: letter(i), name }))
}

/** a, b, … z, then numbers. */
const letter = (index: number): string => (index < 26 ? String.fromCharCode(97 + index) : String(index + 1))
