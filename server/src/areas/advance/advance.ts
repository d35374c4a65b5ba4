// How far the media moves after each pass on this setup, and what that covers: from the printer's heads and the mode.

import { type Outcome, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { type AdvancePlan, advancePlan, coverage } from '../../calc/advance.ts'
import type { Mode, PrinterDocument } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'

/** The advance of a pass of a setup. Refuses as `advanceIn`. */
export const advanceOf: (setup: Setup) => Outcome<AdvancePlan> = recorded('advance', ({ printer, mode, profile }) =>
  advanceIn(printer, mode, profile.carriage?.strikes?.value ?? 1),
)

/** The advance of a mode of a printer. Refuses, naming the key, where they give too little. Rows are staggered: together they divide the pitch. */
export function advanceIn(printer: PrinterDocument | undefined, mode: Mode | undefined, strikes: number): Outcome<AdvancePlan> {
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
    strikes,
  })
}

/** The numbers of passes nearest to the plan's, at most one below and one above, with which equal advances print every raster line equally often. */
export function passesThatCover({ interlace, passes, swath, nozzlePitch }: AdvancePlan, strikes: number): readonly number[] {
  const nozzles = Math.round(swath / nozzlePitch)
  const covers = (n: number): boolean => {
    const found = coverage({ nozzles, interlace, linesPerAdvance: (nozzles * interlace) / (n * strikes) })
    return found.ok && found.value.kind === 'every-line'
  }
  const now = Math.round(passes / strikes)
  const found: number[] = []
  for (let n = Math.min(now - 1, MAX_PASSES); n >= 1 && found.length === 0; n--) if (covers(n)) found.push(n)
  for (let n = now + 1, above = false; n <= MAX_PASSES && !above; n++)
    if (covers(n)) {
      found.push(n)
      above = true
    }
  return found
}

/** No mode of a roll-fed printer has more (common practice). */
const MAX_PASSES = 64
