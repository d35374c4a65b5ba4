// The air of the room and what it does to media: water vapour pressure, dew point, the dry air over a heated platen, growth of
// paper, static. The psychrometric equations are those of the ASHRAE Handbook of Fundamentals (2017, chapter 1), as the
// psychrolib package carries them.
import psychrolib from 'psychrolib'
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, type Range } from './range.ts'

/** K a surface must stand above the dew point for nothing to condense on it (ISO 8502-4, from memory). */
const CONDENSATION_MARGIN = 3

/** Relative humidity below which static becomes a nuisance (common practice). */
export const STATIC_HUMIDITY = 0.4

/** What to say of a room drier than {@link STATIC_HUMIDITY} (common practice). */
export const STATIC_CAUTION =
  'In air below about 40 %RH films and dry paper charge as they unwind: they cling to the platen, draw dust and stray drops, and can shock. ' +
  'Raise the humidity of the room, let the roll rest in it, and keep earthing and ionisers as the safety documents of the machine and the material say; ' +
  'they, local codes and licensed practice come first, above all where solvent vapour is present.'

/** Temperatures between which the equations hold, degC (ASHRAE). */
const LEAST = -100
const GREATEST = 200

/**
 * Pressure of saturated water vapour in Pa at `temperature` degC; over ice below 0 degC. Valid from -100 to 200 degC, refused
 * outside.
 * Source: ASHRAE Handbook of Fundamentals 2017, chapter 1, equations 5 and 6 (Hyland & Wexler).
 */
export function saturationPressure(input: { temperature: number }): Outcome<number> {
  return refusalOf(input) ?? outsideAir({ temperature: input.temperature }) ?? ok(saturated(input.temperature))
}

/**
 * Dew point in degC of air at `temperature` degC and relative `humidity` (0..1); frost point below 0 degC. Found to 0.001 K.
 * Valid from -100 to 200 degC, and while the dew point itself is no lower. Source as {@link saturationPressure}. Errors: missing, not
 * finite, outside these; a humidity of zero, or above 1.
 */
export function dewPoint(input: { temperature: number; humidity: number }): Outcome<number> {
  const { temperature, humidity } = input
  const refusal =
    refusalOf({ temperature, humidity }, { positive: ['humidity'], share: ['humidity'] }) ?? outsideAir({ temperature })
  if (refusal) return refusal
  if (humidity * saturated(temperature) < saturated(LEAST)) {
    return refuse('humidity', `air this dry has its dew point below ${LEAST} °C, where no equation holds`)
  }
  try {
    psychrolib.SetUnitSystem(psychrolib.SI)
    return ok(psychrolib.GetTDewPointFromRelHum(temperature, humidity))
  } catch {
    return refuse('humidity', 'no dew point was found for this temperature and humidity')
  }
}

/**
 * Relative humidity (0..1) of room air at `temperature` degC and `humidity` once it is at `surface` degC, its vapour pressure
 * unchanged. 1 where the surface is at or below the dew point: the rest condenses. Validity and source as {@link
 * saturationPressure}. Errors: missing, not finite, a temperature outside that; a humidity outside 0 to 1.
 */
export function humidityAt(input: { temperature: number; humidity: number; surface: number }): Outcome<number> {
  const { temperature, humidity, surface } = input
  const refusal = refusalOf({ temperature, humidity, surface }, { share: ['humidity'] }) ?? outsideAir({ temperature, surface })
  return refusal ?? ok(Math.min(1, (humidity * saturated(temperature)) / saturated(surface)))
}

export interface Condensation {
  /** degC */
  readonly dewPoint: number
  /** K by which the surface stands above the dew point; negative below it. */
  readonly margin: number
  /** K it should stand above it. */
  readonly required: number
  /** Whether it does. */
  readonly safe: boolean
}

/**
 * Whether a surface (roll, platen, web) at `surface` degC stays free of condensation in air at `temperature` degC and `humidity`
 * (0..1): it does when at least 3 K above the dew point (ISO 8502-4, from memory; that standard is about painting steel, the rule
 * is used as a guide). Errors: as {@link dewPoint}; a surface at absolute zero or above 1000 °C.
 */
export function condensation(input: { temperature: number; humidity: number; surface: number }): Outcome<Condensation> {
  const { temperature, humidity, surface } = input
  const refusal = refusalOf({ surface }, { temperature: ['surface'] })
  if (refusal) return refusal
  const dew = dewPoint({ temperature, humidity })
  if (!dew.ok) return dew
  const margin = surface - dew.value
  return finished('surface', { dewPoint: dew.value, margin, required: CONDENSATION_MARGIN, safe: margin >= CONDENSATION_MARGIN })
}

/**
 * Relative growth of a sheet in one direction (0.001 is 1 mm per m; negative where it shrinks) when it comes to equilibrium with
 * another climate. `humidityChange` as a fraction (from 50 %RH to 30 %RH is -0.2), `temperatureChange` in K, `moistureExpansion`
 * as a fraction per fraction of RH, `expansion` in 1/K. Linear: valid between about 30 and 70 %RH, and across the grain only with
 * the expansion of that direction (common practice). Errors: missing, not finite, out of order; a change of more than 100 %RH.
 */
export function sheetGrowth(input: {
  humidityChange: number
  temperatureChange: number
  moistureExpansion: number | Range
  expansion: number | Range
}): Outcome<Range> {
  const { humidityChange, temperatureChange, moistureExpansion, expansion } = input
  const refusal = refusalOf({ humidityChange, temperatureChange, moistureExpansion, expansion })
  if (refusal) return refusal
  if (Math.abs(humidityChange) > 1) return refuse('humidityChange', 'the humidity cannot change by more than 100 %RH')
  const inputs = { moisture: asRange(moistureExpansion), heat: asRange(expansion) }
  return finished(
    'expansion',
    combineRanges(inputs, (v) => v.moisture * humidityChange + v.heat * temperatureChange),
  )
}

function outsideAir(temperatures: Readonly<Record<string, number>>): Outcome<never> | undefined {
  for (const [name, value] of Object.entries(temperatures)) {
    if (value < LEAST || value > GREATEST)
      return refuse(name, `the ${name} lies outside ${LEAST} °C to ${GREATEST} °C, where the equations of moist air hold`)
  }
  return undefined
}

/** The library keeps its unit system as shared state, so it is set at each use. */
function saturated(temperature: number): number {
  psychrolib.SetUnitSystem(psychrolib.SI)
  return psychrolib.GetSatVapPres(temperature)
}
