// Heat in a setup: how warm the web gets along its path, how far that is from what the material bears, how much it grows, and the
// power it takes. Material and coupling are ranges where they are typical, so the results are.

import { type Outcome, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { timeToSettle, webAfterZone, webHeatPower } from '../../calc/heat.ts'
import { type HeatMargin, limitMargin, thermalGrowth } from '../../calc/heat-effects.ts'
import { combineRanges, mapRange, type Range, subtractRanges } from '../../calc/range.ts'
import type { Property } from '../../model/material.ts'
import type { Setup } from '../../model/setup.ts'
import { type HeatPath, heatPath, type Zone } from './path.ts'
import type { ZoneName } from './readings.ts'

/** The temperature the web must stay below. */
export interface HeatLimit extends Property {
  readonly key: 'max-web-temperature' | 'softens-at'
}

export interface HeatFacts extends HeatPath {
  readonly limit: HeatLimit | undefined
  /** The softening of the stock, where it is not the limit itself. */
  readonly softens: Property | undefined
  /** Margin of each zone whose web is told, to the limit. */
  readonly margins: ReadonlyMap<ZoneName, HeatMargin>
  /**
   * The zones that are set and whose web cannot be followed: where it settles if it stays over the heater, and the margin of that to the limit. Not those that
   * the printer says it has no heater for.
   */
  readonly settled: ReadonlyMap<ZoneName, SettledWeb>
  /** The zone whose web is hottest. */
  readonly hottest: Zone | undefined
  /** Growth of the web over the platen from the shop's reference temperature, as a fraction. */
  readonly growth: Outcome<Range>
  /** W that the web takes from each heater. */
  readonly power: ReadonlyMap<ZoneName, Range>
}

export interface SettledWeb {
  /** degC */
  readonly web: Range
  /** Undefined where no limit is known. */
  readonly margin: HeatMargin | undefined
  /** Why it cannot be followed. */
  readonly why: string
}

/** The heat of a setup, reckoned once. Never throws; what cannot be told is a problem that names the key to fill in. */
export const heatOf: (setup: Setup) => HeatFacts = recorded('heat', reckon)

function reckon(setup: Setup): HeatFacts {
  const path = heatPath(setup)
  const { limit, softens } = limitOf(setup)
  const margins = new Map<ZoneName, HeatMargin>()
  let hottest: Zone | undefined
  let warmest = Number.NEGATIVE_INFINITY
  for (const zone of path.zones) {
    if (!zone.web.ok || !zone.set) continue
    const { leave } = zone.web.value
    const margin = limit && limitMargin({ web: leave, limit: limit.range })
    if (margin?.ok) margins.set(zone.zone, margin.value)
    if (leave.typical <= warmest) continue
    warmest = leave.typical
    hottest = zone
  }
  return {
    ...path,
    limit,
    softens,
    margins,
    settled: settledOf(setup, path, limit),
    hottest,
    growth: growthOf(setup, path),
    power: powerOf(path),
  }
}

/** Share of the way to where a web settles at which it counts as being there, by convention. */
export const SETTLED_SHARE = 0.99

/** s until the web over a heater is as warm as it gets there. Refused where the web cannot be followed, or is too thick for one temperature. */
export function settlingTime({ air, body }: HeatPath, { web, set, coupling }: Zone): Outcome<Range> {
  if (!web.ok || !body.ok || !set) return web.ok ? refuse('heat', 'the web cannot be followed') : web
  const { enter, dwell } = web.value
  const after = webAfterZone({
    ...body.value,
    set: set.value.si,
    enter,
    air,
    coupling: coupling.range,
    airLoss: coupling.airLoss,
    dwell,
  })
  return after.ok ? timeToSettle({ timeConstant: after.value.timeConstant, share: SETTLED_SHARE }) : after
}

/** T_air + (T_set - T_air) / (1 + h_a / h_c): what heater and air agree on, however slow the web is. */
function settledOf(
  { printer }: Setup,
  { air, zones }: HeatPath,
  limit: HeatLimit | undefined,
): ReadonlyMap<ZoneName, SettledWeb> {
  const settled = new Map<ZoneName, SettledWeb>()
  for (const { zone, heater, set, coupling, web: followed } of zones) {
    if (!set || followed.ok || (!heater && printer?.heaters)) continue
    const inputs = { coupling: coupling.range, loss: coupling.airLoss }
    const web = combineRanges(inputs, (v) => air + (set.value.si - air) / (1 + v.loss / v.coupling))
    const margin = limit && limitMargin({ web, limit: limit.range })
    settled.set(zone, { web, margin: margin?.ok ? margin.value : undefined, why: followed.problem.reason })
  }
  return settled
}

/** What the stock says it bears, else where it says it softens, else what is typical of its family. */
function limitOf({ material }: Setup): { limit: HeatLimit | undefined; softens: Property | undefined } {
  const most = material.property('max-web-temperature')
  const softens = material.property('softens-at')
  const bySoftening = softens && (most === undefined || (most.origin === 'typical' && softens.origin === 'given'))
  if (bySoftening) return { limit: { ...softens, key: 'softens-at' }, softens: undefined }
  return { limit: most && { ...most, key: 'max-web-temperature' }, softens }
}

function growthOf({ material, shop }: Setup, { zones }: HeatPath): Outcome<Range> {
  const platen = zones.find((z) => z.zone === 'platen')
  if (!platen?.set) return refuse('heat.platen', 'no temperature is set on the platen')
  if (!platen.web.ok) return platen.web
  const expansion = material.property('expansion')?.range
  if (!expansion) return refuse('expansion', 'the stock gives neither its expansion nor a family to take a typical one from')
  return thermalGrowth({ expansion, from: shop.referenceTemperature.value, to: platen.web.value.leave })
}

function powerOf({ zones, body, pass }: HeatPath): ReadonlyMap<ZoneName, Range> {
  const power = new Map<ZoneName, Range>()
  if (!body.ok || !pass.ok) return power
  const { webSpeed, width: webWidth } = pass.value
  for (const { zone, set, web } of zones) {
    if (!set || !web.ok) continue
    const { leave, enter } = web.value
    const rise = subtractRanges(leave, enter)
    const { grammage, heatCapacity } = body.value
    const taken = webHeatPower({ grammage, heatCapacity, webWidth, webSpeed, rise })
    if (taken.ok)
      power.set(
        zone,
        mapRange(taken.value, (w) => Math.max(0, w)),
      )
  }
  return power
}
