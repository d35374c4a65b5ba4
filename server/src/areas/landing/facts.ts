// Where the dots of a setup land: how far drops fly, how far out and back lie apart without compensation, what has changed since the alignment
// was printed, and what its picks say. The gap is from heads to platen, so drops fly the gap less the thickness of the stock.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { furthestPick } from '../../calc/feed-key-in.ts'
import { channelOffsets, offsetChange, type PickSpread, type TwoWayOffset, twoWayOffset } from '../../calc/landing.ts'
import { exactly, type Range } from '../../calc/range.ts'
import { DAY, daysBetween } from '../../model/dates.ts'
import type { F, Table } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'
import type { Quantity } from '../../quantities/quantity.ts'

/** One thing that is no longer as it was when the alignment was printed, and how far that alone moves out and back apart. */
export interface ChangedPart {
  /** SI: m of gap or thickness, m/s of carriage speed. */
  readonly before: number
  readonly now: number
  /** m; above zero further apart. A problem where it cannot be told. */
  readonly shift: Outcome<Range>
}

export interface SinceAlignment {
  /** Days before today. */
  readonly age: number | undefined
  readonly gap: ChangedPart | undefined
  readonly thickness: ChangedPart | undefined
  /** Another mode whose carriage runs at another speed. */
  readonly speed: ChangedPart | undefined
  /** All of it together, m. */
  readonly total: Outcome<Range>
}

export interface LandingFacts {
  /** m from nozzle to stock. */
  readonly flight: Outcome<number>
  /** m/s */
  readonly dropSpeed: Range | undefined
  readonly carriageSpeed: number | undefined
  readonly twoWay: boolean | undefined
  readonly offset: Outcome<TwoWayOffset>
  /** m from dot to dot across the web, along the carriage's travel. */
  readonly pixel: number | undefined
  /** The shop's tolerance of registration, m. */
  readonly tolerance: number
  readonly recheckDays: number
  /** Undefined without an alignment. */
  readonly since: SinceAlignment | undefined
  readonly picks: { readonly 'one-way': Outcome<PickSpread> | undefined; readonly 'two-way': Outcome<PickSpread> | undefined }
  /** The furthest pick the printer's pattern has on either side of the middle. */
  readonly furthestPick: number | undefined
}

/** The landing facts of a setup, reckoned once. Never throws; what is missing is told as the problem of what needs it. */
export const landingOf: (setup: Setup) => LandingFacts = recorded('landing', reckon)

/** Gaps and thicknesses nearer than this are the same: no lever and no gauge tells them apart. */
export const SAME_LENGTH = 1e-6

/** m that an even, well held web still needs below the heads: common practice. */
export const LEAST_FLIGHT = 0.5e-3

function reckon(setup: Setup): LandingFacts {
  const { profile, own, printer, mode, shop, material } = setup
  const flight = flightOf(profile.gap?.value.si, material.thickness)
  const dropSpeed = rangeOf(printer?.heads?.['drop-speed'])
  const carriageSpeed = mode?.['carriage-speed']?.value.si
  const across = mode?.resolution?.value.si
  const step = printer?.alignment?.step?.value.si
  const patches = printer?.alignment?.patches?.value
  const { alignment } = own
  return {
    flight,
    dropSpeed,
    carriageSpeed,
    twoWay: mode?.directions && mode.directions.value === 'two-way',
    offset: offsetOf(flight, dropSpeed, carriageSpeed),
    pixel: across !== undefined && across > 0 ? 1 / across : undefined,
    tolerance: shop.tolerance.registration.value,
    recheckDays: shop.recheck.alignment.value / DAY,
    since: alignment && sinceAlignment(setup, dropSpeed, carriageSpeed),
    picks: { 'one-way': picksOf(alignment?.['one-way'], step), 'two-way': picksOf(alignment?.['two-way'], step) },
    furthestPick: patches === undefined ? undefined : furthestPick(patches),
  }
}

function flightOf(gap: number | undefined, thickness: number | undefined): Outcome<number> {
  if (gap === undefined) return refuse('gap', 'the profile gives no gap')
  if (thickness === undefined) return refuse('thickness', 'the stock gives no thickness')
  return gap > thickness ? ok(gap - thickness) : refuse('gap', 'nothing is left of the gap: the heads would touch the stock')
}

