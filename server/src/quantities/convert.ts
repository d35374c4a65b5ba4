// Conversions between the SI inside and the units of the documents, through whole-number ratios so that 1 in is 25.4 mm to the last bit or nearly.
import type { Quantity } from './quantity.ts'
import type { Dimension, Unit } from './units.ts'
import { findUnit } from './units.ts'

/** A number of a unit, in SI. */
export function toSi(number: number, unit: Unit): number {
  if (unit.offset === undefined) return scale(number, unit.ratio[0], unit.ratio[1])
  return settle(((number + unit.offset) * unit.ratio[0]) / unit.ratio[1])
}

/**
 * A quotient of whole numbers of a unit, in SI, rounded once: 25.4 mm (254/10) and 1 in give the same double. A spread (an uncertainty)
 * leaves out the zero point of a temperature scale.
 */
export function quotientToSi(over: number, under: number, unit: Unit, kind: 'value' | 'spread' = 'value'): number {
  if (unit.offset !== undefined && kind === 'value') return toSi(over / under, unit)
  const top = over * unit.ratio[0]
  const bottom = under * unit.ratio[1]
  const exact = Math.abs(top) <= Number.MAX_SAFE_INTEGER && bottom <= Number.MAX_SAFE_INTEGER
  return exact ? top / bottom : spreadToSi(over / under, unit)
}

/** An SI value as a number of a unit. */
export function fromSi(si: number, unit: Unit): number {
  if (unit.offset === undefined) return scale(si, unit.ratio[1], unit.ratio[0])
  return settle((si * unit.ratio[1]) / unit.ratio[0] - unit.offset)
}

/** A difference (an uncertainty, a tolerance) of a unit, in SI: as `toSi`, without the zero point of a temperature scale. */
export const spreadToSi = (number: number, unit: Unit): number => scale(number, unit.ratio[0], unit.ratio[1])

/** An SI difference as a number of a unit. */
export const spreadFromSi = (si: number, unit: Unit): number => scale(si, unit.ratio[1], unit.ratio[0])

/** A quantity's value in another unit of its dimension; undefined when the unit is of another dimension. */
export function convert(quantity: Quantity, unit: Unit): number | undefined {
  return unit.dimension === quantity.dimension ? fromSi(quantity.si, unit) : undefined
}

/** An SI value of a dimension in a unit, given as such or by its spelling; undefined when the dimension has no such unit. */
export function inUnit(si: number, dimension: Dimension, unit: Unit | string): number | undefined {
  const known = typeof unit === 'string' ? findUnit(unit, dimension) : unit
  return known === undefined || known.dimension !== dimension ? undefined : fromSi(si, known)
}

/** Multiplies first when that stays finite, so that whole ratios round once; a huge value is divided first instead. */
function scale(value: number, by: number, over: number): number {
  const product = value * by
  return Number.isFinite(product) ? product / over : (value / over) * by
}

/** Adding a zero point leaves binary dust (296.15 − 273.15); no thermometer reads a nanokelvin. */
const settle = (value: number): number => (Math.abs(value) < 1e6 ? Math.round(value * 1e9) / 1e9 + 0 : value)
