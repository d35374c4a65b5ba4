// The shop's instruments against each other and against time: which is the best at hand for a length, how a doubt is told, and whom it reaches.

import { shortened } from '../../base/shortened.ts'
import { lastPart } from '../../base/uri.ts'
import { measuredLength } from '../../calc/measurement.ts'
import type { Instrument } from '../../model/generated/documents.ts'
import { type Doubt, isWithin, suspectOn, type Time, tooShort, UNDATED } from '../../model/instrument-history.ts'
import type { Measured, MeasuredCheck } from '../../model/measured.ts'
import type { Setup } from '../../model/setup.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Related } from '../../rules/rule.ts'
import { listed } from '../../rules/support/words.ts'
import { ruleFacts } from '../feed/facts.ts'

/** An instrument of the shop, and the standard uncertainty (m) with which it reads a length. */
interface Usable {
  readonly name: string
  readonly u: number
}

/**
 * The instruments of the shop that can read a length (m) today, the surest first: none that is in doubt, due for calibration or too short, and a
 * sensor, which is built into one machine, or a rule of unknown length only where this profile was measured so before.
 */
export function usableInstruments(setup: Setup, length: number): readonly Usable[] {
  const { shop, today, own } = setup
  const checks = own.feed?.checks?.items ?? []
  const used = (name: string): boolean =>
    checks.some((check) => check.with?.value === name && (check.commanded?.value.si ?? 0) >= length)
  const usable: Usable[] = []
  for (const [name, instrument] of shop.instruments) {
    if (!readsLengths(instrument) || suspectOn(instrument, today) || (instrument.due && instrument.due.value <= today)) continue
    const known = instrument.kind?.value !== 'sensor' && instrument.length !== undefined
    if (known ? tooShort(instrument, length) : !used(name)) continue
    const measurement = { measured: length, ...ruleFacts(instrument) }
    const read = measuredLength({ measurement, referenceTemperature: shop.referenceTemperature.value })
    if (read.ok) usable.push({ name, u: read.value.u })
  }
  return usable.sort((a, b) => a.u - b.u)
}

/** The instrument of the shop that reads a length (m) with the least uncertainty today; undefined where there is none. */
export const bestInstrument = (setup: Setup, length: number): string | undefined => usableInstruments(setup, length)[0]?.name

/** Whether an instrument measures a length, with a division of length. */
export const readsLengths = ({ kind, division }: Instrument): boolean =>
  division?.value.dimension === 'length' && ['rule', 'tape', 'sensor'].includes(kind?.value ?? '')

/** "dropped, since 2026-11-02" or "dropped, 2026-11-02 to 2026-11-10". */
export function doubtText({ why, from, to }: Doubt): string {
  const since = from === UNDATED ? 'a day that is not written down' : from
  const time = to === undefined ? `since ${since}` : to === from ? from : `${since} to ${to}`
  return `${shortened(why, 60)}, ${time}`
}

/** A profile with the checks that an instrument made of it in some time. */
export interface MadeThen extends Measured {
  readonly then: readonly MeasuredCheck[]
}

/** The profiles of a shop of which an instrument made checks in some time; none while they are not read. */
export const madeThen = (shelf: Shelf, instrument: string, time: Time): readonly MadeThen[] =>
  (shelf.measured() ?? []).flatMap((profile) => {
    const then = profile.checks.filter((check) => check.instrument === instrument && isWithin(check.date, time))
    return then.length > 0 ? [{ ...profile, then }] : []
  })

/** So many profiles are named and shown: of a rule that the whole shop uses nobody reads two hundred names. */
const NAMED = 4

export function namesOf(profiles: readonly Measured[]): string {
  const names = profiles.slice(0, NAMED).map(({ file, profile }) => profile ?? lastPart(file))
  const more = profiles.length - names.length
  return listed(more > 0 ? [...names, `${more} more`] : names)
}

/** The newest of these checks in each of the profiles that are named. */
export const placesOf = (profiles: readonly MadeThen[], message: string): readonly Related[] =>
  profiles.slice(0, NAMED).map(({ file, then }) => {
    const { start, end } = then.reduce((last, check) => (check.date >= last.date ? check : last))
    return { file, span: { start, end }, message }
  })
