// Where the dots of a setup land: how far drops fly, how far out and back lie apart without compensation, what has changed since the alignment
// was printed, and what its picks say. The gap is from heads to platen, so drops fly the gap less the thickness of the stock.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { furthestPick } from '../../calc/feed-key-in.ts'
import {
  channelOffsets,
  offsetChange,
  offsetInPixels,
  type PickSpread,
  type TwoWayOffset,
  twoWayOffset,
} from '../../calc/landing.ts'
import { exactly, type Range } from '../../calc/range.ts'
import { DAY, daysBetween } from '../../model/dates.ts'
import { differencesIn, differenceText, otherPairing, stateOf } from '../../model/evidence-state.ts'
import type { F, Table } from '../../model/field.ts'
import type { Mode, State } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import { formatQuantity } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'

/** One thing that is no longer as it was when the alignment was printed, and how far that alone moves out and back apart. */
export interface ChangedPart {
  /** SI: m of gap or thickness, m/s of carriage speed. */
  readonly before: number
  readonly now: number
  /** m; above zero further apart. A problem where it cannot be told. */
  readonly shift: Outcome<Range>
}

/** What the landing rests on beside the drops, SI. */
export interface Conditions {
  readonly gap: number | undefined
  readonly thickness: number | undefined
  /** Of the carriage. */
  readonly speed: number | undefined
}

export interface SinceAlignment {
  /** Days before today. */
  readonly age: number | undefined
  /** Why it says nothing of today's settings, so that nothing below is told but the thickness: behind "it was". */
  readonly doubt: LandingDoubt | undefined
  readonly gap: ChangedPart | undefined
  readonly thickness: ChangedPart | undefined
  /** Another mode whose carriage runs at another speed. */
  readonly speed: ChangedPart | undefined
  /** When it was printed and now, each as it is reckoned with: a value within what a gauge can tell from today's is today's. */
  readonly then: Conditions
  readonly now: Conditions
  /** All of it together, m. */
  readonly total: Outcome<Range>
}

/** What no shift can bridge: settings that are not known, another stock or printer, a setting that is lacking, or a mode that prints otherwise. */
export interface LandingDoubt {
  readonly kind: 'state' | 'pairing' | 'setting' | 'mode'
  /** Behind "it was". */
  readonly reason: string
}

/** The picks of an alignment: inks to each other, and out to back. */
export const WAYS = ['one-way', 'two-way'] as const
export type Way = (typeof WAYS)[number]

