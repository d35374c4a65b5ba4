// How far the media moves after each pass on this setup, and what that covers: from the printer's heads and the mode.

import { type Outcome, refuse } from '../base/outcome.ts'
import { type AdvancePlan, advancePlan } from '../calc/advance.ts'
import { reckonedOnce, type Setup } from './setup.ts'

/** The advance of a pass. Refuses, naming the key, where printer or mode give too little. Rows are staggered: together they divide the pitch. */
export const advanceOf: (setup: Setup) => Outcome<AdvancePlan> = reckonedOnce(({ still }) => still, reckon)

function reckon({ printer, mode, profile }: Setup): Outcome<AdvancePlan> {
  const heads = printer?.heads
  const pitch = heads?.['nozzle-pitch']?.value.si
  const nozzles = heads?.nozzles?.value
  const resolution = mode?.resolution?.value
  const passes = mode?.passes?.value
  if (pitch === undefined || nozzles === undefined)
    return refuse('heads', 'the printer does not give its nozzle pitch and number of nozzles')
  if (resolution === undefined || passes === undefined)
    return refuse('mode', 'the mode does not give its resolution and number of passes')
  const rows = heads?.rows?.value ?? 1
  return advancePlan({
    nozzlePitch: pitch / rows,
    nozzles: nozzles * rows,
    resolutionAlong: resolution.second ?? resolution.si,
    passes,
    strikes: profile.carriage?.strikes?.value ?? 1,
  })
}
