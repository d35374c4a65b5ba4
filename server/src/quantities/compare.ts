// Equality and order of quantities by what they measure, whatever unit they are written in.
import type { Quantity } from './quantity.ts'
import type { Dimension } from './units.ts'

/** Conversions round a few times; this is some fifty units in the last place, far below any written digit. */
const RELATIVE = 1e-14
/** Temperatures pass through zero points, which costs digits; no thermometer reads a nanokelvin. */
const KELVIN = 2e-9

/** Whether two quantities mean the same: dimension, value, uncertainty and second number, after conversion ('1 in' and '25.4 mm'). */
export function equalQuantities(a: Quantity, b: Quantity): boolean {
  return (
    a.dimension === b.dimension &&
    equalSi(a.si, b.si, a.dimension) &&
    equalSi(a.second ?? a.si, b.second ?? b.si, a.dimension) &&
    (a.uncertainty === undefined) === (b.uncertainty === undefined) &&
    near(a.uncertainty ?? 0, b.uncertainty ?? 0, 0)
  )
}

/** −1, 0 or 1 by value (a resolution by across, then along); undefined when the dimensions differ. Uncertainties do not count. */
export function compareQuantities(a: Quantity, b: Quantity): -1 | 0 | 1 | undefined {
  if (a.dimension !== b.dimension) return undefined
  return compareSi(a.si, b.si, a.dimension) || compareSi(a.second ?? a.si, b.second ?? b.si, a.dimension)
}

/** Whether two SI values of a dimension are the same but for the rounding of conversions. */
export const equalSi = (a: number, b: number, dimension: Dimension): boolean =>
  near(a, b, dimension === 'temperature' ? KELVIN : 0)

/** The order of two SI values of a dimension, where values that differ only by the rounding of conversions are the same. */
export const compareSi = (a: number, b: number, dimension: Dimension): -1 | 0 | 1 =>
  equalSi(a, b, dimension) ? 0 : a < b ? -1 : 1

const near = (a: number, b: number, absolute: number): boolean =>
  a === b || Math.abs(a - b) <= Math.max(absolute, RELATIVE * Math.max(Math.abs(a), Math.abs(b)))
