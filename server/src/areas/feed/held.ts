// Which correction the machine holds now, by the newest thing that says so: a reading back, a check or a fine pattern printed with it.
// A machine that is told a measured length reckons from that correction, so a length to key in can rest on nothing else.
import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { signedPercent } from '../../calc/feed-key-in.ts'
import type { MediaDocument, ReadBack } from '../../model/generated/documents.ts'
import { readBacksOf } from '../../model/read-backs.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import type { FeedEvidence } from './evidence.ts'

export interface Held {
  readonly correction: number
  /** What says so, for a sentence: "the check of 2026-03-30". */
  readonly by: string
}

interface Claim extends Held {
  readonly date: string
}

export interface HeldInput {
  readonly own: MediaDocument
  /** The newest check that nobody skipped. */
  readonly newest: FeedEvidence | undefined
  /** The correction that the profile sets. */
  readonly applied: number | undefined
  readonly patternLength: number | undefined
  /** Corrections nearer than this are the same: half a step of the machine. */
  readonly half: number
  readonly today: string
}

const ASK = 'Read the correction back from the machine and write it down under keyed'

/** The correction in the machine. Refuses, with what is to be done, where nothing says which it is, or two things of one day say different ones. */
export function heldOf(input: HeldInput): Outcome<Held> {
  const { applied, half } = input
  const printed = printedWith(input)
  const read = readBack(input, printed)
  const dates = [...printed.map((c) => c.date), ...(read ? [read.date] : [])].toSorted()
  const date = dates.at(-1)
  if (date === undefined)
    return applied === undefined
      ? refuse('held', `it is not known which correction the machine holds now. ${ASK}`)
      : ok({ correction: applied, by: 'the profile' })
  const reading = read?.date === date ? read.held : undefined
  if (reading && !reading.ok) return reading
  const earlier = reading ? (read?.earlier ?? []) : []
  const latest: readonly Held[] = [...(reading ? [reading.value] : []), ...earlier, ...printed.filter((c) => c.date === date)]
  const first = latest[0]!
  const same = (correction: number): boolean => Math.abs(correction - first.correction) <= half
  if (latest.every((c) => same(c.correction))) return ok(first)
  // On a day of measuring one prints, keys in what the profile then says, and reads back: the reading is the last of the day.
  if (reading && applied !== undefined && same(applied)) return ok(first)
  const said = latest.map((c) => `${signedPercent(c.correction)} by ${c.by}`).join(', ')
  return refuse('held', `it is not known which correction the machine holds now: ${said}. ${ASK}`)
}

/** What the newest check and the fine pattern were printed with, as far as they are dated. */
function printedWith({ own, newest, today }: HeldInput): Claim[] {
  const claims: Claim[] = []
  const { fine } = own.feed ?? {}
  const add = (date: string | undefined, applied: Quantity | undefined, what: string): void => {
    if (date !== undefined && date <= today && applied && Math.abs(applied.si) < 0.5)
      claims.push({ date, correction: applied.si, by: `${what} of ${date}` })
  }
  add(newest?.check.date?.value, newest?.check.applied?.value, 'the check')
  add(fine?.date?.value, fine?.applied?.value, 'the fine pattern')
  return claims
}

/** What a read-back says, on its day. */
interface Reading {
  readonly date: string
  readonly held: Outcome<Held>
}

/** The newest read-back of the correction, and what those before it on the same day say. One without a date may be the newest. */
function readBack(input: HeldInput, printed: readonly Claim[]): (Reading & { readonly earlier: readonly Held[] }) | undefined {
  const { own, today } = input
  const before = [
    0,
    ...(own.feed?.checks?.items ?? []).flatMap((c) => c.applied?.value.si ?? []),
    ...printed.map((c) => c.correction),
  ]
  const readings: Reading[] = []
  for (const entry of readBacksOf(own.keyed, 'correction', today).toReversed()) {
    const held = heldBy(entry, input, printed, before)
    readings.push({ date: entry.date?.value ?? today, held })
    if (held.ok) before.push(held.value.correction)
  }
  const last = readings.at(-1)
  if (!last) return undefined
  const sameDay = readings.slice(0, -1).filter(({ date }) => date === last.date)
  const by = `what was read back earlier on ${last.date}`
  return { ...last, earlier: sameDay.flatMap(({ held }) => (held.ok ? [{ ...held.value, by }] : [])) }
}

/**
 * The correction that one read-back says. A length read back stands for what it made of the correction the machine had before, which nobody wrote
 * down: it is known only where it leads from nothing, or from what a print was made with or was read back before, to just one number that profile or
 * prints vouch for.
 */
function heldBy(
  { date, correction: read }: ReadBack,
  { applied, patternLength, half }: HeldInput,
  printed: readonly Claim[],
  before: readonly number[],
): Outcome<Held> {
  const unknown = (why: string, then: string): Outcome<Held> =>
    refuse('held', `it is not known which correction the machine holds now: ${why}. ${then}`)
  if (!date) return unknown('the correction was read back on a day that is not given', 'Write its date down under keyed')
  const value = read?.value
  const by = `what was read back on ${date.value}`
  if (!value || (value.dimension === 'relative' && Math.abs(value.si) >= 0.5)) return unknown(`${by} cannot be right`, ASK)
  if (value.dimension === 'relative') return ok({ correction: value.si, by })
  const vouched = [...(applied === undefined ? [] : [applied]), ...printed.map((c) => c.correction)]
  const made: number[] = []
  for (const correction of before.flatMap((b) => correctionOfLength(value, patternLength, b) ?? [])) {
    const isVouched = vouched.some((v) => Math.abs(v - correction) <= half * (1 + 1e-9))
    if (isVouched && !made.some((m) => Math.abs(m - correction) <= half)) made.push(correction)
  }
  const written = `${value.written} ${value.unit.id}`
  if (made.length === 1) return ok({ correction: made[0]!, by })
  const why =
    made.length === 0
      ? `${written} was read back on ${date.value}, and nothing says which correction that was keyed in upon`
      : `${written}, read back on ${date.value}, can stand for ${made.map(signedPercent).join(' or ')}`
  return unknown(why, 'Print one more check with it, or read back the correction itself')
}

/** The correction that a keyed-in measured length makes: (1 + before) · pattern / length − 1. */
export function correctionOfLength(length: Quantity, patternLength: number | undefined, before: number): number | undefined {
  if (length.dimension !== 'length' || patternLength === undefined || length.si <= 0) return undefined
  const made = ((1 + before) * patternLength) / length.si - 1
  return Math.abs(made) < 0.5 ? made : undefined
}
