// At what surface temperature a touch burns, by how long the touch lasts and what is touched: guidance for cautions, never a
// limit to set a heater by.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, exactly, type Range } from './range.ts'

/** Named wherever a threshold is shown. */
export const TOUCH_SOURCE =
  'Burn thresholds after ISO 13732-1:2006 (values from memory, to be checked against the standard), which sets no limits: it says when skin burns, not what a ' +
  'machine may reach. The safety documents of the machine and the material, local codes and licensed practice come first.'

export type TouchedSurface = 'metal' | 'ceramic' | 'plastic' | 'wood'

/** The shortest touch of the table, s. */
export const SHORTEST_TOUCH = 0.5

/** s */
const TIMES = [SHORTEST_TOUCH, 1, 10, 60, 600, 28_800] as const

/**
 * degC at each of the times; two numbers are the spread below which no burn and above which a burn is to be expected (ISO
 * 13732-1:2006, from memory).
 */
const THRESHOLDS: Readonly<Record<TouchedSurface, readonly (readonly [number, number])[]>> = {
  metal: [
    [67, 73],
    [65, 70],
    [55, 57],
    [51, 51],
    [48, 48],
    [43, 43],
  ],
  ceramic: [
    [84, 90],
    [80, 86],
    [66, 70],
    [56, 56],
    [48, 48],
    [43, 43],
  ],
  plastic: [
    [91, 99],
    [85, 93],
    [71, 77],
    [60, 60],
    [48, 48],
    [43, 43],
  ],
  wood: [
    [128, 155],
    [115, 140],
    [88, 93],
    [60, 60],
    [48, 48],
    [43, 43],
  ],
}

/**
 * degC at which a touch of `contact` s burns: the low end is where burns begin to occur, the high end where one is to be
 * expected. Between the times of the table it is read along the logarithm of time. Valid from 0.5 s (refused below) and for small
 * areas of skin; beyond 8 h as at 8 h.
 */
export function burnThreshold(input: { contact: number; surface: TouchedSurface }): Outcome<Range> {
  const { contact, surface } = input
  const refusal = refusalOf({ contact }, { positive: ['contact'] })
  if (refusal) return refusal
  if (contact < TIMES[0]) return refuse('contact', 'no burn threshold is known for a touch shorter than half a second')
  const row = THRESHOLDS[surface]
  if (row === undefined) return refuse('surface', NO_SURFACE)
  const next = TIMES.findIndex((time) => time >= contact)
  if (next < 0) return ok(exactly(row.at(-1)![0]))
  const before = Math.max(0, next - 1)
  const part = next === 0 ? 0 : Math.log(contact / TIMES[before]!) / Math.log(TIMES[next]! / TIMES[before]!)
  const [low, high] = [0, 1].map((end) => row[before]![end]! + part * (row[next]![end]! - row[before]![end]!)) as [number, number]
  return ok({ low, typical: (low + high) / 2, high })
}

/**
 * s from which a touch of a surface of `temperature` degC burns: the shortest that is told is half a second, below which no threshold is known. Read from the
 * low ends of the table, where burns begin to occur, along the logarithm of time. Undefined below what burns in 8 h: no touch is known to burn there.
 * Errors: as `touchRisk`.
 */
export function burnsFrom(input: { temperature: number; surface: TouchedSurface }): Outcome<number | undefined> {
  const { temperature, surface } = input
  const refusal = refusalOf({ temperature }, { temperature: ['temperature'] })
  if (refusal) return refusal
  const row = THRESHOLDS[surface]
  if (row === undefined) return refuse('surface', NO_SURFACE)
  const reached = row.findIndex(([low]) => temperature >= low)
  if (reached < 0) return ok(undefined)
  if (reached === 0) return ok(TIMES[0])
  const [hotter, cooler] = [row[reached - 1]![0], row[reached]![0]]
  const [brief, long] = [TIMES[reached - 1]!, TIMES[reached]!]
  return ok(long * (brief / long) ** ((temperature - cooler) / (hotter - cooler)))
}

const NO_SURFACE = 'burn thresholds are known for metal, ceramic, plastic and wood'

export interface TouchRisk {
  /** degC */
  readonly threshold: Range
  /** K below the low end of the threshold; below zero where burns occur. */
  readonly margin: number
  readonly verdict: 'no-burn' | 'may-burn' | 'burns'
}

/** What a touch of `contact` s does at a surface of `temperature` degC; the highest value of a range counts. */
export function touchRisk(input: { temperature: number | Range; contact: number; surface: TouchedSurface }): Outcome<TouchRisk> {
  const { temperature, contact, surface } = input
  const refusal = refusalOf({ temperature }, { temperature: ['temperature'] })
  if (refusal) return refusal
  const threshold = burnThreshold({ contact, surface })
  if (!threshold.ok) return threshold
  const hottest = asRange(temperature).high
  const verdict = hottest < threshold.value.low ? 'no-burn' : hottest >= threshold.value.high ? 'burns' : 'may-burn'
  return finished('temperature', { threshold: threshold.value, margin: threshold.value.low - hottest, verdict })
}
