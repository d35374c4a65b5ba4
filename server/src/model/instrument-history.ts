// What is known of an instrument on a day: the error it was found to have, and whether it was in doubt then. Nothing is deleted to make a number right;
// what was measured in such a time is brought right, or counts for nothing.
import type { F, Place } from './field.ts'
import type { ErrorOfAnInstrument, Instrument, TimeInDoubt } from './generated/documents.ts'

/** What an instrument shows too much (plus) or too little (minus) on a day. */
export interface InstrumentError {
  /** A share of the length read, or one amount at any length. */
  readonly kind: 'share' | 'amount'
  /** Shown minus true: a fraction for a share, metres for an amount. */
  readonly error: number
  /** Half the interval that holds it with 95 %, in the same unit; undefined where it is not stated. */
  readonly uncertainty: number | undefined
  /** The error as it is written. */
  readonly field: F<unknown>
}

/** A time in which an instrument is not to be trusted. */
export interface Doubt {
  readonly why: string
  /** YYYY-MM-DD; `UNDATED` where nobody wrote down the first day. */
  readonly from: string
  /** The last day of it; undefined where it goes on. */
  readonly to: string | undefined
  readonly place: Place
}

/** Before all days: of what has no first day nobody knows which readings are right. */
export const UNDATED = ''

/** From one day to another, both counted; without a last day it goes on. */
export interface Time {
  readonly from: string
  readonly to: string | undefined
}

/** The error that holds on a day; undefined where none is known, or where several that differ are written down for it (then it is in doubt: `suspectOn`). */
export function errorOn(instrument: Instrument | undefined, date: string): InstrumentError | undefined {
  const there = errorsOn(instrument, date)
  return disagreeing(there) ? undefined : there[0]?.error
}

/** Why an instrument is in doubt on a day: it was written down, or one of its errors cannot be told, or they contradict each other. Undefined where it is trusted. */
export function suspectOn(instrument: Instrument | undefined, date: string): Doubt | undefined {
  for (const time of instrument?.suspect?.items ?? []) {
    const doubt = doubtOf(time)
    if (isWithin(date, doubt)) return doubt
  }
  for (const entry of instrument?.errors?.items ?? []) {
    if (entry.from && entry.error) continue
    const time = timeOf(entry) ?? { from: UNDATED, to: entry.to?.value }
    const lacks = entry.from ? 'how large it is' : 'its first day'
    if (isWithin(date, time)) return { why: `an error is written down without ${lacks}`, ...time, place: entry.$ }
  }
  const two = disagreeing(errorsOn(instrument, date))
  const time = two && overlap(...two)
  return time && { why: 'two errors are written down for that time', ...time, place: two[1].error.field.place }
}

/**
 * Whether a length is beyond what the instrument measures in one go; false where its length is not known. A rule goes by its nominal length, and a
 * print that came out a little longer than that is still read at its end: a hundredth more is let pass (common practice).
 */
export function tooShort(instrument: Instrument | undefined, length: number): boolean {
  const longest = instrument?.length?.value.si
  return longest !== undefined && length > longest * (1 + PAST_THE_END)
}

const PAST_THE_END = 0.01

/** The time an entry speaks of; of one that ends before it begins, all days between the two. Undefined without a first day. */
export function timeOf({ from, to }: Pick<TimeInDoubt | ErrorOfAnInstrument, 'from' | 'to'>): Time | undefined {
  if (!from) return undefined
  return to && to.value < from.value ? { from: to.value, to: from.value } : { from: from.value, to: to?.value }
}

export const isWithin = (date: string, { from, to }: Time): boolean => date >= from && (to === undefined || date <= to)

/** The days that both hold; undefined where there is none. */
export function overlap(a: Time, b: Time): Time | undefined {
  const from = [a.from, b.from].sort()[1]!
  const [to] = [a.to, b.to].flatMap((day) => day ?? []).sort()
  return to === undefined || from <= to ? { from, to } : undefined
}

/** What a time in doubt says. Without a first day it holds for all before the last. */
export function doubtOf(entry: TimeInDoubt): Doubt {
  const time = timeOf(entry) ?? { from: UNDATED, to: entry.to?.value }
  return { why: entry.why?.value ?? 'in doubt', ...time, place: (entry.why ?? entry.from)?.place ?? entry.$ }
}

interface TimedError extends Time {
  readonly error: InstrumentError
}

/** The first two that do not say the same. */
function disagreeing(errors: readonly TimedError[]): readonly [TimedError, TimedError] | undefined {
  const [first] = errors
  const other = errors.find(({ error }) => !sameError(error, first!.error))
  return first && other && [first, other]
}

/** Whether two errors are one and the same, and with the same uncertainty. */
const sameError = (a: InstrumentError, b: InstrumentError): boolean =>
  a.kind === b.kind && a.error === b.error && a.uncertainty === b.uncertainty

function errorsOn(instrument: Instrument | undefined, date: string): readonly TimedError[] {
  return (instrument?.errors?.items ?? []).flatMap((entry) => {
    const time = timeOf(entry)
    const { error } = entry
    if (!time || !error || !isWithin(date, time)) return []
    const { dimension, si, uncertainty } = error.value
    return [
      { ...time, error: { kind: dimension === 'relative' ? 'share' : 'amount', error: si, uncertainty, field: error } as const },
    ]
  })
}
