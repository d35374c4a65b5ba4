// States in words: what was set, how it differs from today, and which evidence is under it.
import type { F } from './field.ts'
import type { State } from './generated/documents.ts'
import { type SettingValue, writtenText } from './setting.ts'
import type { Setup } from './setup.ts'
import { kindWords, type MadeUnder } from './state-evidence.ts'
import { type Difference, differencesOf, STATE_SETTINGS, stateValue } from './states.ts'

/** What a person calls a setting of a state, in front of its value. */
export const settingWords = (key: string): string => WORDS[key] ?? key

const WORDS: Readonly<Record<string, string>> = {
  'web.tension': 'tension',
  'web.speed': 'web speed',
  'heat.before': 'heat before the platen',
  'heat.platen': 'heat of the platen',
  'heat.after': 'heat after the platen',
  'drying.pause': 'pause',
  'drying.run-out': 'run-out',
}

/** Values as a state would hold them. */
export const stateOf = (fields: ReadonlyMap<string, F<SettingValue>>): State => Object.fromEntries(fields) as unknown as State

export const AS_TODAY = 'as today'

/** "as today", or "suction 5 instead of 3; gap not known then". */
export function differenceWords(setup: Setup, state: State): string {
  const differences = differencesOf(setup, state)
  if (differences.length === 0) return AS_TODAY
  const unknown = differences.filter(({ kind }) => kind === 'not-known-then').map(({ key }) => settingWords(key))
  const told = differences.flatMap((one) => ofOne(setup, one) ?? [])
  return [...told, ...(unknown.length > 0 ? [`${unknown.join(', ')} not known then`] : [])].join('; ')
}

function ofOne({ printer }: Setup, { key, kind, then, now }: Difference): string | undefined {
  if (!then) return undefined
  const value = `${settingWords(key)} ${writtenText(then)}`
  switch (kind) {
    case 'differs':
      return `${value} instead of ${writtenText(now!)}`
    case 'gone':
      return `${value}, which ${printer?.printer?.value ?? 'the printer'} does not have`
    case 'not-known-now':
      return `${value}, and nothing is said today`
    case 'not-known-then':
      return undefined
  }
}

/** What a state says, setting by setting, in the order of the format. */
export const stateRows = (state: State): readonly (readonly [words: string, value: string])[] =>
  STATE_SETTINGS.flatMap(({ key }) => {
    const field: F<SettingValue> | undefined = stateValue(state, key)
    return field ? [[settingWords(key), writtenText(field)] as const] : []
  })

/** "3 feed checks (2026-10-29 to 2026-11-19), 1 alignment (2026-10-29)"; undefined for none. */
export function evidenceWords(made: readonly MadeUnder[]): string | undefined {
  const kinds = [...new Set(made.map(({ kind }) => kind))]
  const words = kinds.map((kind) => {
    const ofKind = made.filter((one) => one.kind === kind)
    const days = ofKind.flatMap(({ date }) => (date ? [date.value] : [])).sort()
    const [first, last] = [days[0], days.at(-1)]
    const when = first === undefined ? '' : first === last ? ` (${first})` : ` (${first} to ${last})`
    return `${ofKind.length} ${kindWords(kind, ofKind.length)}${when}`
  })
  return words.length === 0 ? undefined : words.join(', ')
}
