// Where drops land: the offset between the two directions of travel and what changes it, and what the picks of an alignment print
// say of each channel.
import { type Outcome, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, type Range } from './range.ts'

/** What the formula leaves out; to be shown wherever its number is. */
export const DRAG_CAUTION =
  'A starting value and a sensitivity, not a calibration. In still air drag slows a drop along its path without bending it, so the speed at the nozzle is ' +
  'the one that counts; air dragged along by the head carries the drop further, up to a fifth more than this for 6 to 20 pL at a gap of 1 to 2 mm and ' +
  'more for smaller, slower drops. Print the alignment pattern and take what it shows.'

interface LandingInput {
  /** m/s */
  readonly carriageSpeed: number
  /** m from nozzle to media surface. */
  readonly gap: number
  /** m/s at the nozzle. */
  readonly dropSpeed: number | Range
}

export interface TwoWayOffset {
  /** m between where one drop lands going out and coming back, with no compensation. */
  readonly offset: Range
  /** s by which to fire early in each direction. */
  readonly early: Range
  /** m of offset per m of gap. */
  readonly perGap: Range
  /** m of offset per m/s of carriage speed. */
  readonly perCarriageSpeed: Range
  /** m of offset per m/s of drop speed; below zero, faster drops land closer. */
  readonly perDropSpeed: Range
}

/**
 * Two-way landing offset 2 x carriage speed x gap / drop speed, and its sensitivities. A lower bound of what is seen: {@link
 * DRAG_CAUTION}.
 * Valid for single drops (no tail or satellites) at steady speed. Source: straight flight in still air (elementary mechanics).
 * Errors: missing, not finite, out of order, zero or negative.
 */
export function twoWayOffset(input: LandingInput): Outcome<TwoWayOffset> {
  const { carriageSpeed, gap, dropSpeed } = input
  const refusal = refusalOf({ carriageSpeed, gap, dropSpeed }, { positive: ['carriageSpeed', 'gap', 'dropSpeed'] })
  if (refusal) return refusal
  const over = (f: (v: number) => number) => combineRanges({ v: asRange(dropSpeed) }, ({ v }) => f(v))
  return finished('dropSpeed', {
    offset: over((v) => (2 * carriageSpeed * gap) / v),
    early: over((v) => gap / v),
    perGap: over((v) => (2 * carriageSpeed) / v),
    perCarriageSpeed: over((v) => (2 * gap) / v),
    perDropSpeed: over((v) => (-2 * carriageSpeed * gap) / (v * v)),
  })
}

interface OffsetChange {
  /** m by which the two directions move apart (above zero) or cross (below zero), against an alignment made before. */
  readonly change: Range
  /** m from nozzle to media surface that is left. */
  readonly gap: number
}

/**
 * How the two-way offset changes when the gap, the media's thickness, its edge or the carriage speed is no longer what the
 * alignment was made at. `gap` is the one of the alignment; `gapChange` moves the head, `thicknessChange` (thicker above zero)
 * and `edgeRise` lift the media towards it, all in m; `carriageSpeedChange` in m/s. Exact differences of {@link twoWayOffset}.
 * Refuses a change that leaves no gap (the head would touch) or no carriage speed, and what {@link twoWayOffset} refuses.
 */
export function offsetChange(
  input: LandingInput & { gapChange?: number; thicknessChange?: number; edgeRise?: number; carriageSpeedChange?: number },
): Outcome<OffsetChange> {
  const { carriageSpeed, gap, dropSpeed, gapChange = 0, thicknessChange = 0, edgeRise = 0, carriageSpeedChange = 0 } = input
  const refusal = refusalOf(
    { carriageSpeed, gap, dropSpeed, gapChange, thicknessChange, edgeRise, carriageSpeedChange },
    { positive: ['carriageSpeed', 'gap', 'dropSpeed'] },
  )
  if (refusal) return refusal
  const left = gap + gapChange - thicknessChange - edgeRise
  if (left <= 0) return refuse('gap', 'nothing is left of the gap: the head would touch the media')
  const speed = carriageSpeed + carriageSpeedChange
  if (speed <= 0) return refuse('carriageSpeedChange', 'the carriage would stand still or run backwards')
  const change = combineRanges({ v: asRange(dropSpeed) }, ({ v }) => (2 * (speed * left - carriageSpeed * gap)) / v)
  return finished('gapChange', { change, gap: left })
}

/**
 * An offset across the media (m) in pixels: `resolutionAcross` in dots per m is the resolution along the carriage's travel, not
 * along the feed. Errors: missing, not finite, out of order; a resolution of zero or below.
 */
export function offsetInPixels(input: { offset: number | Range; resolutionAcross: number }): Outcome<Range> {
  const { offset, resolutionAcross } = input
  const refusal = refusalOf({ offset, resolutionAcross }, { positive: ['resolutionAcross'] })
  return (
    refusal ??
    finished(
      'offset',
      combineRanges({ offset: asRange(offset) }, (v) => v.offset * resolutionAcross),
    )
  )
}

interface ChannelPick {
  readonly channel: string
  /** m: pick x step. */
  readonly offset: number
  /** m from the median of all channels. */
  readonly deviation: number
}

export interface PickSpread {
  readonly channels: readonly ChannelPick[]
  /** m */
  readonly median: number
  /** m from the least to the greatest. */
  readonly spread: number
  /** Channels that stand apart from the rest, furthest first; none when fewer than three were picked. */
  readonly apart: readonly ChannelPick[]
}

/** Patches: a pick is a whole patch, so it says no more than this. */
const PICK_RESOLUTION = 0.5
/** Robust deviations from the median that count as apart (Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers). */
const APART = 3.5
/** Median absolute deviation to standard deviation, for a normal distribution. */
const MAD_TO_SIGMA = 1.4826

/**
 * What the picks of an alignment print say: each pick (patch number, may be a fraction, may be below zero) times `step` m. A
 * channel stands apart when it is more than 3.5 robust deviations from the median, a deviation being no less than half a step
 * since picks are whole patches. Fewer than three channels cannot tell which of them is the odd one.
 * Source: modified z-score, Iglewicz & Hoaglin 1993. Errors: no picks; a pick that is no finite number; a step of zero or below.
 */
export function channelOffsets(input: { picks: Readonly<Record<string, number>>; step: number }): Outcome<PickSpread> {
  const { picks, step } = input
  const refusal = refusalOf({ step }, { positive: ['step'] })
  if (refusal) return refusal
  const named = Object.entries(picks ?? {})
  if (named.length === 0) return refuse('picks', 'no channel has a pick')
  const wrong = named.find(([, pick]) => !Number.isFinite(pick))
  if (wrong) return refuse(wrong[0], `the pick of ${wrong[0]} is not a number`)
  const offsets = named.map(([, pick]) => pick * step)
  const middle = median(offsets)
  const channels = named.map(([channel], i) => ({ channel, offset: offsets[i]!, deviation: offsets[i]! - middle }))
  const scatter = Math.max(MAD_TO_SIGMA * median(channels.map((c) => Math.abs(c.deviation))), PICK_RESOLUTION * step)
  const apart = named.length < 3 ? [] : channels.filter((c) => Math.abs(c.deviation) > APART * scatter)
  apart.sort((a, b) => Math.abs(b.deviation) - Math.abs(a.deviation))
  return finished('step', { channels, median: middle, spread: Math.max(...offsets) - Math.min(...offsets), apart })
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length / 2
  return Number.isInteger(half) ? sorted[half - 1]! / 2 + sorted[half]! / 2 : sorted[Math.floor(half)]!
}
