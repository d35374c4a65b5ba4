// Drying in a setup: whether the print is dry to the touch when it is wound, what pause would make it so, and how much ink there is
// to dry. Typical drying rules are ranges, so the results are.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import type { AdvancePlan } from '../../calc/advance.ts'
import {
  type DryingMargin,
  dryingMargin,
  HALVING_STEP,
  pauseToDry,
  type TimeToWinding,
  timeToTouchDry,
  timeToWinding,
} from '../../calc/drying.ts'
import { AIR_LOSS } from '../../calc/heat.ts'
import { combineRanges, type Range } from '../../calc/range.ts'
import type { Setup } from '../../model/setup.ts'
import { type PassFacts, throughputOf } from '../advance/facts.ts'
import { type HeatFacts, heatOf } from '../heat/facts.ts'
import { dryingLengths, type ZoneWeb } from '../heat/path.ts'

/** How long the web is how warm between print and roll. */
export interface DryingStretch {
  readonly name: 'after' | 'free'
  /** Share of the way. */
  readonly share: number
  /** degC, the mean over it. */
  readonly mean: Range
}

export interface DryingFacts {
  readonly pass: Outcome<PassFacts>
  readonly winding: Outcome<TimeToWinding>
  readonly stretches: Outcome<readonly DryingStretch[]>
  /** s to touch-dry at the mean rate of this way, which a slower web takes as long for; `stretched` where the rule is used far from the stock's own statement. */
  readonly needed: Outcome<{ readonly time: Range; readonly stretched: boolean }>
  /** s from print to touch-dry as the web walks its way, stretch by stretch; where it is wound before that, what `needed` says. */
  readonly dry: Outcome<Range>
  readonly margin: DryingMargin | undefined
  /** s of pause after each pass with which a web is just touch-dry when it is wound. */
  readonly pauseToDry: Range | undefined
  /** s the last print has, held and then wound at once; and s it needs at the warmest place of the way. */
  readonly last: { readonly available: number; readonly needed: Range; readonly wound: number } | undefined
  /** What the last print needs where the run-out holds it. */
  readonly held: Outcome<HeldPrint>
  readonly pauseRange: readonly [number, number] | undefined
  readonly runOutRange: readonly [number, number] | undefined
  readonly ink: Outcome<InkLoad>
}

/** The last print stands on the platen for the run-out. What the way to the roll dries in the few seconds after it is not counted. */
export interface HeldPrint {
  /** `unset` where the profile does not say what its heater is set to; it is then taken as cold as the room, as where it has none. */
  readonly where: 'heated' | 'unheated' | 'unset'
  /** degC */
  readonly temperature: Range
  /** s to touch-dry there. */
  readonly needed: Range
  /** Whether that is far from the temperature the stock's own time was stated at. */
  readonly stretched: boolean
}

/** Estimate: every dot of the mode taken as one drop of the printer's volume. */
export interface InkLoad {
  /** m3/m2 at the ink limit. */
  readonly perArea: number
  /** m3/s where the whole width is printed at the ink limit. */
  readonly rate: number | undefined
  readonly limit: number
  readonly strikes: number
}

/** The drying of a setup, reckoned once. Never throws; what cannot be told is a problem that names the key to fill in. */
export const dryingOf: (setup: Setup) => DryingFacts = recorded('drying', reckon)

function reckon(setup: Setup): DryingFacts {
  const { printer } = setup
  const { pass, plan } = throughputOf(setup)
  const winding = windingOf(setup, plan, pass)
  const stretches = stretchesOf(setup)
  const needed = neededOf(setup, stretches)
  const both = winding.ok && needed.ok ? { winding: winding.value, needed: needed.value } : undefined
  const dry = both ? dryOf(setup, stretches, both.winding.running) : needed.ok ? ok(needed.value.time) : needed
  const margin = both && dry.ok ? dryingMargin({ available: both.winding.running, needed: dry.value }) : undefined
  return {
    pass,
    winding,
    stretches,
    needed,
    dry,
    margin: margin?.ok ? margin.value : undefined,
    pauseToDry: both && pauseOf(setup, plan, pass, both.needed.time),
    last: lastOf(setup, stretches),
    held: heldOf(setup),
    pauseRange: pairOf(printer?.drying?.['pause-range']?.items),
    runOutRange: pairOf(printer?.drying?.['run-out-range']?.items),
    ink: inkOf(setup, pass),
  }
}

function windingOf({ profile, printer }: Setup, plan: Outcome<AdvancePlan>, pass: Outcome<PassFacts>): Outcome<TimeToWinding> {
  if (!plan.ok) return plan
  if (!pass.ok) return pass
  const pathToWinding = printer?.drying?.['path-to-winding']?.value.si
  if (pathToWinding === undefined) return refuse('path-to-winding', 'the printer does not give its drying.path-to-winding')
  const runOut = Math.max(0, profile.drying?.['run-out']?.value.si ?? 0)
  const { passTime, period } = pass.value
  const { advance } = plan.value
  return timeToWinding({ pathToWinding, advance, passTime, pause: period - passTime, runOut })
}

