// The web's way over the heaters of this setup: how well each zone couples to it, and how warm it is there.
import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { type FittedCoupling, fitCoupling } from '../../calc/coupling.ts'
import { AIR_LOSS, CONTACT_COUPLING, type Stretch, type StretchHeat, type Trust, type WebBody, webPath } from '../../calc/heat.ts'
import { exactly, mapRange, type Range, within } from '../../calc/range.ts'
import type { Q } from '../../model/field.ts'
import type { Heater } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import { type PassFacts, throughputOf } from '../advance/facts.ts'
import { type FullReading, fullReadings, used, ZONES, type ZoneName } from './readings.ts'

export interface ZoneCoupling {
  /** W/(m2 K). Of readings: at the typical loss to air, so that it gives back the temperatures that were read. */
  readonly range: Range
  /** W/(m2 K), the loss to air that goes with it. */
  readonly airLoss: Range
  readonly origin: 'readings' | 'printer' | 'typical'
  readonly fit: FittedCoupling | undefined
  /** Why the readings there are were of no use. */
  readonly unfitted: string | undefined
}

/** `face`: too thick for one temperature through it, and taken as hot as its face was read. */
export interface ZoneWeb extends Omit<StretchHeat, 'trust'> {
  readonly trust: Trust | 'face'
}

export interface Zone {
  readonly zone: ZoneName
  /** What the printer has there; undefined where it has none. */
  readonly heater: Heater | undefined
  readonly set: Q<'temperature'> | undefined
  /** degC */
  readonly range: readonly [number, number] | undefined
  /** K */
  readonly step: number | undefined
  readonly coupling: ZoneCoupling
  /** Of this stock and printer, also those that are not reckoned with. */
  readonly readings: readonly FullReading[]
  /** The web over this zone; a problem where it cannot be told. */
  readonly web: Outcome<ZoneWeb>
}

export interface HeatPath {
  /** degC of the room: the middle of the shop's climate. */
  readonly air: number
  /** The zones the printer has or the profile sets, in the order the web passes them. */
  readonly zones: readonly Zone[]
  /** From the last heater to the roll. */
  readonly free: Outcome<ZoneWeb> | undefined
  readonly body: Outcome<WebBody>
  readonly pass: Outcome<PassFacts>
}

export function heatPath(setup: Setup): HeatPath {
  const { printer, profile, shop } = setup
  const [low, high] = shop.climate.temperature.value
  const air = (low + high) / 2
  const body = bodyOf(setup)
  const { pass } = throughputOf(setup)
  const readings = fullReadings(setup)
  const zones: Zone[] = []
  let enter: Range = exactly(air)
  for (const zone of ZONES) {
    const heater = printer?.heaters?.[zone]
    const set = profile.heat?.[zone]
    if (!heater && !set) continue
    const own = readings.filter((r) => r.zone === zone)
    const coupling = couplingOf(used(own), heater, air)
    const stretch = heater ? stretchOf(zone, heater, set, coupling, body, pass) : refuse('heaters', unheated(setup, zone))
    const web = stretch.ok ? overZone({ ...stretch.value, enter, air, coupling }) : stretch
    zones.push({ zone, heater, set, range: rangeOf(heater), step: heater?.step?.value.si, coupling, readings: own, web })
    if (web.ok) enter = web.value.leave
    else if (heater && set) enter = between(enter, set.value.si)
  }
  const last = zones.find((z) => z.zone === 'after' && z.heater && !z.set)?.web
  const free = last && !last.ok ? last : freePath(setup, body, pass, enter, air)
  return { air, zones, free, body, pass }
}

/** m of web between the print and the roll that lie over the heater behind the platen, and m that lie free. */
export function dryingLengths({ printer }: Setup): Outcome<{ readonly heated: number; readonly free: number }> {
  const path = printer?.drying?.['path-to-winding']?.value.si
  if (path === undefined) return refuse('path-to-winding', 'the printer does not give its drying.path-to-winding')
  if (!(path > 0)) return refuse('path-to-winding', 'the path to winding of the printer must be above zero')
  const heated = Math.min(path, Math.max(0, printer?.heaters?.after?.length?.value.si ?? 0))
  return ok({ heated, free: path - heated })
}

function bodyOf({ material, stock }: Setup): Outcome<WebBody> {
  if (!stock) return refuse('stock', 'the stock is not known')
  const grammage = material.grammage()?.range.typical
  if (grammage === undefined)
    return refuse('grammage', 'the stock gives neither its grammage nor a thickness and family to reckon it from')
  const heatCapacity = material.property('heat-capacity')?.range
  if (!heatCapacity)
    return refuse('heat-capacity', 'the stock gives neither its heat capacity nor a family to take a typical one from')
  const conductivity = material.property('conductivity')?.range
  const { thickness } = material
  return ok({
    grammage,
    heatCapacity,
    ...(thickness !== undefined && { thickness }),
    ...(conductivity && { conductivity }),
  })
}

