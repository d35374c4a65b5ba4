// How a head covers the media: pitches, interlace, advance per pass, whether every raster line is printed, and what it makes per
// hour. Lengths in m, resolution in dots per m, times in s. No published worked example exists for this topic; the tests derive
// and simulate.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'

/** How often each raster line is met by a nozzle, when the advance is the same after every pass. */
export type Coverage =
  | { readonly kind: 'every-line' /** Passes that may print each line. */; readonly times: number }
  | { readonly kind: 'gaps' /** Share of lines that no nozzle meets (0..1). */; readonly missed: number }
  | { readonly kind: 'uneven'; readonly fewest: number; readonly most: number }
  | { readonly kind: 'part-line' /** The advance is no whole number of raster lines. */; readonly lines: number }
  | { readonly kind: 'off-grid' /** The nozzle pitch is no whole number of raster lines. */; readonly interlace: number }

export interface AdvancePlan {
  /** m, made a whole number of raster lines when within 0.5 % of one. */
  readonly nozzlePitch: number
  /** m, along the feed. */
  readonly rasterPitch: number
  /** Raster lines from one nozzle to the next (k). */
  readonly interlace: number
  /** m, height printed by one pass: nozzles x nozzle pitch. */
  readonly swath: number
  /** Passes over each part of the media: passes of the mode x strikes. */
  readonly passes: number
  /** m the media moves after each pass: swath / passes. */
  readonly advance: number
  readonly linesPerAdvance: number
  readonly coverage: Coverage
  /** The most nozzles, no more than there are, with which equal advances print every line equally often; absent when none do. */
  readonly evenNozzles?: number
}

/** A typed nozzle pitch is rounded (0.141 mm for 180 to the inch), so an interlace this near to a whole number is taken as it. */
const PITCH_ROUNDING = 0.005

/**
 * The advance of a mode. `nozzlePitch` in m and `nozzles` of one channel along the feed, all staggered rows counted as one line
 * of nozzles; `resolutionAlong` in dots per m; `passes` of the mode; `strikes` prints each line that many times over and so
 * multiplies the passes.
 * Valid for an equal advance after every pass; a machine that alternates its advances or masks nozzles may cover where this says
 * gaps. Source: derived; see {@link coverage}. Errors: missing, not finite; a pitch or resolution of zero or below; a count that is no
 * whole number from 1; a pitch too far from the resolution to compute with.
 */
export function advancePlan(input: {
  nozzlePitch: number
  nozzles: number
  resolutionAlong: number
  passes: number
  strikes?: number
}): Outcome<AdvancePlan> {
  const { nozzlePitch, nozzles, resolutionAlong, passes, strikes = 1 } = input
  const refusal = refusalOf(
    { nozzlePitch, nozzles, resolutionAlong, passes, strikes },
    { positive: ['nozzlePitch', 'resolutionAlong'], count: ['nozzles', 'passes', 'strikes'] },
  )
  if (refusal) return refusal
  const rasterPitch = 1 / resolutionAlong
  const typed = nozzlePitch * resolutionAlong
  const whole = Math.round(typed)
  const interlace = whole >= 1 && Math.abs(typed - whole) <= PITCH_ROUNDING * whole ? whole : typed
  const pitch = interlace * rasterPitch
  const total = passes * strikes
  const linesPerAdvance = (nozzles * interlace) / total
  const covered = coverage({ nozzles, interlace, linesPerAdvance })
  if (!covered.ok) return refuse('nozzlePitch', 'the nozzle pitch does not fit the resolution along the feed')
  const evenNozzles = mostEvenNozzles(nozzles, interlace, total)
  const plan = {
    nozzlePitch: pitch,
    rasterPitch,
    interlace,
    swath: nozzles * pitch,
    passes: total,
    advance: (nozzles * pitch) / total,
    linesPerAdvance,
    coverage: covered.value,
  }
  return finished('nozzlePitch', evenNozzles === undefined ? plan : { ...plan, evenNozzles })
}

/**
 * Whether `nozzles` nozzles standing `interlace` raster lines apart meet every line when the media moves `linesPerAdvance` lines
 * after each pass. The rule: with a the advance and k the interlace, every line is met equally often when gcd(a, k) = 1 and a
 * divides the number of nozzles; then nozzles / a times. A common factor g leaves all but one in g lines unprinted. For a =
 * nozzles this is the classic gcd(nozzles, k) = 1. Source: derived, and checked against printing line by line. Errors: missing, not
 * finite, zero or negative; nozzles that are no whole number.
 */
export function coverage(input: { nozzles: number; interlace: number; linesPerAdvance: number }): Outcome<Coverage> {
  const { nozzles, interlace, linesPerAdvance } = input
  const refusal = refusalOf(
    { nozzles, interlace, linesPerAdvance },
    { count: ['nozzles'], positive: ['interlace', 'linesPerAdvance'] },
  )
  if (refusal) return refusal
  const k = wholeNumber(interlace)
  if (k === undefined) return ok({ kind: 'off-grid', interlace })
  const a = wholeNumber(linesPerAdvance)
  if (a === undefined) return ok({ kind: 'part-line', lines: linesPerAdvance })
  const factor = gcd(a, k)
  if (factor > 1 || nozzles < a) return ok({ kind: 'gaps', missed: 1 - Math.min(1, (nozzles * factor) / a) / factor })
  if (nozzles % a !== 0) return ok({ kind: 'uneven', fewest: Math.floor(nozzles / a), most: Math.ceil(nozzles / a) })
  return ok({ kind: 'every-line', times: nozzles / a })
}

