// Turns the parts of a text into a quantity when nothing is wrong with them; what is wrong is explained in problems.ts.
import { quotientToSi } from './convert.ts'
import type { Quantity } from './quantity.ts'
import { LONGEST, type NumberToken, type Shape } from './scan.ts'
import { type Dimension, findUnit, type Unit } from './units.ts'

export const ABSOLUTE_ZERO = -273.15

/** The quantity that a text holds, or undefined when it is not well formed in this dimension. */
export function readQuantity(text: string, shape: Shape, dimension: Dimension): Quantity | undefined {
  const { number } = shape
  if (number === undefined || number.fault !== undefined || shape.unitStart >= shape.end || shape.end - shape.start > LONGEST) {
    return undefined
  }
  const unit = findUnit(text.slice(shape.unitStart, shape.end), dimension)
  if (unit === undefined || (number.fraction && unit.id !== 'in')) return undefined
  if (dimension === 'resolution') return readResolution(text, shape, number, unit)
  if (shape.times >= 0) return undefined
  const si = quotientToSi(number.over, number.under, unit)
  if (dimension === 'temperature' && si < ABSOLUTE_ZERO) return undefined
  const written = text.slice(number.start, number.end)
  if (shape.plusMinus < 0) return { dimension, si, unit, written }
  const u = shape.uncertainty
  if (!isSpread(u) || (u.fraction && unit.id !== 'in')) return undefined
  const writtenUncertainty = text.slice(u.start, u.end)
  return { dimension, si, uncertainty: quotientToSi(u.over, u.under, unit, 'spread'), unit, written, writtenUncertainty }
}

/** Whether a token can be an uncertainty: a well-formed number above zero. */
export const isSpread = (token: NumberToken | undefined): token is NumberToken =>
  token !== undefined && token.fault === undefined && token.value > 0

function readResolution(text: string, shape: Shape, across: NumberToken, unit: Unit): Quantity | undefined {
  const along = shape.times >= 0 ? shape.second : across
  if (shape.plusMinus >= 0 || across.fraction || !isSpread(across) || !isSpread(along) || along.fraction) return undefined
  const written = text.slice(across.start, along.end)
  return {
    dimension: 'resolution',
    si: quotientToSi(across.over, across.under, unit),
    second: quotientToSi(along.over, along.under, unit),
    unit,
    written,
  }
}
