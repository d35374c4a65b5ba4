// Vapour from drying ink and the air that thins it: for breathing and against explosion, two questions with two answers that
// differ by hundreds. Mass rates in kg/s, molar mass in kg/mol, concentrations and limits as volume fractions (20 ppm is 2e-5),
// air in m3/s, temperatures in degC.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, exactly, mapRange, type Range } from './range.ts'

/** To be shown with every number about vapour. */
export const VAPOUR_CAUTION =
  'An estimate for talking to those who design ventilation, not a design. Air enough to stay below a quarter of the lower explosive limit is far from enough to breathe; ' +
  'vapour gathers low, near the web and in the roll, where no average holds. Keep ignition sources and static away. The safety data sheets of the ink and its cleaners, the ' +
  'machine’s safety documents, local codes and licensed practice come first.'

/** Mixing factor of rooms where air is let in and drawn off with some thought, from good to poor (ACGIH, from memory). */
export const MIXING: Range = { low: 3, typical: 5, high: 10 }

/** J/(mol K), the molar gas constant (exact in the SI since 2019). */
const GAS_CONSTANT = 8.314_462_618
/**
 * degC; 250 °F, above which the handbook counts the explosive limit as 0.7 of its value (ACGIH, Industrial Ventilation, from
 * memory).
 */
const HANDBOOK_STEP = 121.1
const HANDBOOK_FACTOR = 0.7

/** The share of the explosive limit that the handbook leaves at `hottest` degC. */
export const handbookFactor = (hottest: number): number => (hottest > HANDBOOK_STEP ? HANDBOOK_FACTOR : 1)

/**
 * Relative loss of the explosive limit per K above 25 °C: n-hexane and acetone to 100 °C (Ludwig, Applied Process Design vol. 1,
 * table 7-22), and Zabetakis' usual 0.0721 %.
 */
export const LEL_LOSS: Range = { low: 0.000_721, typical: 0.001_35, high: 0.002_22 }
/**
 * No solvent's lower explosive limit, nor its limit for breathing, is a larger fraction: a number above was meant as percent or
 * ppm.
 */
const LARGEST_LEL = 0.2
const LARGEST_HEALTH_LIMIT = 0.01
/** kg/mol; nor does any weigh this much, so a number above was meant in g/mol. */
const LARGEST_MOLAR_MASS = 1
/** J/kg to evaporate water at 40 °C (from memory: 2.40 MJ/kg). */
export const WATER_LATENT_HEAT = 2.4e6

/**
 * m3 of one mol of vapour at `temperature` degC and one atmosphere, 101 325 Pa (ideal gas): 0.024055 at 20 °C, 0.024465 at 25 °C. Warm
 * air takes its own, larger value.
 */
function molarVolume(input: { temperature: number }): Outcome<number> {
  const refusal = refusalOf(input, { temperature: ['temperature'] })
  return refusal ?? ok((GAS_CONSTANT * (input.temperature + 273.15)) / 101_325)
}

/**
 * kg/s that evaporate: `inkPerArea` kg/m2 printed at `areaRate` m2/s, of which `volatileShare` (0..1) is water or solvent. Valid where all of
 * it evaporates at the printer. Source: mass balance. Errors: missing, not finite, out of order; ink or rate of zero or below; a share outside 0 to 1.
 */
export function inkVapour(input: {
  inkPerArea: number | Range
  areaRate: number
  volatileShare: number | Range
}): Outcome<Range> {
  const { inkPerArea, areaRate, volatileShare } = input
  const refusal = refusalOf(
    { inkPerArea, areaRate, volatileShare },
    { positive: ['inkPerArea', 'areaRate'], share: ['volatileShare'] },
  )
  if (refusal) return refusal
  const inputs = { ink: asRange(inkPerArea), share: asRange(volatileShare) }
  return finished(
    'inkPerArea',
    combineRanges(inputs, (v) => v.ink * areaRate * v.share),
  )
}

/** W to evaporate `massRate` kg/s; `latentHeat` in J/kg, that of water unless given. Errors: missing, not finite; a negative rate; a heat of zero or below. */
export function evaporationPower(input: { massRate: number | Range; latentHeat?: number | Range }): Outcome<Range> {
  const { massRate, latentHeat = WATER_LATENT_HEAT } = input
  const refusal = refusalOf({ massRate, latentHeat }, { notNegative: ['massRate'], positive: ['latentHeat'] })
  if (refusal) return refusal
  const inputs = { rate: asRange(massRate), heat: asRange(latentHeat) }
  return finished(
    'massRate',
    combineRanges(inputs, (v) => v.rate * v.heat),
  )
}

export interface VapourSource {
  /** kg/s */
  readonly massRate: number | Range
  /** kg/mol */
  readonly molarMass: number
  /** degC of the air whose flow is counted. */
  readonly airTemperature: number
}

export interface Dilution {
  /** m3/s of vapour at the air's temperature. */
  readonly vapour: Range
  /** m3/s of air at that temperature. */
  readonly air: Range
}

