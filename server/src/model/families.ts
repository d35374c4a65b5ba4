// Typical properties of each family of material, in SI, each with where it comes from: what a stock falls back on where it says nothing itself.
import data from '../../../schemas/families.json' with { type: 'json' }
import { type Range, range } from '../calc/range.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { Dimension } from '../quantities/units.ts'

/** Every property a family may have, and the dimension its values are written in; `number` has none (conductivity is in W/mK). All are along the web. */
export const FAMILY_PROPERTIES = {
  thickness: 'length',
  grammage: 'grammage',
  density: 'density',
  modulus: 'modulus',
  yield: 'modulus',
  poisson: 'number',
  expansion: 'expansion',
  'moisture-expansion': 'moisture-expansion',
  'heat-capacity': 'heat-capacity',
  conductivity: 'number',
  'max-web-temperature': 'temperature',
  'softens-at': 'temperature',
  friction: 'number',
  'curl-radius': 'length',
  'tension-guard': 'modulus',
} as const satisfies Readonly<Record<string, Dimension | 'number'>>

export type FamilyProperty = keyof typeof FAMILY_PROPERTIES

/** A typical value: a range in SI (temperature in degrees Celsius), and the words that say where it comes from. */
export interface Typical {
  readonly range: Range
  readonly source: string
}

export interface Family {
  readonly name: string
  readonly title: string
  /** The typical value in SI; undefined where the family has none. */
  readonly property: (key: FamilyProperty) => Typical | undefined
  /** Why the family has no such property, as a sentence; undefined where it has one or nothing is known. */
  readonly without: (key: FamilyProperty) => string | undefined
}

/** The families a stock can be of. */
export const STOCK_FAMILIES: readonly string[] = Object.keys(data.families)
/** The further families a layer can be of: what carries no print. */
export const LAYER_FAMILIES: readonly string[] = Object.keys(data.layers)

/** The family of a stock or a layer by name, or undefined when there is none. Values are read when first asked for. */
export const familyOf = (name: string): Family | undefined => FAMILIES.get(name)

interface FamilyData {
  readonly title: string
  readonly properties: Readonly<Record<string, ValueData>>
  readonly without?: Readonly<Record<string, string>>
}

type ValueData = Readonly<Record<'low' | 'typical' | 'high', string | number> & { source: string }>

const FAMILIES: ReadonlyMap<string, Family> = new Map(
  [...Object.entries<FamilyData>(data.families), ...Object.entries<FamilyData>(data.layers)].map(([name, family]) => [
    name,
    readFamily(name, family),
  ]),
)

function readFamily(name: string, family: FamilyData): Family {
  const known = new Map<FamilyProperty, Typical | undefined>()
  const property = (key: FamilyProperty): Typical | undefined => {
    if (!known.has(key)) known.set(key, typicalOf(key, own(family.properties, key)))
    return known.get(key)
  }
  return { name, title: family.title, property, without: (key) => own(family.without ?? {}, key) }
}

function typicalOf(key: FamilyProperty, value: ValueData | undefined): Typical | undefined {
  if (value === undefined || !Object.hasOwn(FAMILY_PROPERTIES, key)) return undefined
  const [low, typical, high] = [value.low, value.typical, value.high].map((end) => inSi(end, FAMILY_PROPERTIES[key]))
  const found = range(low ?? Number.NaN, typical ?? Number.NaN, high ?? Number.NaN)
  return found.ok ? { range: found.value, source: value.source } : undefined
}

function inSi(value: string | number, dimension: Dimension | 'number'): number | undefined {
  if (dimension === 'number' || typeof value === 'number')
    return dimension === 'number' && typeof value === 'number' ? value : undefined
  const parsed = parseQuantity(value, dimension)
  return parsed.ok ? parsed.value.si : undefined
}

const own = <T>(record: Readonly<Record<string, T>>, key: string): T | undefined =>
  Object.hasOwn(record, key) ? record[key] : undefined
