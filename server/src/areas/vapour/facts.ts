// Vapour in a setup: how much of the ink evaporates where all of the width is printed at the ink limit, the heat water takes for it, and the
// air that thins a solvent's vapour: to breathe and against explosion, two questions that are never answered by one number.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { exactly, type Range, within } from '../../calc/range.ts'
import {
  type Dilution,
  dilutionForFire,
  dilutionForHealth,
  evaporationPower,
  inkVapour,
  MIXING,
  type VapourSource,
} from '../../calc/vapour.ts'
import type { PrinterInk } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import { dryingOf } from '../drying/facts.ts'
import { heatOf } from '../heat/facts.ts'
import type { HeatPath } from '../heat/path.ts'

type Base = NonNullable<PrinterInk['base']>['value']

export interface VapourFacts {
  /** What carries the ink; undefined where the printer does not say. */
  readonly base: Base | undefined
  /** Share of the ink that evaporates, and kg/m³ of it; undefined where not given or impossible. */
  readonly volatile: Range | undefined
  readonly density: Range | undefined
  /** kg/m² that evaporate at the ink limit: the most there can be, every dot counted as one full drop. */
  readonly load: Outcome<Range>
  /** kg/s that evaporate where all of the width is printed so. */
  readonly rate: Outcome<Range>
  /** W that evaporating it takes, all of it counted as water; undefined for another ink. */
  readonly heat: Outcome<Range> | undefined
  /** degC of the air whose flow is counted: the room's. */
  readonly air: number
  /** degC of the warmest heater the vapour meets: as set, or as hot as it can be set where the profile leaves it open. */
  readonly hottest: Outcome<number>
  /** m³/s of air to breathe; undefined where nothing that harms is counted: water, or an ink that light sets. */
  readonly breathing: Outcome<Dilution> | undefined
  /** m³/s of air that keep a quarter of the lower explosive limit, lowered for the warmest place; undefined as above. */
  readonly explosion: Outcome<Dilution> | undefined
}

/** The vapour of a setup, reckoned once. Never throws; what cannot be told is a problem that names the key to fill in. */
export const vapourOf: (setup: Setup) => VapourFacts = recorded('vapour', reckon)

function reckon(setup: Setup): VapourFacts {
  const ink = setup.printer?.ink
  const base = ink?.base?.value
  const [volatile, density] = [volatileOf(ink), densityOf(ink)]
  const heatPath = heatOf(setup)
  const hottest = hottestOf(heatPath)
  const { load, rate } = vapourLoad(setup, volatile, density)
  const common = {
    base,
    volatile: volatile.ok ? volatile.value : undefined,
    density: density.ok ? density.value : undefined,
    load,
    rate,
    air: heatPath.air,
    hottest,
  }
  const none = { heat: undefined, breathing: undefined, explosion: undefined }
  if (!ink || base === undefined || (rate.ok && rate.value.high === 0)) return { ...common, ...none }
  if (base === 'water') return { ...common, ...none, heat: rate.ok ? evaporationPower({ massRate: rate.value }) : rate }
  const source = sourceOf(ink, rate, heatPath.air)
  return { ...common, heat: undefined, breathing: breathingOf(ink, source), explosion: explosionOf(ink, source, hottest) }
}

/** An ink that light sets gives off nothing unless the printer says otherwise. */
function volatileOf(ink: PrinterInk | undefined): Outcome<Range> {
  const given = ink?.volatile?.value
  const base = ink?.base?.value
  if (given === undefined) return base === 'uv' ? ok(exactly(0)) : missing('ink.volatile', 'the share of the ink that evaporates')
  if (given.si === 0 && base !== 'uv' && base !== undefined)
    return refuse('ink.volatile', `the ink is said to be ${BASED[base]}, and none of it to evaporate: ink.volatile is 0 %`)
  const share = within(given.si, given.uncertainty)
  return ok({ ...share, high: Math.min(1, share.high) })
}

const BASED = { solvent: 'solvent-based', water: 'water-based' } as const

function densityOf(ink: PrinterInk | undefined): Outcome<Range> {
  const given = ink?.density?.value
  if (given === undefined) return missing('ink.density', 'which turns drops into mass')
  return ok(within(given.si, given.uncertainty))
}