/** The mean web temperature over the heater behind the platen and over the rest of the way. */
function stretchesOf(setup: Setup): Outcome<readonly DryingStretch[]> {
  const lengths = dryingLengths(setup)
  if (!lengths.ok) return lengths
  const { heated, free } = lengths.value
  const heat = heatOf(setup)
  const out: DryingStretch[] = []
  if (heated > 0) {
    const web = heat.zones.find((z) => z.zone === 'after')!.web
    if (!web.ok) return web
    out.push({ name: 'after', share: heated / (heated + free), mean: meanOf(heat, web.value) })
  }
  if (free > 0) {
    if (!heat.free) return refuse('path-to-winding', 'the way to the roll is not known')
    if (!heat.free.ok) return heat.free
    out.push({ name: 'free', share: free / (heated + free), mean: meanOf(heat, heat.free.value) })
  }
  return ok(out)
}

/**
 * The mean of a temperature that goes to its end value exponentially: T_inf + (T_enter - T_leave) / x with x the dwell in time
 * constants, which for x well above 1 is near the leaving temperature. The time constant is taken at typical values.
 */
function meanOf(heat: HeatFacts, { kind, dwell, enter, leave }: ZoneWeb): Range {
  if (!heat.body.ok) return leave
  const { grammage, heatCapacity } = heat.body.value
  const cp = typeof heatCapacity === 'number' ? heatCapacity : heatCapacity.typical
  const after = heat.zones.find((z) => z.zone === 'after')
  const loss = kind === 'free' ? 2 * AIR_LOSS.typical : AIR_LOSS.typical + (after?.coupling.range.typical ?? 0)
  const x = (dwell * loss) / (grammage * cp)
  if (!(x > 0.01)) return leave
  const left = Math.exp(-x)
  const mean = (from: number, to: number): number => (to - from * left) / (1 - left) + (from - to) / x
  const [low, typical, high] = [mean(enter.low, leave.low), mean(enter.typical, leave.typical), mean(enter.high, leave.high)]
  return { low: Math.min(low, typical, high), typical, high: Math.max(low, typical, high) }
}

/**
 * The time to touch-dry on a way of several temperatures: each stretch dries at its own rate, and the rates add by the share of
 * time spent there (a way that halves the time needed counts double). Its ends are those of the web's temperature and of the
 * halving rule (common practice).
 */
function neededOf(setup: Setup, stretches: Outcome<readonly DryingStretch[]>): DryingFacts['needed'] {
  const stated = statedOf(setup)
  if (!stated.ok) return stated
  const { time, at } = stated.value
  if (!stretches.ok) return stretches
  let stretched = false
  const found = overEnds((end, halving) => {
    let [rate, far] = [0, 0]
    for (const { share, mean } of stretches.value) {
      const dry = timeToTouchDry({ time, at, temperature: mean[end], halving })
      if (!dry.ok) return dry
      rate += share / dry.value.time.typical
      if (dry.value.stretched) far += share / dry.value.time.typical
    }
    stretched ||= far > rate / 2
    return ok(1 / rate)
  })
  return found.ok ? ok({ time: found.value, stretched }) : found
}

/** The time at which it is dry on its way to the roll: first over the heater, where most of the rate is, then through the free air. */
function dryOf({ stock }: Setup, stretches: Outcome<readonly DryingStretch[]>, running: number): Outcome<Range> {
  const dryTouch = stock?.['dry-touch']
  const [time, at] = [dryTouch?.time?.value.si, dryTouch?.at?.value.si]
  if (time === undefined || at === undefined) return refuse('dry-touch', 'the stock does not give its dry-touch')
  if (!stretches.ok) return stretches
  return overEnds((end, halving) => {
    let [done, passed] = [0, 0]
    for (const { share, mean } of stretches.value) {
      const needed = timeToTouchDry({ time, at, temperature: mean[end], halving })
      if (!needed.ok) return needed
      const here = (share * running) / needed.value.time.typical
      if (done + here >= 1) return ok(passed + (1 - done) * needed.value.time.typical)
      done += here
      passed += share * running
    }
    return ok(running / done)
  })
}

/** A time at the typical values, and its ends over those of the web's temperature and of the halving rule. */
function overEnds(at: (end: keyof Range, halving: number) => Outcome<number>): Outcome<Range> {
  const typical = at('typical', HALVING_STEP.typical)
  if (!typical.ok) return typical
  let [low, high] = [typical.value, typical.value]
  for (const end of ['low', 'high'] as const)
    for (const halving of [HALVING_STEP.low, HALVING_STEP.high]) {
      const corner = at(end, halving)
      if (!corner.ok) return corner
      low = Math.min(low, corner.value)
      high = Math.max(high, corner.value)
    }
  if (!Number.isFinite(high)) return refuse('dry-touch', 'at these temperatures no drying time can be reckoned')
  return ok({ low, typical: typical.value, high })
}