export interface LandingFacts {
  /** m from nozzle to stock. */
  readonly flight: Outcome<number>
  /** m/s */
  readonly dropSpeed: Range | undefined
  readonly carriageSpeed: number | undefined
  readonly twoWay: boolean | undefined
  readonly offset: Outcome<TwoWayOffset>
  /** The offset, in pixels across. */
  readonly pixels: Outcome<Range>
  /** Dots per m across the web, along the carriage's travel. */
  readonly resolutionAcross: number | undefined
  /** The shop's tolerance of registration, m. */
  readonly tolerance: number
  readonly recheckDays: number
  /** Undefined without an alignment. */
  readonly since: SinceAlignment | undefined
  readonly picks: Readonly<Record<Way, Outcome<PickSpread> | undefined>>
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
  const step = printer?.alignment?.step?.value.si
  const patches = printer?.alignment?.patches?.value
  const { alignment } = own
  const resolutionAcross = mode?.resolution?.value.si
  const offset = offsetOf(flight, dropSpeed, carriageSpeed)
  return {
    flight,
    dropSpeed,
    carriageSpeed,
    twoWay: mode?.directions && mode.directions.value === 'two-way',
    offset,
    pixels: offset.ok ? pixelsOf({ resolutionAcross }, offset.value.offset) : offset,
    resolutionAcross,
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

/** How many pixels across an offset is. */
export const pixelsOf = ({ resolutionAcross }: Pick<LandingFacts, 'resolutionAcross'>, offset: number | Range): Outcome<Range> =>
  resolutionAcross === undefined
    ? refuse('mode', 'the mode does not give its resolution')
    : offsetInPixels({ offset, resolutionAcross })

/** The settings that a landing rests on beside stock and printer. */
const RESTS_ON: ReadonlySet<string> = new Set(['mode', 'gap'])

/** Settings are those of its state; a stock is as thick as its document says, where the alignment says nothing else. */
function sinceAlignment(setup: Setup, dropSpeed: Range | undefined, carriageSpeed: number | undefined): SinceAlignment {
  const { own, profile, printer, material } = setup
  const alignment = own.alignment!
  const asOfToday: Conditions = { gap: profile.gap?.value.si, thickness: material.thickness, speed: carriageSpeed }
  const found = stateOf(setup, alignment.under)
  const doubt: LandingDoubt | undefined = found.ok ? doubtIn(setup, found.value) : { kind: 'state', reason: found.problem.reason }
  // A height and a mode of another machine have nothing to do with these.
  const state = found.ok && doubt?.kind !== 'pairing' ? found.value : undefined
  const mode = state?.mode && printer?.modes?.entries.get(state.mode.value)
  const then: Conditions = {
    gap: state?.gap?.value.si,
    thickness: alignment.thickness?.value.si ?? asOfToday.thickness,
    speed: mode?.['carriage-speed']?.value.si,
  }
  const flightThen = flightOf(then.gap, then.thickness)
  const shift = (change: Changes): Outcome<Range> => {
    if (doubt) return refuse('alignment.under', `the alignment was ${doubt.reason}`)
    if (!flightThen.ok) return flightThen
    if (dropSpeed === undefined) return refuse('heads.drop-speed', 'the printer does not give the speed of its drops')
    if (then.speed === undefined) return refuse('carriage-speed', 'the mode does not give its carriage speed')
    const found = offsetChange({ carriageSpeed: then.speed, gap: flightThen.value, dropSpeed, ...change })
    return found.ok ? ok(found.value.change) : found
  }
  const gapChange = changed(then.gap, asOfToday.gap, SAME_LENGTH)
  const thicknessChange = changed(then.thickness, asOfToday.thickness, SAME_LENGTH)
  const carriageSpeedChange = changed(then.speed, asOfToday.speed, 1e-6)
  const part = (key: keyof Conditions, change: Changes): ChangedPart | undefined =>
    Object.values(change)[0] === 0 ? undefined : { before: then[key]!, now: asOfToday[key]!, shift: shift(change) }
  return {
    age: alignment.date && daysBetween(alignment.date.value, setup.today),
    doubt,
    gap: part('gap', { gapChange }),
    thickness: part('thickness', { thicknessChange }),
    speed: part('speed', { carriageSpeedChange }),
    then,
    now: {
      gap: gapChange === 0 ? then.gap : asOfToday.gap,
      thickness: thicknessChange === 0 ? then.thickness : asOfToday.thickness,
      speed: carriageSpeedChange === 0 ? then.speed : asOfToday.speed,
    },
    total: shift({ gapChange, thicknessChange, carriageSpeedChange }),
  }
}

function doubtIn(setup: Setup, state: State): LandingDoubt | undefined {
  const elsewhere = otherPairing(setup, state)
  if (elsewhere) return { kind: 'pairing', reason: elsewhere }
  const lacking = differencesIn(setup, state, RESTS_ON).find(({ kind }) => kind !== 'differs')
  if (lacking) return { kind: 'setting', reason: differenceText(lacking) }
  const [then, now] = [state.mode?.value, setup.profile.mode?.value]
  if (then === undefined || now === undefined || then === now) return undefined
  const modes = setup.printer?.modes?.entries
  const [before, today] = [modes?.get(then), modes?.get(now)]
  return printsAlike(before, today)
    ? undefined
    : { kind: 'mode', reason: `made in ${modeText(then, before)}, and ${modeText(now, today)} is another way to print` }
}

/** Whether two modes lay dots on the same grid from the same sides; carriage speed apart. */
const printsAlike = (a: Mode | undefined, b: Mode | undefined): boolean =>
  a?.directions !== undefined &&
  a.directions.value === b?.directions?.value &&
  a.resolution !== undefined &&
  a.resolution.value.si === b.resolution?.value.si &&
  a.resolution.value.second === b.resolution.value.second

/** "half (720 x 720 dpi, two-way)" */
function modeText(name: string, mode: Mode | undefined): string {
  const told = [mode?.resolution && formatQuantity(mode.resolution.value), mode?.directions?.value].filter((t) => t !== undefined)
  return told.length > 0 ? `${name} (${told.join(', ')})` : name
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

/** Whether anything that has changed since the alignment makes it void: a shift beyond the tolerance, or what no shift can bridge. */
export function isVoid({ since, tolerance, twoWay }: LandingFacts): boolean {
  if (since?.doubt && since.doubt.kind !== 'state') return true
  if (!since || twoWay !== true) return false
  return [since.gap, since.thickness, since.speed].some((part) => part && isBeyond(part.shift, tolerance))
}