function vapourLoad(
  setup: Setup,
  volatile: Outcome<Range>,
  density: Outcome<Range>,
): { readonly load: Outcome<Range>; readonly rate: Outcome<Range> } {
  const both = (problem: Outcome<Range>) => ({ load: problem, rate: problem })
  const given = setup.printer?.ink
  if (!setup.printer) return both(refuse('printer', 'the printer is not known'))
  if (!given) return both(missing('ink', 'what its safety data sheet says of it'))
  if (!given.base) return both(missing('ink.base', 'whether it is solvent, water or set by light'))
  if (!volatile.ok) return both(volatile)
  if (volatile.value.high === 0) return both(ok(exactly(0)))
  if (!density.ok) return both(density)
  const { ink, pass } = dryingOf(setup)
  if (!ink.ok) return both(ink)
  const { low, typical, high } = density.value
  const { perArea } = ink.value
  const inkPerArea = { low: low * perArea, typical: typical * perArea, high: high * perArea }
  const over = (areaRate: number): Outcome<Range> => named(inkVapour({ inkPerArea, areaRate, volatileShare: volatile.value }))
  // What evaporates in a second of one square metre a second is what evaporates of one square metre.
  return { load: over(1), rate: pass.ok ? over(pass.value.areaRate) : pass }
}

/** The hottest the vapour meets: a heater that the profile leaves open counts as hot as it can be set. */
function hottestOf({ air, zones }: HeatPath): Outcome<number> {
  let hottest = air
  for (const { zone, heater, set, range } of zones) {
    if (!heater) continue
    const at = set?.value.si ?? range?.[1]
    if (at === undefined) return refuse(`heat.${zone}`, `neither heat.${zone} nor the range of that heater is given`)
    hottest = Math.max(hottest, at)
  }
  return ok(hottest)
}

function sourceOf(ink: PrinterInk, rate: Outcome<Range>, airTemperature: number): Outcome<VapourSource> {
  if (!rate.ok) return rate
  const molarMass = ink['molar-mass']?.value.si
  if (molarMass === undefined) return missing('ink.molar-mass', 'which turns mass of vapour into volume')
  const [breathed, explosive] = [ink['exposure-limit']?.value.si, ink['lower-explosive-limit']?.value.si]
  if (breathed !== undefined && explosive !== undefined && breathed >= explosive)
    return refuse(
      'ink.exposure-limit',
      'ink.exposure-limit is not below ink.lower-explosive-limit: one of the two is in the wrong unit',
    )
  return ok({ massRate: rate.value, molarMass, airTemperature })
}

function breathingOf(ink: PrinterInk, source: Outcome<VapourSource>): Outcome<Dilution> {
  if (!source.ok) return source
  const limit = ink['exposure-limit']?.value.si
  if (limit === undefined) return missing('ink.exposure-limit', 'how much of the vapour may be in air to breathe')
  return named(dilutionForHealth({ ...source.value, limit, mixing: MIXING }))
}

/**
 * The handbook lowers the limit in one step above 121 °C, measurements lower it bit by bit; the more air of the two counts, at each end.
 */
function explosionOf(ink: PrinterInk, source: Outcome<VapourSource>, hottest: Outcome<number>): Outcome<Dilution> {
  if (!source.ok) return source
  const lowerExplosiveLimit = ink['lower-explosive-limit']?.value.si
  if (lowerExplosiveLimit === undefined)
    return missing('ink.lower-explosive-limit', 'from which share of the air its vapour can explode')
  if (!hottest.ok) return hottest
  const found = named(dilutionForFire({ ...source.value, lowerExplosiveLimit, hottest: hottest.value }))
  if (!found.ok) return found
  const { vapour, air, airAtLoweredLimit: lowered } = found.value
  const more = (end: keyof Range): number => Math.max(air[end], lowered[end])
  return ok({ vapour, air: { low: more('low'), typical: more('typical'), high: more('high') } })
}

const missing = (key: string, what: string): Outcome<never> => refuse(key, `the printer does not give its ${key}, ${what}`)

/** Inputs of the calculations as the documents name them. */
const NAMES: Readonly<Record<string, string>> = {
  limit: 'ink.exposure-limit',
  lowerExplosiveLimit: 'ink.lower-explosive-limit',
  molarMass: 'ink.molar-mass',
  airTemperature: 'climate.temperature',
  hottest: 'heat',
}

/** A problem under the key that a person can mend. Values beyond a key's own limits never come here: they count as not given. */
function named<T>(outcome: Outcome<T>): Outcome<T> {
  if (outcome.ok) return outcome
  const { input, reason } = outcome.problem
  return refuse(NAMES[input] ?? 'ink', reason)
}
