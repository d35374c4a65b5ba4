// The names that a shop calls the levels of a machine by: low, mid, high. A document may give a level by its name or its number. It is resolved here and nowhere
// else, when the documents are joined (`resolveSetup`): whoever computes meets the number, and whoever tells of it (`writtenText`) the name.

import { formatQuantity } from '../quantities/format.ts'
import { type Node, resolveAlias } from '../syntax/tree.ts'
import type { F, Section } from './field.ts'
import type { MediaDocument, PrinterDocument, State } from './generated/documents.ts'
import { isLevelName } from './read.ts'
import type { SettingValue } from './setting.ts'

/** The settings that may be levels. */
export const LEVEL_SETTINGS = ['suction', 'web.tension'] as const

export type LevelSetting = (typeof LEVEL_SETTINGS)[number]

/** The levels of a printer that a setting may be given by, or what is read back of it. */
export const levelsOf = (printer: PrinterDocument | undefined, key: string) =>
  key === 'suction' ? printer?.suction?.levels : isTension(key) ? printer?.web?.['tension-levels'] : undefined

/** What the shop calls those levels: numbers by name. */
export const levelNamesOf = (printer: PrinterDocument | undefined, key: string) =>
  key === 'suction' ? printer?.suction?.['level-names'] : isTension(key) ? printer?.web?.['tension-level-names'] : undefined

const isTension = (key: string): boolean => key === 'web.tension' || key === 'tension'

/** What a level is called, and written by in a new text: its name, or its number where it has none. */
export function levelName(printer: PrinterDocument | undefined, key: string, level: number): string {
  for (const [name, { value }] of levelNamesOf(printer, key)?.entries ?? []) if (value === level && isLevelName(name)) return name
  return String(level)
}

/** "level 3, 320 Pa" */
export function levelWords(printer: PrinterDocument | undefined, key: string, level: number): string {
  const amount = levelsOf(printer, key)?.entries.get(String(level))
  return `level ${level}${amount ? `, ${formatQuantity(amount.value)}` : ''}`
}

/** A field that may be a level, with its number as value and what to call it. As it is where the printer has no such name: then it stays a word. */
export function resolveLevel<T extends F<SettingValue>>(
  printer: PrinterDocument | undefined,
  key: string,
  field: T | undefined,
): T | undefined {
  const names = levelNamesOf(printer, key)?.entries
  if (!field || !names || typeof field.value === 'object') return field
  const level = typeof field.value === 'string' ? names.get(field.value)?.value : field.value
  if (typeof level !== 'number') return field
  const called = typeof field.value === 'string' ? field.value : levelName(printer, key, level)
  if (called === String(level)) return field
  const last = made.get(field) as (F<number> & { called: string }) | undefined
  if (last?.value === level && last.called === called) return last as unknown as T
  const now = { value: level, place: field.place, called }
  made.set(field, now)
  return now as unknown as T
}

/**
 * A profile with its levels resolved: its settings and read-backs by its printer, each state by the printer that the state names (`other` finds it).
 * What holds no level with a name stays the same object, and so does what is resolved to the same again.
 */
export function withLevels(
  profile: MediaDocument,
  printer: PrinterDocument | undefined,
  other: (id: string) => PrinterDocument | undefined,
): MediaDocument {
  const { web, conditions, keyed } = profile
  const states = [...(conditions?.entries ?? [])].map(([name, state]) => [name, stateWith(state, printer, other)] as const)
  const sameStates = states.every(([name, state]) => state === conditions!.entries.get(name))
  const read = keyed?.items.map((entry) => resolved(printer, entry, ['suction', 'tension']))
  const sameRead = (read ?? []).every((entry, i) => entry === keyed!.items[i])
  return over(profile, {
    suction: resolveLevel(printer, 'suction', profile.suction),
    web: web && resolved(printer, web, ['tension']),
    conditions: sameStates ? conditions : over(conditions!, { entries: new Map(states) }),
    keyed: sameRead ? keyed : over(keyed!, { items: read! }),
  })
}

/** The levels of a resolved profile that have a name, in its settings, states and read-backs. */
export const calledLevels = (profile: MediaDocument | undefined): readonly (F<number> & { readonly called: string })[] =>
  [
    profile?.suction,
    profile?.web?.tension,
    ...[...(profile?.conditions?.entries.values() ?? [])].flatMap((state) => LEVEL_SETTINGS.map((key) => state[key])),
    ...(profile?.keyed?.items ?? []).flatMap((entry) => [entry.suction, entry.tension]),
  ].filter((field): field is F<number> & { readonly called: string } => field?.called !== undefined)

/** Their numbers, by where they stand: a name and its number say the same. */
export const calledLevelsByNode = (profile: MediaDocument | undefined): ReadonlyMap<Node | undefined, number> =>
  new Map(calledLevels(profile).map(({ place, value }) => [resolveAlias(place.node), value]))

/** Whether a level of a state is a word: one that is not resolved, or that nobody knows the number of. */
export const hasWord = (state: State): boolean => LEVEL_SETTINGS.some((key) => typeof state[key]?.value === 'string')

function stateWith(
  state: State,
  printer: PrinterDocument | undefined,
  other: (id: string) => PrinterDocument | undefined,
): State {
  const id = state.printer?.value
  // Another printer is asked for only where something stands there that only it can tell.
  const of = id === undefined ? undefined : id === printer?.printer?.value ? printer : hasWord(state) ? other(id) : undefined
  return resolved(of, state, LEVEL_SETTINGS)
}

/** A section with its levels resolved. */
const resolved = <T extends Section>(printer: PrinterDocument | undefined, section: T, keys: readonly (keyof T & string)[]): T =>
  over(
    section,
    Object.fromEntries(keys.map((key) => [key, resolveLevel(printer, key, section[key] as F<SettingValue>)])) as Partial<T>,
  )

/** What was made of a field or a section last: equal ones stay the same object from one text to the next, so that what rests on them is not made again. */
const made = new WeakMap<object, object>()

function over<T extends Section>(section: T, values: { readonly [K in keyof T]?: T[K] | undefined }): T {
  const keys = Object.keys(values) as (keyof T)[]
  if (keys.every((key) => values[key] === section[key])) return section
  const last = made.get(section) as T | undefined
  if (last && keys.every((key) => values[key] === last[key])) return last
  const now = { ...section }
  for (const key of keys) if (values[key] !== undefined) now[key] = values[key] as T[typeof key]
  made.set(section, now)
  return now
}
