// The shape of a problem with a quantity and of its fixes, and the phrases that every message shares.
import type { Span } from '../base/span.ts'
import type { Dimension } from './units.ts'

export type QuantityProblemCode =
  | 'missing-unit'
  | 'missing-number'
  | 'unknown-unit'
  | 'wrong-dimension'
  | 'comma-decimal'
  | 'not-a-quantity'
  | 'number-overflow'
  | 'bad-uncertainty'
  | 'bad-number'
  | 'bad-fraction'
  | 'bad-resolution'
  | 'exponent'
  | 'two-values'
  | 'impossible-temperature'

export interface QuantityFix {
  readonly title: string
  /** The whole new text of the value. */
  readonly replacement: string
  /** Whether it is the only likely meaning, so that it may be applied without asking. */
  readonly preferred: boolean
}

export interface QuantityProblem {
  readonly code: QuantityProblemCode
  /** The part at fault, within the text. */
  readonly span: Span
  /** What is wrong and what would be right, without a full stop. */
  readonly message: string
  readonly fixes: readonly QuantityFix[]
  /** For a wrong dimension: the one found. */
  readonly found?: Dimension
}

/** A stretch of the text in quotes, cut short. */
export function quote(text: string, span: Span): string {
  const shown = text.slice(span.start, Math.min(span.end, span.start + 40))
  return `'${shown}${span.end - span.start > 40 ? '…' : ''}'`
}

/** A fix that writes a whole new value; its title shows it. */
export const write = (replacement: string, preferred: boolean): QuantityFix => ({
  title: `Write '${replacement}'`,
  replacement,
  preferred,
})
