// At what surface temperature a touch burns, by how long the touch lasts and what is touched: guidance for cautions, never a
// limit to set a heater by.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { refusalOf } from './inputs.ts'

/** Named wherever a threshold is shown. */
export const TOUCH_SOURCE =
  'Burn thresholds after ISO 13732-1:2006 (values from memory, to be checked against the standard), which sets no limits: it says when skin burns, not what a ' +
  'machine may reach. The safety documents of the machine and the material, local codes and licensed practice come first.'

type TouchedSurface = 'metal' | 'ceramic' | 'plastic' | 'wood'

/** The shortest touch of the table, s. */
export const SHORTEST_TOUCH = 0.5

/** s */
const TIMES = [SHORTEST_TOUCH, 1, 10, 60, 600, 28_800] as const

/** degC at each of the times from which burns begin to occur (ISO 13732-1:2006, from memory). */
const THRESHOLDS: Readonly<Record<TouchedSurface, readonly number[]>> = {
  metal: [67, 65, 55, 51, 48, 43],
  ceramic: [84, 80, 66, 56, 48, 43],
  plastic: [91, 85, 71, 60, 48, 43],
  wood: [128, 115, 88, 60, 48, 43],
}

/**
 * s from which a touch of a surface of `temperature` degC burns: the shortest that is told is half a second, below which no threshold is known. Read from the
 * table of where burns begin to occur, along the logarithm of time; valid for small areas of skin. Undefined below what burns in 8 h: no touch is known to
 * burn there. Source: ISO 13732-1:2006 (from memory). Errors: missing, not finite, at absolute zero or above 1000 °C; a surface that is none of the four.
 */
export function burnsFrom(input: { temperature: number; surface: TouchedSurface }): Outcome<number | undefined> {
  const { temperature, surface } = input
  const refusal = refusalOf({ temperature }, { temperature: ['temperature'] })
  if (refusal) return refusal
  const row = THRESHOLDS[surface]
  if (row === undefined) return refuse('surface', 'burn thresholds are known for metal, ceramic, plastic and wood')
  const reached = row.findIndex((threshold) => temperature >= threshold)
  if (reached < 0) return ok(undefined)
  if (reached === 0) return ok(TIMES[0])
  const [hotter, cooler] = [row[reached - 1]!, row[reached]!]
  const [brief, long] = [TIMES[reached - 1]!, TIMES[reached]!]
  return ok(long * (brief / long) ** ((temperature - cooler) / (hotter - cooler)))
}