function couplingOf(readings: readonly FullReading[], heater: Heater | undefined, air: number): ZoneCoupling {
  const fit = readings.length > 0 ? fitCoupling({ readings, air, airLoss: AIR_LOSS }) : undefined
  if (fit?.ok) {
    const loss = AIR_LOSS.typical
    const range = mapRange(fit.value.share, (share) => (loss * share) / (1 - share))
    return { range, airLoss: exactly(loss), origin: 'readings', fit: fit.value, unfitted: undefined }
  }
  const unfitted = fit && !fit.ok ? fit.problem.reason : undefined
  const given = heater?.coupling?.value
  if (!given || !(given.si > 0))
    return { range: CONTACT_COUPLING, airLoss: AIR_LOSS, origin: 'typical', fit: undefined, unfitted }
  return {
    range: within(given.si, given.uncertainty),
    airLoss: AIR_LOSS,
    origin: 'printer',
    fit: undefined,
    unfitted,
  }
}

interface Passage {
  readonly body: WebBody
  readonly stretch: Stretch & { readonly kind: 'zone' }
  readonly webSpeed: number
}

function unheated({ printer }: Setup, zone: ZoneName): string {
  if (!printer) return 'the printer is not known'
  return printer.heaters ? `the printer has no ${HEATER[zone]}` : 'the printer does not give its heaters'
}

function stretchOf(
  zone: ZoneName,
  heater: Heater,
  set: Q<'temperature'> | undefined,
  coupling: ZoneCoupling,
  body: Outcome<WebBody>,
  pass: Outcome<PassFacts>,
): Outcome<Passage> {
  const length = heater.length?.value.si
  if (length === undefined) return refuse('heaters', `the printer does not give the length of its ${HEATER[zone]}`)
  if (!set) return refuse(`heat.${zone}`, `heat.${zone} is not given`)
  if (!body.ok) return body
  if (!pass.ok) return pass
  const stretch = { kind: 'zone' as const, name: zone, length, coupling: coupling.range, set: set.value.si }
  return ok({ body: body.value, stretch, webSpeed: pass.value.webSpeed })
}

/** Where a zone is, in words that stand behind "the web" and "the heater". */
export const WHERE: Readonly<Record<ZoneName, string>> = {
  before: 'ahead of the platen',
  platen: 'on the platen',
  after: 'behind the platen',
}

export const HEATER: Readonly<Record<ZoneName, string>> = {
  before: 'heater ahead of the platen',
  platen: 'heater of the platen',
  after: 'heater behind the platen',
}

/** Times that the slowest change must fit into the dwell for a web to count as settled: e^-5 is below 1 %. */
export const SETTLED = 5

function overZone(input: Passage & { enter: Range; air: number; coupling: ZoneCoupling }): Outcome<ZoneWeb> {
  const { body, stretch, webSpeed, enter, air, coupling } = input
  const first = (web: WebBody): Outcome<ZoneWeb> => {
    const path = webPath({ ...web, stretches: [stretch], webSpeed, air, enter, airLoss: coupling.airLoss })
    return path.ok ? ok(path.value[0]!) : path
  }
  const plain = first(body)
  if (plain.ok || plain.problem.input !== 'thickness' || coupling.origin !== 'readings') return plain
  // Too thick for one temperature. But where its face was read over this heater and it stays long enough for its inside to follow
  // (the lumped time and thickness squared over diffusivity, one after the other), it settles where it was read.
  const { grammage, heatCapacity, thickness = 0, conductivity } = body
  const cp = typeof heatCapacity === 'number' ? heatCapacity : heatCapacity.high
  const lambda = typeof conductivity === 'number' ? conductivity : conductivity!.low
  const slowest = grammage * cp * (1 / coupling.range.low + thickness / lambda)
  if (!(stretch.length / webSpeed > SETTLED * slowest)) return plain
  const face = first({ grammage, heatCapacity })
  return face.ok ? ok({ ...face.value, trust: 'face' }) : face
}

function freePath(
  setup: Setup,
  body: Outcome<WebBody>,
  pass: Outcome<PassFacts>,
  enter: Range,
  air: number,
): Outcome<ZoneWeb> | undefined {
  const lengths = dryingLengths(setup)
  if (!lengths.ok || lengths.value.free <= 0) return undefined
  if (!body.ok) return body
  if (!pass.ok) return pass
  const stretches = [{ kind: 'free' as const, name: 'free', length: lengths.value.free }]
  const path = webPath({ ...body.value, stretches, webSpeed: pass.value.webSpeed, air, enter })
  return path.ok ? ok(path.value[0]!) : path
}

function rangeOf(heater: Heater | undefined): readonly [number, number] | undefined {
  const [low, high] = heater?.range?.items ?? []
  return low && high && low.value.si <= high.value.si ? [low.value.si, high.value.si] : undefined
}

/** All that is known of a web that left an unknown zone: it lies between what it was and what the heater is. */
function between(enter: Range, set: number): Range {
  const [low, high] = [Math.min(enter.low, set), Math.max(enter.high, set)]
  return { low, typical: (low + high) / 2, high }
}
