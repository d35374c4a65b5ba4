// The inputs of a reckoned quantity with their origins, and the line it makes, in one way for every area.
import { type Outcome, ok } from '../base/outcome.ts'
import type { Range } from '../calc/range.ts'
import type { Dimension } from '../quantities/units.ts'
import type { F } from './field.ts'
import type { Property } from './material.ts'
import type { Reckoned, ReckonedInput } from './reckoned.ts'
import { isInherited, type Setup } from './setup.ts'
import type { ShopValue } from './shop.ts'

type Kind = Dimension | 'number'
type Quantified = F<{ readonly si: number }> | F<number>

/** A value of the stock or the printer. */
export const givenInput = (name: string, field: Quantified | undefined, dimension: Kind): ReckonedInput | undefined =>
  field && { name, value: siOf(field), dimension, origin: 'given' }

/** A setting of the profile: its own or a base's. `value` where the field holds a level and not the quantity. */
export const profileInput = (
  setup: Setup,
  name: string,
  field: Quantified | undefined,
  dimension: Kind,
  value?: number,
): ReckonedInput | undefined =>
  field && { name, value: value ?? siOf(field), dimension, origin: isInherited(setup, field) ? 'inherited' : 'given' }

/** A property of the material. */
export const propertyInput = (name: string, property: Property | undefined, dimension: Kind): ReckonedInput | undefined =>
  property && {
    name,
    value: plain(property.range),
    dimension,
    origin: property.origin,
    ...(property.origin === 'typical' && { source: property.source }),
  }

/** A value of the shop's document, or its documented default. */
export const shopInput = (name: string, value: ShopValue<number>, dimension: Kind): ReckonedInput => ({
  name,
  value: value.value,
  dimension,
  origin: value.place ? 'given' : 'default',
})

export const computedInput = (name: string, value: number | Range, dimension: Kind): ReckonedInput => ({
  name,
  value: typeof value === 'number' ? value : plain(value),
  dimension,
  origin: 'computed',
})

/** What is taken for lack of a better value. */
export const assumedInput = (name: string, value: number | Range, dimension: Kind, source: string): ReckonedInput => ({
  name,
  value,
  dimension,
  origin: 'typical',
  source,
})

export const inputs = (...list: readonly (ReckonedInput | undefined)[]): readonly ReckonedInput[] =>
  list.filter((input) => input !== undefined)

const siOf = ({ value }: Quantified): number => (typeof value === 'number' ? value : value.si)

/** A range of one value is that value. */
const plain = (range: Range): number | Range => (range.low === range.high ? range.typical : range)

/** One row; a range of one value is that value, and a refusal is its problem. */
export function line(
  key: string,
  title: string,
  formula: string,
  outcome: Outcome<number | Range>,
  dimension: Reckoned['dimension'],
  rest: Pick<Reckoned, 'inputs' | 'source' | 'unit' | 'digits'>,
): Reckoned {
  const base = { key, title, formula, dimension, ...rest }
  if (!outcome.ok) return { ...base, value: undefined, problem: outcome.problem }
  const { value } = outcome
  return { ...base, value: typeof value === 'number' ? value : plain(value) }
}

/** What is picked from an outcome, or its problem. */
export const pick = <T>(outcome: Outcome<T>, of: (value: T) => number | Range): Outcome<number | Range> =>
  outcome.ok ? ok(of(outcome.value)) : outcome

/** The row of what is picked from an outcome. */
export const reckonedRow = <T>(
  key: string,
  title: string,
  formula: string,
  outcome: Outcome<T>,
  of: (value: T) => number | Range,
  dimension: Reckoned['dimension'],
  inputs: readonly ReckonedInput[],
  source: string,
  digits?: number,
): Reckoned => line(key, title, formula, pick(outcome, of), dimension, { inputs, source, ...(digits && { digits }) })
