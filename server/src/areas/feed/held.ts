// Which correction the machine holds now, by the newest thing that says so: a reading back, a check or a fine pattern printed with it.
// A machine that is told a measured length reckons from that correction, so a length to key in can rest on nothing else.
import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { signedPercent } from '../../calc/feed-key-in.ts'
import type { MediaDocument } from '../../model/generated/documents.ts'
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
  const latest: readonly Held[] = [...(reading ? [reading.value] : []), ...printed.filter((c) => c.date === date)]
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

/**
 * The correction that was read back. A length read back stands for what it made of the correction the machine had before, which nobody wrote
 * down: it is known only where it leads from nothing, or from what a print was made with, to just one number that profile or prints vouch for.
 */
function readBack(
  { own, applied, patternLength, half, today }: HeldInput,
  printed: readonly Claim[],
): { readonly date: string; readonly held: Outcome<Held> } | undefined {
  const date = own.keyed?.date?.value
  const value = own.keyed?.correction?.value
  if (date === undefined || date > today || !value) return undefined
  const by = `what was read back on ${date}`
  if (value.dimension === 'relative')
    return Math.abs(value.si) < 0.5 ? { date, held: ok({ correction: value.si, by }) } : undefined
  const before = [
    0,
    ...(own.feed?.checks?.items ?? []).flatMap((c) => c.applied?.value.si ?? []),
    ...printed.map((c) => c.correction),
  ]
  const vouched = [...(applied === undefined ? [] : [applied]), ...printed.map((c) => c.correction)]
  const made: number[] = []
  for (const correction of before.flatMap((b) => correctionOfLength(value, patternLength, b) ?? [])) {
    const isVouched = vouched.some((v) => Math.abs(v - correction) <= half * (1 + 1e-9))
    if (isVouched && !made.some((m) => Math.abs(m - correction) <= half)) made.push(correction)
  }
  const written = `${value.written} ${value.unit.id}`
  if (made.length === 1) return { date, held: ok({ correction: made[0]!, by }) }
  const why =
    made.length === 0
      ? `${written} was read back on ${date}, and nothing says which correction that was keyed in upon`
      : `${written}, read back on ${date}, can stand for ${made.map(signedPercent).join(' or ')}`
  const problem = `it is not known which correction the machine holds now: ${why}. Print one more check with it, or read back the correction itself`
  return { date, held: refuse('held', problem) }
}

/** The correction that a keyed-in measured length makes: (1 + before) · pattern / length − 1. */
export function correctionOfLength(length: Quantity, patternLength: number | undefined, before: number): number | undefined {
  if (length.dimension !== 'length' || patternLength === undefined || length.si <= 0) return undefined
  const made = ((1 + before) * patternLength) / length.si - 1
  return Math.abs(made) < 0.5 ? made : undefined
}
