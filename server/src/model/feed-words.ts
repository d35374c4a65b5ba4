// The feed correction in words and numbers as they are keyed in: one way of writing them for rules, hints, hovers and the command line.
import { formatSi, stepDecimals } from '../quantities/format.ts'
import type { FeedDrift } from './drift.ts'
import type { FeedFacts } from './feed.ts'

/** A correction as written in a profile: with its sign, in percent, with the decimals of the printer's step. */
export function correctionText(facts: Pick<FeedFacts, 'entry' | 'step'>, correction: number): string {
  const decimals = facts.entry === 'percent' && facts.step !== undefined ? stepDecimals(facts.step * 100) : 3
  return formatSi(correction, 'relative', { unit: '%', decimals, sign: true })
}

/** ± uncertainty in percent, two significant digits. */
export const plusMinus = (u: number): string => `±${formatSi(u, 'relative', { unit: '%', digits: 2 })}`

/** A length error per metre: "0.6 mm per metre long". */
export function perMetre(error: number): string {
  const text = formatSi(Math.abs(error), 'length', { unit: 'mm', digits: 2 })
  return `${text} per metre ${error > 0 ? 'long' : 'short'}`
}

/** What is typed at the machine; undefined where nothing may be keyed in. */
export function keyInText(facts: FeedFacts): string | undefined {
  const keyIn = facts.reckoning?.keyIn
  if (keyIn?.value === undefined) return undefined
  if (keyIn.entry === 'percent') return correctionText(facts, keyIn.value)
  const decimals = facts.step === undefined ? 2 : stepDecimals(facts.step * 1000)
  return formatSi(keyIn.value, 'length', { unit: 'mm', decimals })
}

/** "4 checks", "1 check". */
export const checksText = (n: number): string => `${n} check${n === 1 ? '' : 's'}`

/** What the drift of a feed correction is, and when it matters. */
export function driftSentence(drift: FeedDrift): string {
  const { perMonth, perMonthU, n, lots, first, reached } = drift
  const slope = formatSi(Math.abs(perMonth), 'relative', { unit: '%', digits: 2 })
  const moves = `By ${n} checks ${lots > 1 ? `on ${lots} lots ` : ''}since ${first} the correction ${perMonth > 0 ? 'rises' : 'falls'} by ${slope} ${plusMinus(perMonthU)} in thirty days`
  if (reached?.already) return `${moves}. By that line, prints with the correction set have left the tolerance.`
  if (reached?.expected === undefined) return `${moves}.`
  const earliest =
    reached.earliest !== undefined && reached.earliest !== reached.expected ? `, at the earliest ${reached.earliest}` : ''
  return `${moves}. Prints with the correction set leave the tolerance about ${reached.expected}${earliest}.`
}