/** The stock's own dry-touch. */
function statedOf({ stock }: Setup): Outcome<{ readonly time: number; readonly at: number }> {
  const dryTouch = stock?.['dry-touch']
  const [time, at] = [dryTouch?.time?.value.si, dryTouch?.at?.value.si]
  if (time === undefined || at === undefined)
    return refuse('dry-touch', 'the stock does not give its dry-touch: in what time a print is dry, and at what temperature')
  return ok({ time, at })
}

/**
 * A web that stands for minutes settles where what it takes from the heater is what it loses to the air of the room, at any of the shop's room
 * temperatures: (coupling x set + loss x room) / (coupling + loss). Its face is below that by the loss through it, less than 1 K up to half a millimetre.
 */
function heldOf(setup: Setup): Outcome<HeldPrint> {
  const stated = statedOf(setup)
  if (!stated.ok) return stated
  const platen = heatOf(setup).zones.find((z) => z.zone === 'platen')
  const [low, high] = setup.shop.climate.temperature.value
  const room: Range = { low, typical: (low + high) / 2, high }
  const set = platen?.set?.value.si
  const where = !platen?.heater ? 'unheated' : set === undefined ? 'unset' : 'heated'
  const temperature =
    where === 'heated'
      ? combineRanges(
          { coupling: platen!.coupling.range, loss: platen!.coupling.airLoss, room },
          (v) => (v.coupling * set! + v.loss * v.room) / (v.coupling + v.loss),
        )
      : room
  const dry = timeToTouchDry({ ...stated.value, temperature })
  if (!dry.ok) return dry
  const { time, stretched } = dry.value
  return ok({ where, temperature, needed: time, stretched })
}

function pauseOf({ printer }: Setup, plan: Outcome<AdvancePlan>, pass: Outcome<PassFacts>, needed: Range): Range | undefined {
  if (!plan.ok || !pass.ok) return undefined
  const { passTime } = pass.value
  const { advance } = plan.value
  const pathToWinding = printer?.drying?.['path-to-winding']?.value.si ?? 0
  const pause = pauseToDry({ pathToWinding, advance, passTime, needed })
  return pause.ok ? pause.value : undefined
}

/** The last print at its best: held for the run-out, then wound at the web speed of the profile, as if all of it at the warmest place. */
function lastOf(setup: Setup, stretches: Outcome<readonly DryingStretch[]>): DryingFacts['last'] {
  const { profile, printer, stock } = setup
  const runOut = profile.drying?.['run-out']?.value.si
  const speed = profile.web?.speed?.value.si
  const path = printer?.drying?.['path-to-winding']?.value.si
  const [time, at] = [stock?.['dry-touch']?.time?.value.si, stock?.['dry-touch']?.at?.value.si]
  if (runOut === undefined || !(runOut >= 0) || speed === undefined || !(speed > 0)) return undefined
  if (path === undefined || time === undefined || at === undefined || !stretches.ok) return undefined
  const platen = heatOf(setup).zones.find((z) => z.zone === 'platen')?.web
  const places = [...stretches.value.map((s) => s.mean), ...(platen?.ok ? [platen.value.leave] : [])]
  if (places.length === 0) return undefined
  const temperature = places.reduce((a, b) => (b.typical > a.typical ? b : a))
  const needed = timeToTouchDry({ time, at, temperature })
  const wound = path / speed
  return needed.ok ? { available: runOut + wound, needed: needed.value.time, wound } : undefined
}

function inkOf({ profile, printer, mode }: Setup, pass: Outcome<PassFacts>): Outcome<InkLoad> {
  const volume = printer?.heads?.['drop-volume']?.value.si
  if (volume === undefined) return refuse('drop-volume', 'the printer does not give its heads.drop-volume')
  const resolution = mode?.resolution?.value
  if (resolution === undefined) return refuse('mode', 'the mode does not give its resolution')
  const limit = profile.colour?.['ink-limit']?.value.si
  if (limit === undefined) return refuse('ink-limit', 'the profile does not give its colour.ink-limit')
  const strikes = profile.carriage?.strikes?.value ?? 1
  const perArea = volume * resolution.si * (resolution.second ?? resolution.si) * limit * strikes
  if (!(perArea > 0) || !Number.isFinite(perArea))
    return refuse('ink-limit', 'the ink load cannot be reckoned from these numbers')
  return ok({ perArea, rate: pass.ok ? perArea * pass.value.areaRate : undefined, limit, strikes })
}

function pairOf(
  items: readonly { readonly value: { readonly si: number } }[] | undefined,
): readonly [number, number] | undefined {
  const [low, high] = items ?? []
  return low && high && low.value.si <= high.value.si ? [low.value.si, high.value.si] : undefined
}
