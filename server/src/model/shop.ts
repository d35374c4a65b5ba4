// The shop's own document with its documented defaults filled in, in SI units. Defaults stand in the schema and nowhere else.
import { parseQuantity } from '../quantities/parse.ts'
import type { Dimension } from '../quantities/units.ts'
import { type SchemaNode, schemaAt } from '../schema/schema.ts'
import type { F, Place } from './field.ts'
import type { Instrument, ShopDocument } from './generated/documents.ts'

/** A shop's value: given (with its place) or the documented default. */
export interface ShopValue<T> {
  readonly value: T
  readonly place: Place | undefined
}

/** Each value is read when it is asked for. */
export interface Shop {
  readonly name: string | undefined
  readonly units: 'metric' | 'us'
  readonly tolerance: {
    readonly length: ShopValue<number>
    readonly registration: ShopValue<number>
    /** Share of prints that may be out of the length tolerance before a number no longer counts as proven. */
    readonly risk: ShopValue<number>
  }
  /** Seconds. */
  readonly recheck: { readonly feed: ShopValue<number>; readonly alignment: ShopValue<number> }
  readonly climate: {
    readonly temperature: ShopValue<readonly [number, number]>
    readonly humidity: ShopValue<readonly [number, number]>
  }
  readonly referenceTemperature: ShopValue<number>
  readonly viewingDistance: ShopValue<number>
  readonly instruments: ReadonlyMap<string, Instrument>
  readonly document: ShopDocument | undefined
}

/** The shop with its defaults filled in. */
export const resolveShop = (shop: ShopDocument | undefined): Shop => ({
  document: shop,
  get name() {
    return shop?.shop?.value
  },
  get units() {
    return shop?.units?.value ?? (defaultText(['units']) === 'us' ? 'us' : 'metric')
  },
  tolerance: {
    get length() {
      return one(shop?.tolerance?.length, ['tolerance', 'length'], 'relative')
    },
    get registration() {
      return one(shop?.tolerance?.registration, ['tolerance', 'registration'], 'length')
    },
    get risk() {
      return one(shop?.tolerance?.risk, ['tolerance', 'risk'], 'relative')
    },
  },
  recheck: {
    get feed() {
      return one(shop?.recheck?.feed, ['recheck', 'feed'], 'time')
    },
    get alignment() {
      return one(shop?.recheck?.alignment, ['recheck', 'alignment'], 'time')
    },
  },
  climate: {
    get temperature() {
      return pair(shop?.climate?.temperature, ['climate', 'temperature'], 'temperature')
    },
    get humidity() {
      return pair(shop?.climate?.humidity, ['climate', 'humidity'], 'humidity')
    },
  },
  get referenceTemperature() {
    return one(shop?.['reference-temperature'], ['reference-temperature'], 'temperature')
  },
  get viewingDistance() {
    return one(shop?.['viewing-distance'], ['viewing-distance'], 'length')
  },
  get instruments() {
    return shop?.instruments?.entries ?? NO_INSTRUMENTS
  },
})

const NO_INSTRUMENTS: ReadonlyMap<string, Instrument> = new Map()

const defaults = new Map<string, number>()

function one(field: F<{ readonly si: number }> | undefined, path: readonly string[], dimension: Dimension): ShopValue<number> {
  return field ? { value: field.value.si, place: field.place } : { value: defaultSi(path, dimension), place: undefined }
}

function pair(
  list: { readonly items: readonly F<{ readonly si: number }>[]; readonly $: Place } | undefined,
  path: readonly string[],
  dimension: Dimension,
): ShopValue<readonly [number, number]> {
  const [low, high] = list?.items ?? []
  if (list && low && high && low.value.si <= high.value.si) return { value: [low.value.si, high.value.si], place: list.$ }
  return { value: [defaultSi([...path, '0'], dimension), defaultSi([...path, '1'], dimension)], place: undefined }
}

/** A default of the schema; `path` may end in 0 or 1 for the two ends of a pair. */
function defaultSi(path: readonly string[], dimension: Dimension): number {
  const key = path.join('.')
  const before = defaults.get(key)
  if (before !== undefined) return before
  const text = defaultText(path) ?? ''
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) throw new Error(`schema default of ${key} is no ${dimension}: ${text}`)
  defaults.set(key, parsed.value.si)
  return parsed.value.si
}

function defaultText(path: readonly string[]): string | undefined {
  const last = path.at(-1)
  const index = last === '0' || last === '1' ? Number(last) : undefined
  const node: SchemaNode | undefined = schemaAt('shop', index === undefined ? path : path.slice(0, -1))
  const text = node?.default
  if (index === undefined || text === undefined) return text
  return text
    .replace(/^\[|\]$/g, '')
    .split(',')
    [index]?.trim()
}
