// Whether ink is dry to the touch by the time the web is wound up: the time there is, the time it takes, and the pause that would
// close the gap. Times in s, lengths in m, temperatures in degC.
import type { Outcome } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, mapRange, type Range, subtractRanges } from './range.ts'

/**
 * K of warming that halve the drying time: about 10 (common practice). Water's own vapour pressure doubles in about 11 K at 20 °C
 * and 14 K at 50 °C; solvents and resins differ, hence the range.
 */
export const HALVING_STEP: Range = { low: 8, typical: 10, high: 15 }

/** K from the stated temperature beyond which the rule is an extrapolation. */
const TRUSTED_SPAN = 20

interface DryingPath {
  /** m from the print to the wound roll. */
  readonly pathToWinding: number
  /** m per pass. */
  readonly advance: number
  /** s from pass to pass, the pause not included. */
  readonly passTime: number
  /** s of drying pause after each pass. */
  readonly pause?: number
  /** s the machine holds or feeds the last of the print after it is done. */
  readonly runOut?: number
}

export interface TimeToWinding {
  /** Passes made while a line travels to the roll: path / advance. Each brings one pause. */
  readonly passes: number
  /** s of travel between the pauses: path / web speed. */
  readonly travel: number
  /** s of pauses on the way. */
  readonly pauses: number
  /** s */
  readonly runOut: number
  /** s from print to winding while printing goes on: travel + pauses. The run-out helps only what was printed last. */
  readonly running: number
  /** s for what was printed last: running + run-out. */
  readonly total: number
}

/**
 * Time from printing to winding. The number of pauses is that of the passes made on the way, not the passes of the mode. Valid for an equal
 * advance and pause after every pass. Source: arithmetic of path over advance. Errors: missing, not finite; path, advance or pass time of
 * zero or below; a negative pause or run-out.
 */
export function timeToWinding(input: DryingPath): Outcome<TimeToWinding> {
  const { pathToWinding, advance, passTime, pause = 0, runOut = 0 } = input
  const refusal = refusalOf(
    { pathToWinding, advance, passTime, pause, runOut },
    { positive: ['pathToWinding', 'advance', 'passTime'], notNegative: ['pause', 'runOut'] },
  )
  if (refusal) return refusal
  const passes = pathToWinding / advance
  const [travel, pauses] = [passes * passTime, passes * pause]
  const running = travel + pauses
  return finished('pathToWinding', { passes, travel, pauses, runOut, running, total: running + runOut })
}

interface TouchDry {
  /** s */
  readonly time: Range
  /** Whether the temperature is more than 20 K from the one the stock's time was stated at, so that the rule is stretched. */
  readonly stretched: boolean
}

/**
 * s to touch-dry at `temperature` degC for a stock stated to need `time` s at `at` degC: halved for each `halving` K of warming
 * (common practice). Exact at the stated temperature, wider away from it. Air over the web, ink load and humidity are taken as
 * those of the statement. Source: common practice ({@link HALVING_STEP}). Errors: missing, not finite, out of order; a time or step of
 * zero or below; a temperature at absolute zero or above 1000 °C.
 */
export function timeToTouchDry(input: {
  time: number | Range
  at: number
  temperature: number | Range
  halving?: number | Range
}): Outcome<TouchDry> {
  const { time, at, temperature, halving = HALVING_STEP } = input
  const refusal = refusalOf(
    { time, at, temperature, halving },
    { positive: ['time', 'halving'], temperature: ['at', 'temperature'] },
  )
  if (refusal) return refusal
  const inputs = { time: asRange(time), temperature: asRange(temperature), halving: asRange(halving) }
  const needed = combineRanges(inputs, (v) => v.time * 2 ** ((at - v.temperature) / v.halving))
  const furthest = Math.max(Math.abs(inputs.temperature.low - at), Math.abs(inputs.temperature.high - at))
  return finished('temperature', { time: needed, stretched: furthest > TRUSTED_SPAN })
}

export interface DryingMargin {
  /** s left over; below zero when the web is wound wet. */
  readonly margin: Range
  /** Time there is over time it takes. */
  readonly ratio: Range
  readonly verdict: 'dry' | 'uncertain' | 'wet'
}

/**
 * Compares the time there is (s) with the time to touch-dry (s). `uncertain` when the ranges overlap: only a touch (gloved, off
 * the machine) tells. Valid as the two times are; touch-dry is not dry through. Source: arithmetic of ranges. Errors: missing, not
 * finite, out of order; a time there is below zero; a time to dry of zero or below.
 */
export function dryingMargin(input: { available: number | Range; needed: number | Range }): Outcome<DryingMargin> {
  const refusal = refusalOf(input, { notNegative: ['available'], positive: ['needed'] })
  if (refusal) return refusal
  const [available, needed] = [asRange(input.available), asRange(input.needed)]
  const margin = subtractRanges(available, needed)
  const verdict = margin.low >= 0 ? 'dry' : margin.high < 0 ? 'wet' : 'uncertain'
  return finished('needed', { margin, ratio: combineRanges({ available, needed }, (v) => v.available / v.needed), verdict })
}

/**
 * s of pause per pass with which a web is just touch-dry at winding while printing goes on; zero where it is so without. `needed`
 * in s. Validity and source as {@link timeToWinding}. Errors: as there; a negative time to dry.
 */
export function pauseToDry(
  input: Pick<DryingPath, 'pathToWinding' | 'advance' | 'passTime'> & { needed: number | Range },
): Outcome<Range> {
  const { pathToWinding, advance, passTime, needed } = input
  const refusal = refusalOf({ needed }, { notNegative: ['needed'] })
  if (refusal) return refusal
  const path = timeToWinding({ pathToWinding, advance, passTime })
  if (!path.ok) return path
  const { travel, passes } = path.value
  return finished(
    'needed',
    mapRange(asRange(needed), (time) => Math.max(0, time - travel) / passes),
  )
}
