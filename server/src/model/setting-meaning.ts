// What a setting means at its machine: the level of a printer is the pressure or the pull it stands for, and a mode is what the printer prints in it. Values of
// stock and printer can be asked for alike, by their keys behind the document's name: stock.thickness, printer.feed.step.
import type { Quantity } from '../quantities/quantity.ts'
import { childOf, type SchemaNode, schemaOf } from '../schema/schema.ts'
import type { F, Table } from './field.ts'
import { levelsOf } from './level-names.ts'
import { type SettingValue, settingAt, writtenText } from './setting.ts'
import type { Setup } from './setup.ts'

export interface SettingMeaning {
  /** Its place tells whose it is: the profile's, a base's, the stock's or the printer's. */
  readonly field: F<SettingValue>
  /** As it is written. */
  readonly text: string
  /** What the printer makes of a level or a mode: "180 Pa". */
  readonly real: string | undefined
  /** Equal for equal values, in whatever unit. */
  readonly word: string
  /** Equal for what means the same at the machine. */
  readonly meaning: string
}

/** The documents a key may name in front. */
const OTHERS = ['stock', 'printer'] as const

/** Which document a key is of, and the key there: ['printer', ['feed', 'step']]. */
function placeOf(key: string): readonly ['media' | 'stock' | 'printer', readonly string[]] {
  const [first = '', ...rest] = key.split('.')
  const other = OTHERS.find((name) => name === first && rest.length > 0)
  return other ? [other, rest] : ['media', [first, ...rest]]
}

/** Whether a key names one value of the format that is no evidence. */
export function isSetting(key: string): boolean {
  const [kind, path] = placeOf(key)
  const node = path.reduce<SchemaNode | undefined>(
    (at, step) => (at === undefined ? undefined : at.kind === 'map' || at.kind === 'table' ? childOf(at, step) : undefined),
    schemaOf(kind),
  )
  return node?.kind === 'leaf'
}

/** A setting as a profile has it, its own or inherited; undefined where nothing gives it. */
export function settingMeaning(setup: Setup, key: string): SettingMeaning | undefined {
  const [kind, path] = placeOf(key)
  const document = kind === 'media' ? setup.profile : setup[kind]
  const field = kind === 'media' ? settingAt(document, path) : valueAt(document, path)
  if (!field) return undefined
  const word = canonical(field.value)
  const made = kind === 'media' ? madeOf(setup, key, field.value) : undefined
  return { field, text: writtenText(field), real: made?.text, word, meaning: made?.meaning ?? word }
}

function valueAt(document: unknown, path: readonly string[]): F<SettingValue> | undefined {
  const at = path.reduce<unknown>((value, step) => {
    const entries = (value as Partial<Table<unknown>> | undefined)?.entries
    return entries instanceof Map ? entries.get(step) : (value as Readonly<Record<string, unknown>> | undefined)?.[step]
  }, document)
  return typeof at === 'object' && at !== null && 'value' in at ? (at as F<SettingValue>) : undefined
}

interface Made {
  readonly text: string
  readonly meaning: string
}

function madeOf({ printer }: Setup, key: string, value: SettingValue): Made | undefined {
  if (key === 'mode') {
    const mode = printer?.modes?.entries.get(String(value))
    const fields = Object.entries(mode ?? {}).filter((entry): entry is [string, F<SettingValue>] => 'value' in Object(entry[1]))
    if (fields.length === 0) return undefined
    return {
      text: fields.map(([name, field]) => `${name} ${writtenText(field)}`).join(', '),
      meaning: fields.map(([name, field]) => `${name} ${canonical(field.value)}`).join(', '),
    }
  }
  const level = typeof value === 'number' ? levelsOf(printer, key)?.entries.get(String(value)) : undefined
  return level && { text: writtenText(level as F<Quantity>), meaning: canonical(level.value) }
}

/** Nine digits: what conversions leave behind does not make a value another. */
const canonical = (value: SettingValue): string =>
  typeof value !== 'object'
    ? String(value)
    : [
        value.dimension,
        ...[value.si, value.second, value.uncertainty].flatMap((n) => (n === undefined ? [] : [rounded(n)])),
      ].join(' ')

const rounded = (value: number): string => (Math.abs(value) < 1e-12 ? '0' : String(Number(value.toPrecision(9))))
