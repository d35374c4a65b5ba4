// The room below the heads: what a gap must clear, and which gaps of the printer do. An edge that the suction leaves standing counts with the
// far end of what is known of it: a head strike costs a head, a higher gap a little sharpness.
import type { Range } from '../../calc/range.ts'
import type { Setup } from '../../model/setup.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { LEAST_FLIGHT } from './facts.ts'

/** No lever is set finer, m. */
const ROUNDING = 1e-9

/** The lowest gap, m, that leaves the least flight above the stock and the highest its edges may stand; flat where no rise is known. */
export const leastGap = (thickness: number, rise: Range | undefined): number => thickness + (rise?.high ?? 0) + LEAST_FLIGHT

export const leavesRoom = (gap: number, thickness: number, rise: Range | undefined): boolean =>
  gap >= leastGap(thickness, rise) - ROUNDING

/** The gaps the printer has, the lowest first. */
export const gapsOf = ({ printer }: Setup): readonly Quantity[] =>
  (printer?.carriage?.gaps?.items ?? []).map((gap) => gap.value).sort((a, b) => a.si - b.si)

/** Those that clear the stock and its edges, the lowest first; none where the thickness is not known. */
export const gapsWithRoom = (setup: Setup, rise: Range | undefined): readonly Quantity[] => {
  const { thickness } = setup.material
  return thickness === undefined ? [] : gapsOf(setup).filter((gap) => leavesRoom(gap.si, thickness, rise))
}
