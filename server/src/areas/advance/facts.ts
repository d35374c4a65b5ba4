// What a setup makes in an hour and how its passes meet: pass time for the stock's width, output, the speed of the web, and how bands of one
// advance look from where prints are viewed. Neither the print nor the roll is in the profile: a print as wide as the stock's widest width that fits the
// bed is assumed, on a web of that width.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { type AdvancePlan, passTime, type TurnAt, throughput } from '../../calc/advance.ts'
import { type BandVisibility, bandVisibility, feedErrorForShift, mostVisibleDistance } from '../../calc/visibility.ts'
import type { Setup } from '../../model/setup.ts'
import { advanceOf } from './advance.ts'

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
  /** m, of the print. */
  readonly width: number
  /** m, of the web it is printed on. */
  readonly web: number
  readonly turnAt: TurnAt
  /** s from pass to pass, without the drying pause. */
  readonly passTime: number
  /** s, drying pause included. */
  readonly period: number
  /** m²/s */
  readonly areaRate: number
  /** m/s, mean. */
  readonly webSpeed: number
}

/** The same print with the carriage turning at each place there is. */
export type TurnPasses = Readonly<Record<TurnAt, PassFacts>>

export interface ThroughputFacts {
  readonly plan: Outcome<AdvancePlan>
  readonly turnAt: TurnAt
  readonly strikes: number
  /** s after each pass; 0 where the profile gives none. */
  readonly pause: number
  readonly job: Outcome<JobWidth>
  readonly pass: Outcome<PassFacts>
  /** What turning elsewhere makes of the same job; undefined where a pass cannot be reckoned. */
  readonly full: TurnPasses | undefined
  /** Of a print half as wide as that job, on the same web. */
  readonly half: TurnPasses | undefined
  /** Of a print over the whole of the stock's narrowest width; undefined where it has one width. */
  readonly narrow: TurnPasses | undefined
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
  const turnAt = profile.carriage?.['turn-at']?.value ?? 'print-edge'
  const job = jobWidthOf(setup)
  const along = mode?.resolution?.value
  const pass = job.ok ? passAt(setup, plan, job.value.width, job.value.width, turnAt) : job
  const turns = (print: number | undefined, web: number | undefined): TurnPasses | undefined =>
    print === undefined || web === undefined ? undefined : turnsOf(setup, plan, print, web)
  const { width, narrowest } = job.ok ? job.value : {}
  return {
    plan,
    turnAt,
    strikes: profile.carriage?.strikes?.value ?? 1,
    pause: profile.drying?.pause?.value.si ?? 0,
    job,
    pass,
    full: turns(width, width),
    half: turns(width && width / 2, width),
    narrow: turns(narrowest, narrowest),
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
  web: number,
  turnAt: TurnAt,
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
    webWidth: web,
    turnAt,
    carriageSpeed,
    directions,
    overrun,
    turnaround,
    ...(bedWidth !== undefined && { bedWidth }),
  })
  if (!time.ok) return time
  const pause = profile.drying?.pause?.value.si ?? 0
  const made = throughput({ advance: plan.value.advance, imageWidth: width, passTime: time.value, pause })
  return made.ok ? ok({ width, web, turnAt, passTime: time.value, ...made.value }) : made
}

function turnsOf(setup: Setup, plan: Outcome<AdvancePlan>, print: number, web: number): TurnPasses | undefined {
  const at = (turnAt: TurnAt): Outcome<PassFacts> => passAt(setup, plan, print, web, turnAt)
  const [printEdge, webEdge, bedEnd] = [at('print-edge'), at('web-edge'), at('bed-end')]
  return printEdge.ok && webEdge.ok && bedEnd.ok
    ? { 'print-edge': printEdge.value, 'web-edge': webEdge.value, 'bed-end': bedEnd.value }
    : undefined
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
