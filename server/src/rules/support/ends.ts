// Which end of a range a value lies beyond.
import { compareSi } from '../../quantities/compare.ts'
import type { Dimension } from '../../quantities/units.ts'

/** 0 below the lower end, 1 above the upper one; undefined inside, where what is left of an end after a change of unit belongs too. */
export function endPassed(si: number, [low, high]: readonly [number, number], dimension: Dimension): 0 | 1 | undefined {
  if (compareSi(si, low, dimension) < 0) return 0
  return compareSi(si, high, dimension) > 0 ? 1 : undefined
}