/**
 * Air that keeps a vapour at `limit` (volume fraction, of the safety data sheet) where people breathe: G K / C, with `mixing` K
 * from 1 (perfect) to 10 (poor). Valid for one vapour at a steady rate, far from its source and well below saturation; it says nothing of
 * fire. Source: dilution ventilation, ACGIH Industrial Ventilation (equation as on the ABIH sheet, 24 L/mol form). Errors: missing, not
 * finite, out of order, zero or negative; a limit above 1 %, a mixing factor below 1, a molar mass above 1 kg/mol, an air temperature at
 * absolute zero or above 1000 °C.
 */
export function dilutionForHealth(input: VapourSource & { limit: number; mixing: number | Range }): Outcome<Dilution> {
  const { limit, mixing } = input
  const refusal = refusalOf({ limit, mixing }, { positive: ['limit', 'mixing'] })
  if (refusal) return refusal
  if (limit > LARGEST_HEALTH_LIMIT)
    return refuse('limit', 'the limit is given as a fraction, and no solvent may be breathed at above 1 %: 20 ppm is 0.00002')
  if (asRange(mixing).low < 1) return refuse('mixing', 'the mixing factor is at least 1: air never mixes better than perfectly')
  return diluted(input, (vapour) => combineRanges({ vapour, mixing: asRange(mixing) }, (v) => (v.vapour * v.mixing) / limit))
}

interface FireDilution extends Dilution {
  /** m3/s with the explosive limit lowered by measured losses at `hottest` instead of the handbook's step. */
  readonly airAtLoweredLimit: Range
}

/**
 * Air that keeps a vapour at 1 / `safety` of its lower explosive limit: 4 is a quarter (NFPA 86 rule for continuous drying), 10
 * to 12 for batches. `lowerExplosiveLimit` is a volume fraction at room temperature; `hottest` degC is the warmest place the
 * vapour meets (heater or oven), which lowers it: the handbook counts 0.7 above 121 °C. This says nothing of breathing. Source:
 * ACGIH Industrial Ventilation, dilution chapter (from memory). Errors: as {@link dilutionForHealth}; an explosive limit above 20 %, a
 * safety factor below 4, a warmest place above 200 °C.
 */
export function dilutionForFire(
  input: VapourSource & { lowerExplosiveLimit: number; hottest: number; safety?: number },
): Outcome<FireDilution> {
  const { lowerExplosiveLimit, hottest, safety = 4 } = input
  const lowered = lowerExplosiveLimitAt({ limit: lowerExplosiveLimit, temperature: hottest })
  if (!lowered.ok) return renamed(lowered, { limit: 'lowerExplosiveLimit', temperature: 'hottest' })
  const refusal = refusalOf({ safety })
  if (refusal) return refusal
  if (safety < 4) return refuse('safety', 'the safety factor is at least 4, a quarter of the lower explosive limit')
  const limit = lowerExplosiveLimit * handbookFactor(hottest)
  const need = (of: number) => (vapour: Range) => mapRange(vapour, (flow) => (flow * safety) / of)
  const air = diluted(input, need(limit))
  if (!air.ok) return air
  const airAtLoweredLimit = combineRanges(
    { vapour: air.value.vapour, limit: lowered.value },
    (v) => (v.vapour * safety) / v.limit,
  )
  return finished('lowerExplosiveLimit', { ...air.value, airAtLoweredLimit })
}

/**
 * Lower explosive limit (volume fraction) at `temperature` degC from its value at room temperature: a range, since the usual rule
 * of 0.0721 % a kelvin is optimistic against measured acetone and n-hexane. Valid from room temperature to 200 °C; at or below 25
 * °C the value itself. Refused above.
 */
function lowerExplosiveLimitAt(input: { limit: number; temperature: number }): Outcome<Range> {
  const { limit, temperature } = input
  const refusal = refusalOf({ limit, temperature }, { positive: ['limit'], temperature: ['temperature'] })
  if (refusal) return refusal
  if (limit > LARGEST_LEL)
    return refuse('limit', 'the lower explosive limit is given as a fraction, and no solvent has one above 20 %: 1.1 % is 0.011')
  if (temperature > 200) return refuse('temperature', 'above 200 °C no rule for the lower explosive limit is known to hold')
  const warmer = Math.max(0, temperature - 25)
  return ok(warmer === 0 ? exactly(limit) : mapRange(LEL_LOSS, (loss) => limit * (1 - loss * warmer)))
}

function diluted(source: VapourSource, need: (vapour: Range) => Range): Outcome<Dilution> {
  const { massRate, molarMass, airTemperature } = source
  const refusal = refusalOf({ massRate, molarMass }, { positive: ['massRate', 'molarMass'] })
  if (refusal) return refusal
  if (molarMass > LARGEST_MOLAR_MASS)
    return refuse('molarMass', 'the molar mass is given in kg/mol, and no solvent has one above 1 kg/mol: 106 g/mol is 0.106')
  const volume = molarVolume({ temperature: airTemperature })
  if (!volume.ok) return renamed(volume, { temperature: 'airTemperature' })
  const vapour = mapRange(asRange(massRate), (rate) => (rate / molarMass) * volume.value)
  return finished('massRate', { vapour, air: need(vapour) })
}

/** The problem under the name its input has in the outer calculation. */
function renamed(
  failed: { readonly ok: false; readonly problem: { readonly input: string; readonly reason: string } },
  names: Readonly<Record<string, string>>,
): Outcome<never> {
  return refuse(names[failed.problem.input] ?? failed.problem.input, failed.problem.reason)
}
