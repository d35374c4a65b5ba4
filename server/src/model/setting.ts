// The value of one setting, whatever its kind: looked up by path, written as in the document, and compared by what it means.
import { equalSi } from '../quantities/compare.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { schemaOf, walk } from '../schema/schema.ts'
import type { F } from './field.ts'

/** The settings that a profile takes from its base where it gives none itself. */
export const INHERITED: readonly (readonly string[])[] = [...walk(schemaOf('media'))]
  .filter((node) => node.kind === 'leaf' && node.inherit && !node.path.includes('*'))
  .map((node) => node.steps)

export type SettingValue = string | number | boolean | Quantity

/** The value of a profile at a path of keys; undefined where there is none or a section stands there. */
export function settingAt(profile: unknown, path: readonly string[]): F<SettingValue> | undefined {
  let at: unknown = profile
  for (const key of path) at = (at as Readonly<Record<string, unknown>> | undefined)?.[key]
  return typeof at === 'object' && at !== null && 'value' in at ? (at as F<SettingValue>) : undefined
}

/** As it is written, for messages; a level by its name where it has one. */
export const writtenText = ({ place: { node }, value, called }: F<SettingValue>): string =>
  called ?? (node.kind === 'scalar' ? node.text : typeof value === 'object' ? `${value.written} ${value.unit.id}` : String(value))

/** Whether two values mean the same: equal after conversion. */
export function sameValue(a: SettingValue, b: SettingValue): boolean {
  if (typeof a !== 'object' || typeof b !== 'object') return a === b
  return a.dimension === b.dimension && equalSi(a.si, b.si, a.dimension)
}
