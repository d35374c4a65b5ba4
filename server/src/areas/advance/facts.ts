// What a setup makes in an hour and how its passes meet: pass time for the stock's width, output, the speed of the web, and how bands of one
// advance look from where prints are viewed. The image is not in the profile: a job as wide as the stock's widest width that fits the bed is assumed.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { type AdvancePlan, passTime, throughput } from '../../calc/advance.ts'
import { type BandVisibility, bandVisibility, feedErrorForShift, mostVisibleDistance } from '../../calc/visibility.ts'
import type { Setup } from '../../model/setup.ts'
import { advanceOf } from './advance.ts'

export type TravelKind = 'image' | 'bed'

/** The width output is reckoned for, and where it comes from. */
export interface JobWidth {
  /** m */
  readonly width: number
  readonly from: 'widest-that-fits' | 'bed'
  /** The narrowest of the stock's widths, m; undefined where there is but one. */
  readonly narrowest: number | undefined
}

/** One pass over a job of some width. */
export interface PassFacts {
  /** m */
  readonly width: number
  readonly travel: TravelKind
  /** s from pass to pass, without the drying pause. */
  readonly passTime: number
  /** s, drying pause included. */
  readonly period: number
  /** m²/s */
  readonly areaRate: number
  /** m/s, mean. */
  readonly webSpeed: number
}

export interface ThroughputFacts {
  readonly plan: Outcome<AdvancePlan>
  readonly travel: TravelKind
  readonly strikes: number
  /** s after each pass; 0 where the profile gives none. */
  readonly pause: number
  readonly job: Outcome<JobWidth>
  readonly pass: Outcome<PassFacts>
  /** The same job with the other travel. */
  readonly other: Outcome<PassFacts>
  /** The stock's narrowest width, travelling over the image and over the bed; undefined where it has one width. */
  readonly narrow: { readonly image: PassFacts; readonly bed: PassFacts } | undefined
  /** Bands one advance apart, seen from the shop's viewing distance. */
  readonly bands: Outcome<BandVisibility>
  /** m from which such bands are seen best. */
  readonly seenBest: Outcome<number>
  /** Feed error (a fraction) that shifts the boundary between passes by a quarter of a pixel. */
  readonly quarterPixel: Outcome<number>
  /** s to move the web one advance at `web.speed`, and the s it has; undefined where either is not known. */
  readonly step: { readonly takes: number; readonly has: number } | undefined
}

/** The throughput facts of a setup, reckoned once. Never throws; what is missing is told as the problem of what needs it. */
export const throughputOf: (setup: Setup) => ThroughputFacts = recorded('throughput', reckon)

function reckon(setup: Setup): ThroughputFacts {
  const { profile, shop, mode } = setup
  const plan = advanceOf(setup)
  const travel = profile.carriage?.travel?.value ?? 'image'
  const job = jobWidthOf(setup)
  const along = mode?.resolution?.value
  const pass = job.ok ? passAt(setup, plan, job.value.width, travel) : job
  return {
    plan,
    travel,
    strikes: profile.carriage?.strikes?.value ?? 1,
    pause: profile.drying?.pause?.value.si ?? 0,
    job,
    pass,
    other: job.ok ? passAt(setup, plan, job.value.width, travel === 'image' ? 'bed' : 'image') : job,
    narrow: job.ok ? narrowOf(setup, plan, job.value) : undefined,
    bands: plan.ok
      ? bandVisibility({ period: plan.value.advance, viewingDistance: shop.viewingDistance.value, repeats: 'periodic' })
      : plan,
    seenBest: plan.ok ? mostVisibleDistance({ period: plan.value.advance }) : plan,
    quarterPixel:
      plan.ok && along
        ? feedErrorForShift({ advance: plan.value.advance, resolutionAlong: along.second ?? along.si })
        : plan.ok
          ? refuse('mode', 'the mode does not give its resolution')
          : plan,
    step: stepOf(setup, plan, pass),
  }
}

function jobWidthOf({ stock, printer }: Setup): Outcome<JobWidth> {
  const bed = printer?.carriage?.['bed-width']?.value.si
  if (bed === undefined) return refuse('carriage.bed-width', 'the printer does not give the width of its bed')
  const all = (stock?.widths?.items ?? []).map((width) => width.value.si)
  if (all.length === 0) return ok({ width: bed, from: 'bed', narrowest: undefined })
  const fitting = all.filter((width) => width <= bed * (1 + 1e-9))
  if (fitting.length === 0) return refuse('widths', "none of the stock's widths fits the bed of the printer")
  const width = Math.min(bed, Math.max(...fitting))
  const least = Math.min(...fitting)
  return ok({ width, from: 'widest-that-fits', narrowest: least < width ? least : undefined })
}

function passAt(
  { printer, mode, profile }: Setup,
  plan: Outcome<AdvancePlan>,
  width: number,
  travel: TravelKind,
): Outcome<PassFacts> {
  if (!plan.ok) return plan
  const carriageSpeed = mode?.['carriage-speed']?.value.si
  const directions = mode?.directions?.value
  const carriage = printer?.carriage
  const [bedWidth, overrun] = [carriage?.['bed-width']?.value.si, carriage?.overrun?.value.si]
  const turnaround = carriage?.turnaround?.value.si
  if (carriageSpeed === undefined) return refuse('carriage-speed', 'the mode does not give its carriage speed')
  if (directions === undefined) return refuse('directions', 'the mode does not say whether it prints one way or two ways')
  if (overrun === undefined) return refuse('carriage.overrun', 'the printer does not give the overrun of its carriage')
  if (turnaround === undefined) return refuse('carriage.turnaround', 'the printer does not give the turnaround of its carriage')
  const time = passTime({
    imageWidth: width,
    travel,
    carriageSpeed,
    directions,
    overrun,
    turnaround,
    ...(bedWidth !== undefined && { bedWidth }),
  })
  if (!time.ok) return time
  const pause = profile.drying?.pause?.value.si ?? 0
  const made = throughput({ advance: plan.value.advance, imageWidth: width, passTime: time.value, pause })
  return made.ok ? ok({ width, travel, passTime: time.value, ...made.value }) : made
}

function narrowOf(setup: Setup, plan: Outcome<AdvancePlan>, { narrowest }: JobWidth): ThroughputFacts['narrow'] {
  if (narrowest === undefined) return undefined
  const [image, bed] = [passAt(setup, plan, narrowest, 'image'), passAt(setup, plan, narrowest, 'bed')]
  return image.ok && bed.ok ? { image: image.value, bed: bed.value } : undefined
}

/** Two-way printing moves the web while the carriage turns; one-way printing has the whole way back for it. */
function stepOf(
  { profile, printer, mode }: Setup,
  plan: Outcome<AdvancePlan>,
  pass: Outcome<PassFacts>,
): ThroughputFacts['step'] {
  const speed = profile.web?.speed?.value.si
  const turnaround = printer?.carriage?.turnaround?.value.si
  if (!plan.ok || !pass.ok || speed === undefined || turnaround === undefined) return undefined
  const has = mode?.directions?.value === 'one-way' ? pass.value.passTime / 2 + turnaround : turnaround
  const takes = plan.value.advance / speed
  return Number.isFinite(takes) ? { takes, has } : undefined
}
