// How warm the web is on its way over a stretch, not only where it leaves it.
import { type Stretch, webPath } from '../../calc/heat.ts'
import type { Range } from '../../calc/range.ts'
import type { HeatPath, Zone, ZoneWeb } from './path.ts'

/**
 * degC of the web when so much (0 to 1) of its dwell in a stretch has passed: over the heater of a zone, or free where there is none. Undefined where it
 * cannot be told. By the same calculation as where it leaves (`webPath`), with a shorter dwell; a web that is too thick for one temperature is taken by its face.
 */
export function webAlong({ air, body }: HeatPath, web: ZoneWeb, zone: Zone | undefined, share: number): Range | undefined {
  if (!body.ok || share <= 0) return web.enter
  const { grammage, heatCapacity } = body.value
  const length = web.dwell * share
  const stretch: Stretch =
    zone?.set === undefined
      ? { kind: 'free', name: 'free', length }
      : { kind: 'zone', name: zone.zone, length, coupling: zone.coupling.range, set: zone.set.value.si }
  const airLoss = zone?.coupling.airLoss
  // Seconds stand for metres: the web moves by one a second.
  const path = webPath({
    grammage,
    heatCapacity,
    stretches: [stretch],
    webSpeed: 1,
    air,
    enter: web.enter,
    ...(airLoss && { airLoss }),
  })
  return path.ok ? path.value[0]!.leave : undefined
}
