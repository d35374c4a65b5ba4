// Every computed quantity of a setup, area by area, in the order a print runs.
import type { Reckoned } from '../model/reckoned.ts'
import type { Setup } from '../model/setup.ts'
import { QUANTITIES } from './generated/quantities.ts'
import { type AreaQuantities, type Quantity, type QuantityFailure, reckonedQuantity } from './quantity.ts'

export const reckon = (setup: Setup, failed?: QuantityFailure): readonly Reckoned[] =>
  QUANTITIES.flatMap((area) => reckonArea(area, setup, failed))

/** The quantities of one area that the setup has to do with. */
export const reckonArea = (area: AreaQuantities, setup: Setup, failed?: QuantityFailure): readonly Reckoned[] =>
  definitionsOf(area, setup, failed).flatMap((quantity) => reckonedQuantity(quantity, setup, failed) ?? [])

/** With those of its families. A family that throws loses its own alone. */
export function definitionsOf(area: AreaQuantities, setup: Setup, failed?: QuantityFailure): readonly Quantity[] {
  return area.flatMap((one) => {
    if (typeof one !== 'function') return [one]
    try {
      return one(setup)
    } catch (error) {
      failed?.('a family of quantities', error)
      return []
    }
  })
}