/** Where a carriage turns at the end of a pass: at the edge of the print, at that of the web, or at the end of the bed whatever lies on it. */
export type TurnAt = 'print-edge' | 'web-edge' | 'bed-end'

interface PassInput {
  /** m, printed across the media. */
  readonly imageWidth: number
  /** m; needed where the carriage turns at the edge of the web. */
  readonly webWidth?: number
  /** m, all that the carriage can print over, without overrun; needed where it turns at the end of the bed. */
  readonly bedWidth?: number
  /** Where the carriage turns. */
  readonly turnAt: TurnAt
  /** m beyond where it stops printing, or would, at each side. */
  readonly overrun?: number
  /** m/s */
  readonly carriageSpeed: number
  /** m/s2; stopping and starting then take 2 x speed / acceleration. */
  readonly acceleration?: number
  /** s of rest at each turn. */
  readonly settle?: number
  /** s from the end of one way to the start of the next, where it is known as one time; added to what acceleration and settling give. */
  readonly turnaround?: number
  readonly directions: 'one-way' | 'two-way'
}

/**
 * s from the start of one printing pass to the start of the next, without any drying pause. One-way printing travels back, so it
 * takes twice as long. Source: uniform speed and acceleration (elementary mechanics). Errors: missing, not finite; width, speed or
 * acceleration of zero or below; a negative overrun, rest or turnaround; no width of what it turns at the edge of; an image wider than the web, or
 * either wider than the bed.
 */
export function passTime(input: PassInput): Outcome<number> {
  const { imageWidth, carriageSpeed, overrun = 0, settle = 0, turnaround = 0, acceleration } = input
  const refusal =
    refusalOf(
      { imageWidth, carriageSpeed, overrun, settle, turnaround, ...(acceleration === undefined ? {} : { acceleration }) },
      { positive: ['imageWidth', 'carriageSpeed', 'acceleration'], notNegative: ['overrun', 'settle', 'turnaround'] },
    ) ?? widthRefusal(input)
  if (refusal) return refusal
  const width = { 'print-edge': imageWidth, 'web-edge': input.webWidth!, 'bed-end': input.bedWidth! }[input.turnAt]
  const turning = acceleration === undefined ? 0 : (2 * carriageSpeed) / acceleration
  const stroke = (width + 2 * overrun) / carriageSpeed + turning + settle + turnaround
  return finished('carriageSpeed', input.directions === 'one-way' ? 2 * stroke : stroke)
}

interface Throughput {
  /** s from pass to pass, drying pause included. */
  readonly period: number
  /** m2/s of printed image. */
  readonly areaRate: number
  /** m/s, mean, drying pause included. */
  readonly webSpeed: number
}

/**
 * What a mode makes: `advance` in m (of {@link advancePlan}), `imageWidth` in m (the image, not the bed), `passTime` in s,
 * `pause` in s after each pass. Valid for an equal advance after every pass; loading, drying ahead of winding and cleaning are not in it.
 * Source: arithmetic of area over time. Errors: missing, not finite; advance, width or pass time of zero or below; a negative pause.
 */
export function throughput(input: {
  advance: number
  imageWidth: number
  passTime: number
  pause?: number
}): Outcome<Throughput> {
  const { advance, imageWidth, passTime, pause = 0 } = input
  const refusal = refusalOf(
    { advance, imageWidth, passTime, pause },
    { positive: ['advance', 'imageWidth', 'passTime'], notNegative: ['pause'] },
  )
  if (refusal) return refusal
  const period = passTime + pause
  return finished('passTime', { period, areaRate: (advance * imageWidth) / period, webSpeed: advance / period })
}

/** What lies in what: the image on the web, the web on the bed. Only what is given, or needed, is looked at. */
function widthRefusal({ turnAt, imageWidth, webWidth, bedWidth }: PassInput): Outcome<never> | undefined {
  const given = {
    ...((webWidth !== undefined || turnAt === 'web-edge') && { webWidth }),
    ...((bedWidth !== undefined || turnAt === 'bed-end') && { bedWidth }),
  }
  const refusal = refusalOf(given, { positive: ['webWidth', 'bedWidth'] })
  if (refusal) return refusal
  if (webWidth !== undefined && imageWidth > webWidth) return refuse('imageWidth', 'the image is wider than the web')
  if (bedWidth !== undefined && imageWidth > bedWidth) return refuse('imageWidth', 'the image is wider than the bed')
  return webWidth !== undefined && bedWidth !== undefined && webWidth > bedWidth
    ? refuse('webWidth', 'the web is wider than the bed')
    : undefined
}

/** With s = passes / interlace prints of each line, an even plan has s x a nozzles in use, a prime to the interlace. */
function mostEvenNozzles(nozzles: number, interlace: number, passes: number): number | undefined {
  if (!Number.isSafeInteger(interlace) || passes % interlace !== 0) return undefined
  const times = passes / interlace
  for (let a = Math.floor(nozzles / times); a >= 1; a--) if (gcd(a, interlace) === 1) return times * a
  return undefined
}

/** The whole number that a value is but for floating-point error, if from 1 to the largest exact one. */
function wholeNumber(value: number): number | undefined {
  const whole = Math.round(value)
  return whole >= 1 && Number.isSafeInteger(whole) && Math.abs(value - whole) <= 1e-9 * whole ? whole : undefined
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b))
