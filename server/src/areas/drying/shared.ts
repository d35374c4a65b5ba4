// What the rules of drying share: times in the unit they are written in, the pause that dries, and the stock and printer of their examples.

import { formatSi, toStep } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { EXAMPLE_FILM, EXAMPLE_PRINTER } from '../heat/shared.ts'
import type { DryingFacts } from './facts.ts'

/** A pause is keyed in to a tenth of a second (common practice). */
const PAUSE_STEP = 0.1

/**
 * s: the pause with which the web is dry at every value of the drying rule, or, where the machine takes none so long, the one that is
 * enough at its typical value. Undefined where neither can be set.
 */
export function dryingPause({ pauseToDry, pauseRange }: DryingFacts): number | undefined {
  if (!pauseToDry || !pauseRange) return undefined
  for (const pause of [pauseToDry.high, pauseToDry.typical]) {
    const set = toStep(pause, PAUSE_STEP, 'up')
    if (set !== undefined && set >= pauseRange[0] && set <= pauseRange[1]) return set
  }
  return undefined
}

/** s, to which a run-out is rounded up (common practice). */
const RUN_OUT_STEP = 30

/**
 * s: the run-out with which the last print is dry where it is held, at every value of the drying rule, or the longest of the printer where that is
 * not enough. Undefined where it cannot be told.
 */
export function dryingRunOut({
  held,
  runOutRange,
}: DryingFacts): { readonly runOut: number; readonly enough: boolean } | undefined {
  if (!held.ok || !runOutRange) return undefined
  const [low, high] = runOutRange
  const wanted = toStep(held.value.needed.high, RUN_OUT_STEP, 'up') ?? Number.POSITIVE_INFINITY
  return { runOut: Math.min(high, Math.max(low, wanted)), enough: held.value.needed.high <= high }
}

/** A time in the unit another is written in, or in one that suits it. */
export const timeLike = (seconds: number, like: Quantity | undefined): string =>
  formatSi(seconds, 'time', { digits: 4, ...(like && { unit: like.unit }) })

export const DRYING_STOCK = `${EXAMPLE_FILM}dry-touch: {time: 6 min, at: 42 °C}
`

/** The example printer with a second, fast mode. */
export const DRYING_PRINTER = EXAMPLE_PRINTER.replace(
  'carriage:',
  '  fast: {resolution: 720 x 360 dpi, passes: 2, carriage-speed: 1000 mm/s, directions: two-way}\ncarriage:',
)

/** A profile on the two, with its mode and these lines. */
export const onDrying = (lines: string, stock = DRYING_STOCK, printer = DRYING_PRINTER): string =>
  `#- e.media.yaml\nprofile: e\nstock: s\nprinter: p\n${lines}${stock}${printer}`
