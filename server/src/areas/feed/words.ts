// The feed correction in words and numbers as they are keyed in: one way of writing them for rules, hints, hovers and the command line.

import type { FeedReckoning } from '../../calc/feed.ts'
import type { Setup } from '../../model/setup.ts'
import { fromSi } from '../../quantities/convert.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import { formatSi, stepDecimals } from '../../quantities/format.ts'
import type { FeedDrift } from './drift.ts'
import type { FeedFacts } from './facts.ts'
import type { Held } from './held.ts'

/** A correction as written in a profile: with its sign, in percent, with the decimals of the printer's step. */
export function correctionText(facts: Pick<FeedFacts, 'entry' | 'step'>, correction: number): string {
  const decimals = facts.entry === 'percent' && facts.step !== undefined ? stepDecimals(facts.step * 100) : 3
  return formatSi(correction, 'relative', { unit: '%', decimals, sign: true })
}

/** ± in percent, two significant digits: always the half-width of a 95 % interval. */
export const plusMinus = (U: number): string => `±${formatSi(U, 'relative', { unit: '%', digits: 2 })}`

/** Standard uncertainties in the 95 % interval of a value that rests on limits and not on repeats: the normal distribution's. */
export const K95 = 1.959963984540054

/** ± of one check by itself. */
export const plusMinusOfOne = (u: number): string => plusMinus(K95 * u)

/** The length over which a length error is told, and the unit it is told in, by the shop's units. */
const OVER: Readonly<Record<UnitSystem, { readonly length: number; readonly name: string; readonly unit: string }>> = {
  metric: { length: 1, name: 'metre', unit: 'mm' },
  us: { length: 0.3048, name: 'foot', unit: 'in' },
}

/** A share of length as a shop measures it: "0.6 mm per metre", or "0.0072 in per foot". */
export function perLength({ shop }: Pick<Setup, 'shop'>, share: number): string {
  const { length, name, unit } = OVER[shop.units]
  return `${formatSi(Math.abs(share) * length, 'length', { unit, digits: 2 })} per ${name}`
}

/** What prints need: "0.6 mm per metre more". */
export const signedLength = (setup: Pick<Setup, 'shop'>, share: number): string =>
  `${perLength(setup, share)} ${share > 0 ? 'more' : 'less'}`

/** A length error: "0.6 mm per metre long". */
export const longOrShort = (setup: Pick<Setup, 'shop'>, error: number): string =>
  `${perLength(setup, error)} ${error > 0 ? 'long' : 'short'}`

/** What is typed at the machine; undefined where nothing may be keyed in. */
export function keyInText(facts: FeedFacts): string | undefined {
  const keyIn = facts.reckoning?.keyIn
  if (keyIn?.value === undefined) return undefined
  if (keyIn.entry === 'percent') return correctionText(facts, keyIn.value)
  return keyedLengthText(facts, keyIn.value)
}

/** A length in the unit of the panel, with the decimals of its step. */
export function keyedLengthText({ lengthUnit, step }: Pick<FeedFacts, 'lengthUnit' | 'step'>, metres: number): string {
  const decimals = step === undefined ? 2 : stepDecimals(fromSi(step, lengthUnit))
  return formatSi(metres, 'length', { unit: lengthUnit, decimals })
}

/** What the machine holds and who says so: "+0.10 % by the check of 2026-03-30". */
export const heldText = (facts: FeedFacts, { correction, by }: Held): string => `${correctionText(facts, correction)} by ${by}`

/** "4 checks", "1 check". */
export const checksText = (n: number): string => `${n} check${n === 1 ? '' : 's'}`

/** Who asks for the correction: "the fine picks", or "3 checks". */
export const askerText = ({ combined, fine }: FeedReckoning): string =>
  fine?.use === 'used' || !combined ? 'the fine picks' : checksText(combined.n)

/** Who asks for which correction: what picks ask for is never put into the mouth of the checks. */
export function askedText(facts: FeedFacts, wanted: NonNullable<FeedReckoning['wanted']>): string {
  const { combined, fine } = facts.reckoning!
  const asks = combined?.n === 1 && fine?.use !== 'used' ? 'asks' : 'ask'
  const asked = `${askerText(facts.reckoning!)} ${asks} for ${correctionText(facts, wanted.correction)} ${plusMinus(wanted.U)}`
  if (!combined || fine?.use !== 'used') return asked
  return `${asked}, and ${checksText(combined.n)} agree${combined.n === 1 ? 's' : ''} with them (${correctionText(facts, combined.correction)} ${plusMinus(combined.U)})`
}

/** Whose number the fix writes: "3 checks", or "the fine picks, with which 3 checks agree". */
export function sourceText(reckoning: FeedReckoning): string {
  const { combined, fine } = reckoning
  const agrees = combined && `, with which ${checksText(combined.n)} agree${combined.n === 1 ? 's' : ''}`
  return `${askerText(reckoning)}${fine?.use === 'used' ? (agrees ?? '') : ''}`
}

/** That ruler and picks disagree, what each asks for, and where to look. */
export function disagreementText(facts: FeedFacts): string {
  const { combined, fine } = facts.reckoning!
  const { n, correction, U } = combined!
  const [ruler, picks] = [correctionText(facts, correction), correctionText(facts, fine!.correction)]
  return `The ruler and the fine picks disagree: ${checksText(n)} ask${n === 1 ? 's' : ''} for ${ruler} ${plusMinus(U)}, the picks for ${picks} ${plusMinus(fine!.U)}. The cause is not the feed, so no number is offered: look at suction, tension, heat and the rollers, then print both patterns again.`
}

/** What the drift of a feed correction is, and when it matters. */
export function driftSentence(setup: Pick<Setup, 'shop'>, drift: FeedDrift): string {
  const { perMonth, perMonthU, n, lots, first, reached } = drift
  const moves = `By ${n} checks ${lots > 1 ? `on ${lots} lots ` : ''}since ${first} prints need ${signedLength(setup, perMonth)} every thirty days (${plusMinus(perMonthU)})`
  if (reached?.already) return `${moves}. By that line, prints with the correction set have left the tolerance.`
  if (reached?.expected === undefined) return `${moves}.`
  const earliest =
    reached.earliest !== undefined && reached.earliest !== reached.expected ? `, at the earliest ${reached.earliest}` : ''
  return `${moves}. Prints with the correction set leave the tolerance about ${reached.expected}${earliest}.`
}