function offsetOf(
  flight: Outcome<number>,
  dropSpeed: Range | undefined,
  carriageSpeed: number | undefined,
): Outcome<TwoWayOffset> {
  if (!flight.ok) return flight
  if (carriageSpeed === undefined) return refuse('carriage-speed', 'the mode does not give its carriage speed')
  if (dropSpeed === undefined) return refuse('heads.drop-speed', 'the printer does not give the speed of its drops')
  return twoWayOffset({ carriageSpeed, gap: flight.value, dropSpeed })
}

/** What the alignment does not note is taken to be as it is today. */
function sinceAlignment(setup: Setup, dropSpeed: Range | undefined, speedNow: number | undefined): SinceAlignment {
  const { own, profile, printer, material, today } = setup
  const alignment = own.alignment!
  const [gapNow, thicknessNow] = [profile.gap?.value.si, material.thickness]
  const gapThen = alignment.gap?.value.si ?? gapNow
  const thicknessThen = alignment.thickness?.value.si ?? thicknessNow
  const modeThen = alignment.mode && printer?.modes?.entries.get(alignment.mode.value)
  const speedThen = modeThen?.['carriage-speed']?.value.si ?? speedNow
  const flightThen = flightOf(gapThen, thicknessThen)
  const shift = (change: Changes): Outcome<Range> => {
    if (!flightThen.ok) return flightThen
    if (dropSpeed === undefined) return refuse('heads.drop-speed', 'the printer does not give the speed of its drops')
    if (speedThen === undefined) return refuse('carriage-speed', 'the mode does not give its carriage speed')
    const found = offsetChange({ carriageSpeed: speedThen, gap: flightThen.value, dropSpeed, ...change })
    return found.ok ? ok(found.value.change) : found
  }
  const gapChange = changed(gapThen, gapNow, SAME_LENGTH)
  const thicknessChange = changed(thicknessThen, thicknessNow, SAME_LENGTH)
  const carriageSpeedChange = changed(speedThen, speedNow, 1e-6)
  const part = (before: number | undefined, now: number | undefined, change: Changes): ChangedPart | undefined =>
    Object.values(change)[0] === 0 ? undefined : { before: before!, now: now!, shift: shift(change) }
  return {
    age: alignment.date && daysBetween(alignment.date.value, today),
    gap: part(gapThen, gapNow, { gapChange }),
    thickness: part(thicknessThen, thicknessNow, { thicknessChange }),
    speed: part(speedThen, speedNow, { carriageSpeedChange }),
    total: shift({ gapChange, thicknessChange, carriageSpeedChange }),
  }
}

type Changes = Partial<Record<'gapChange' | 'thicknessChange' | 'carriageSpeedChange', number>>

/** Now less then; 0 where either is unknown or they are the same. */
const changed = (then: number | undefined, now: number | undefined, same: number): number =>
  then === undefined || now === undefined || Math.abs(now - then) <= same ? 0 : now - then

function picksOf(table: Table<F<number>> | undefined, step: number | undefined): Outcome<PickSpread> | undefined {
  if (!table || table.entries.size === 0) return undefined
  if (step === undefined) return refuse('alignment.step', 'the printer does not give the step of its alignment pattern')
  return channelOffsets({ picks: Object.fromEntries([...table.entries].map(([ink, pick]) => [ink, pick.value])), step })
}

function rangeOf(field: F<Quantity> | undefined): Range | undefined {
  if (!field) return undefined
  const { si, uncertainty = 0 } = field.value
  return uncertainty > 0 && si > uncertainty ? { low: si - uncertainty, typical: si, high: si + uncertainty } : exactly(si)
}

/** Whether a change is more than the shop's tolerance over its whole range; false where it cannot be told. */
export const isBeyond = (shift: Outcome<Range>, tolerance: number): boolean =>
  shift.ok && (shift.value.low > tolerance || shift.value.high < -tolerance)

/** Whether anything that has changed since the alignment makes it void. */
export function isVoid({ since, tolerance, twoWay }: LandingFacts): boolean {
  if (!since || twoWay !== true) return false
  return [since.gap, since.thickness, since.speed].some((part) => part && isBeyond(part.shift, tolerance))
}
