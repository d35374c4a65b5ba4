// The inputs of a reckoned quantity with their origins, in one way for every area.
import type { Range } from '../calc/range.ts'
import type { Dimension } from '../quantities/units.ts'
import type { F } from './field.ts'
import type { Property } from './material.ts'
import type { ReckonedInput } from './reckoned.ts'
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
  field: Quantified | F<string> | undefined,
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

const siOf = ({ value }: Quantified | F<string>): number => (typeof value === 'object' ? value.si : Number(value))

/** A range of one value is that value. */
const plain = (range: Range): number | Range => (range.low === range.high ? range.typical : range)
