// The front door for quantities in text: a quantity of a given dimension or the problem with it, any quantity at all, and the parts of one.
import type { QuantityProblem } from './problem.ts'
import { diagnose } from './problems.ts'
import type { Quantity } from './quantity.ts'
import { readQuantity } from './read.ts'
import { LONGEST, scanQuantity } from './scan.ts'
import { type Dimension, findUnit } from './units.ts'

export type { QuantityFix, QuantityProblem, QuantityProblemCode } from './problem.ts'

export type ParsedQuantity =
  | { readonly ok: true; readonly value: Quantity }
  | { readonly ok: false; readonly problem: QuantityProblem }

/**
 * Reads `<number> <unit>` as a quantity of one dimension. Surrounding blanks are ignored, the blank between number and unit may be missing.
 * Never throws, and takes time in proportion to the text's length.
 */
export function parseQuantity(text: string, dimension: Dimension): ParsedQuantity {
  const shape = scanQuantity(text)
  const value = readQuantity(text, shape, dimension)
  return value === undefined ? { ok: false, problem: diagnose(text, dimension, shape) } : { ok: true, value }
}

/** Reads a quantity whose dimension only its unit tells. A unit of several dimensions means the likelier: 'K' a temperature difference. */
export function parseAnyQuantity(text: string): Quantity | undefined {
  const shape = scanQuantity(text)
  if (shape.number === undefined || shape.end - shape.start > LONGEST) return undefined
  const unit = findUnit(text.slice(shape.unitStart, shape.end))
  return unit === undefined ? undefined : readQuantity(text, shape, unit.dimension)
}

export interface QuantityPart {
  readonly kind: 'number' | 'plus-minus' | 'uncertainty' | 'times' | 'second' | 'unit'
  readonly start: number
  readonly end: number
}

/** The parts of a quantity in reading order, for colouring. Faulty numbers and unknown units are left out. */
export function quantityParts(text: string): readonly QuantityPart[] {
  const shape = scanQuantity(text)
  const { number, uncertainty, second } = shape
  if (number === undefined || shape.end - shape.start > LONGEST) return []
  const parts: QuantityPart[] = []
  if (number.fault === undefined) parts.push({ kind: 'number', start: number.start, end: number.end })
  if (shape.plusMinus >= 0) {
    parts.push({ kind: 'plus-minus', start: shape.plusMinus, end: shape.plusMinus + (text[shape.plusMinus] === '±' ? 1 : 3) })
  }
  if (uncertainty !== undefined && uncertainty.fault === undefined) {
    parts.push({ kind: 'uncertainty', start: uncertainty.start, end: uncertainty.end })
  }
  if (shape.times >= 0) parts.push({ kind: 'times', start: shape.times, end: shape.times + 1 })
  if (second !== undefined && second.fault === undefined) parts.push({ kind: 'second', start: second.start, end: second.end })
  if (findUnit(text.slice(shape.unitStart, shape.end)) !== undefined) {
    parts.push({ kind: 'unit', start: shape.unitStart, end: shape.end })
  }
  return parts
}
