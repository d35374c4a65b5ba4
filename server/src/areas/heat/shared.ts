// What the rules of heat share: the fix that sets a heater, the step it can be set in, the highest setting that spares the web, and the
// small printer and film of their examples.

import type { HeatMargin } from '../../calc/heat-effects.ts'
import type { RollDocument } from '../../model/document.ts'
import { webText } from '../../model/heat-words.ts'
import type { Setup } from '../../model/setup.ts'
import type { UnitSystem } from '../../quantities/display-unit.ts'
import { formatQuantity, formatSi, toStep } from '../../quantities/format.ts'
import type { Fix } from '../../rules/rule.ts'
import { writeSetting } from '../../rules/support/setting.ts'
import { toldByBase } from '../../rules/support/told-by-base.ts'
import type { HeatFacts, HeatLimit, SettledWeb } from './facts.ts'
import { HEATER, type Zone } from './path.ts'
import { limitText } from './words.ts'

/** Sets a heater, in the unit the profile writes it in. */
export function setHeat(document: RollDocument, zone: Zone, celsius: number, preferred = false): Fix {
  const unit = zone.set?.value.unit
  const text = formatSi(celsius, 'temperature', { digits: 5, ...(unit && { unit }) })
  return writeSetting(document, ['heat', zone.zone], text, `Set heat.${zone.zone} to ${text}`, preferred)
}

/** The setting as it is written in the profile. */
export const setText = ({ set }: Zone): string => (set ? formatQuantity(set.value) : '')

/** A temperature in the unit the profile writes this zone in. */
export const inUnitOf = ({ set }: Zone, celsius: number): string =>
  formatSi(celsius, 'temperature', { digits: 4, ...(set && { unit: set.value.unit }) })

/** The nearest setting the heater takes; steps are counted from the low end of its range. The temperature itself where no step is known. */
export function onStep({ range, step }: Zone, celsius: number, mode: 'nearest' | 'down' = 'nearest'): number {
  if (step === undefined || !(step > 0)) return celsius
  const from = range?.[0] ?? 0
  return from + (toStep(celsius - from, step, mode) ?? celsius - from)
}

/**
 * The highest setting with which the settled web stays within the limit even at the best coupling and the least loss to air:
 * T_set = T_air + (limit - T_air) (1 + h_a / h_c). Undefined outside the printer's range or above what is set.
 */
export function highestSafe({ air }: HeatFacts, zone: Zone, limit: HeatLimit): number | undefined {
  const { coupling, range, set } = zone
  if (!set || limit.range.low <= air) return undefined
  const highest = air + (limit.range.low - air) * (1 + coupling.airLoss.low / coupling.range.high)
  const safe = onStep(zone, highest, 'down')
  const fits = safe < set.value.si && (!range || (safe >= range[0] && safe <= range[1]))
  return fits ? safe : undefined
}

/** Whether the web is so warm at a zone that web-too-hot or web-near-limit tell of it. */
export const isTold = ({ origin }: HeatLimit, { margin }: HeatMargin): boolean =>
  origin === 'given' ? margin.typical < 0 : margin.high < 0

interface Settled {
  readonly zone: Zone
  readonly web: SettledWeb
}

/** The heaters over which a web that stays gets hotter than the stock's own limit at every value the inputs may have, where it cannot be followed. */
export const settledAbove = (setup: Setup, facts: HeatFacts): readonly Settled[] =>
  facts.limit?.origin === 'given' ? settledZones(setup, facts, ({ verdict }) => verdict === 'over') : []

/** The same where it is only probable, or where the limit is that of the family. */
export const settledNear = (setup: Setup, facts: HeatFacts): readonly Settled[] =>
  settledZones(setup, facts, ({ verdict, margin }) =>
    facts.limit?.origin === 'given' ? verdict === 'uncertain' && margin.typical < 0 : verdict === 'over',
  )

function settledZones(
  setup: Setup,
  { zones, settled, limit }: HeatFacts,
  isHot: (margin: HeatMargin) => boolean,
): readonly Settled[] {
  return zones.flatMap((zone) => {
    const web = settled.get(zone.zone)
    const above = limit && zone.set && zone.set.value.si > limit.range.high
    return above && web?.margin && isHot(web.margin) && !heatToldByBase(setup, zone) ? [{ zone, web }] : []
  })
}

export const settledText = (zone: Zone, { web, why }: SettledWeb, limit: HeatLimit, units: UnitSystem): string =>
  `The ${HEATER[zone.zone]} is set to ${setText(zone)}: a web that stays over it settles at ${webText(web, units)}, and ${limitText(limit, units)}. More cannot be told, because ${why}.`

/** Sets a heater to no more than the stock bears, where the printer says that it takes that. */
export function setToLimit(document: RollDocument, zone: Zone, { range: bears }: HeatLimit): Fix | undefined {
  const highest = onStep(zone, bears.low, 'down')
  const { range } = zone
  return range && highest >= range[0] && highest <= range[1] ? setHeat(document, zone, highest) : undefined
}

/** Whether a finding about heat rests on nothing of this profile's own: then its base tells it. */
export const heatToldByBase = (setup: Setup, ...zones: readonly (Zone | undefined)[]): boolean => {
  const { profile, own } = setup
  return !own.heat?.readings && toldByBase(setup, profile.stock, profile.printer, profile.mode, ...zones.map((zone) => zone?.set))
}

export const EXAMPLE_PRINTER = `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes:
  m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s}
heaters:
  before: {length: 250 mm, range: [30 °C, 70 °C], step: 1 K, coupling: 80 W/m²K}
  platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 120 W/m²K}
  after: {length: 450 mm, range: [30 °C, 90 °C], step: 1 K, coupling: 80 W/m²K}
drying: {pause-range: [0 s, 10 s], run-out-range: [0 min, 60 min], path-to-winding: 1.4 m}
`

export const EXAMPLE_FILM = `#- s.stock.yaml
stock: s
family: film-pvc-calendered
thickness: 80 µm
grammage: 112 g/m²
expansion: 70 ppm/K
max-web-temperature: 50 °C
widths: [1372 mm]
`

/** A profile on the two, with these lines of its own behind its first ones. */
export const onExample = (lines: string, film = EXAMPLE_FILM, printer = EXAMPLE_PRINTER): string => `#- e.media.yaml
${EXAMPLE_HEAD}${lines}${film}${printer}`

/** The same profile as it stands after a fix. */
export const EXAMPLE_HEAD = `profile: e
stock: s
printer: p
mode: m
`
