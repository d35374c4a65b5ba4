// What was last read back from the machine beside what the file says, setting by setting and by meaning: units, levels and measured lengths are seen
// through. What was read back before that is history, and says nothing of today.

import { recorded } from '../../base/recorder.ts'
import { stateOf } from '../../model/evidence-state.ts'
import type { F } from '../../model/field.ts'
import { levelsOf } from '../../model/level-names.ts'
import { type KeyedKey, readBacksOf } from '../../model/read-backs.ts'
import { type SettingValue, sameValue, settingAt } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import { equalSi } from '../../quantities/compare.ts'
import { toStep } from '../../quantities/format.ts'
import { schemaAt, schemaOf } from '../../schema/schema.ts'
import { feedOf } from '../feed/facts.ts'
import { correctionOfLength } from '../feed/held.ts'

export interface ReadBack {
  /** The key in an entry of `keyed`: 'platen'. */
  readonly key: KeyedKey
  /** The setting it reads back: ['heat', 'platen']. */
  readonly path: readonly string[]
  readonly keyed: F<SettingValue>
  /** The day of the newest read-back that names it; undefined where that has none. */
  readonly date: F<string> | undefined
  /** The setting in the file, its own or inherited; undefined where it gives none. */
  readonly setting: F<SettingValue> | undefined
  /** Undefined where there is nothing to compare with. */
  readonly same: boolean | undefined
  /** For a measured length, the correction it stands for where the machine had none before. */
  readonly correction: number | undefined
  /** Something dated after the reading back that was made with the file's value, where the two differ: the reading is old. */
  readonly since: { readonly date: string; readonly what: string } | undefined
}

/** Every setting that was read back, in the order of the format, by the newest read-back that names it. Empty without `keyed`. */
export const keyedOf: (setup: Setup) => readonly ReadBack[] = recorded('read-back', (setup) =>
  setup.own.keyed?.items.length ? READ_BACK.flatMap(([key, path]) => readBack(setup, key, path) ?? []) : [],
)

/** The keys in an entry of `keyed` with the settings they read back. */
export const READ_BACK: readonly (readonly [KeyedKey, readonly string[]])[] = (() => {
  const keyed = schemaOf('media').properties.get('keyed')
  const entry = keyed?.kind === 'list' ? keyed.items : undefined
  return entry?.kind === 'map'
    ? [...entry.properties].flatMap(([key, node]) =>
        node.readsBack ? [[key as KeyedKey, node.readsBack.split('.')] as const] : [],
      )
    : []
})()

function readBack(setup: Setup, key: KeyedKey, path: readonly string[]): ReadBack | undefined {
  const [entry] = readBacksOf(setup.own.keyed, key, setup.today)
  const keyed = settingAt(entry, [key])
  if (!keyed) return undefined
  const setting = settingAt(setup.profile, path)
  const correction = key === 'correction' ? correctionOf(setup, keyed.value, 0) : undefined
  const value = setting?.value ?? defaultOf(path)
  const same = value === undefined ? undefined : agree(setup, key, keyed.value, value)
  return {
    key,
    path,
    keyed,
    date: entry?.date,
    setting,
    same,
    correction,
    since: same === false && setting ? laterThan(setup, entry?.date?.value, key, setting.value) : undefined,
  }
}

/** Whether a value that was read back and one of a file mean the same at the machine. */
export function agree(setup: Setup, key: string, keyed: SettingValue, file: SettingValue): boolean {
  if (sameValue(keyed, file)) return true
  if (key === 'correction') return sameCorrection(setup, keyed, file)
  const levels = levelsOf(setup.printer, key)
  if (!levels || typeof keyed === typeof file) return false
  const quantity = (v: SettingValue): SettingValue | undefined =>
    typeof v === 'number' ? levels.entries.get(String(v))?.value : v
  const [a, b] = [quantity(keyed), quantity(file)]
  return a !== undefined && b !== undefined && sameValue(a, b)
}

/** In steps of the machine; a measured length stands for what it makes of the correction the machine had before, which is 0 or that of the newest check. */
function sameCorrection(setup: Setup, keyed: SettingValue, file: SettingValue): boolean {
  if (typeof keyed !== 'object' || typeof file !== 'object') return false
  const { step, halfStep, newest } = feedOf(setup)
  if (keyed.dimension === 'relative') {
    const rounded = step === undefined ? undefined : toStep(file.si, step)
    return rounded !== undefined && equalSi(rounded, keyed.si, 'relative')
  }
  return [0, newest?.check.applied?.value.si].some((before) => {
    const made = before === undefined ? undefined : correctionOf(setup, keyed, before)
    return made !== undefined && Math.abs(made - file.si) <= halfStep * (1 + 1e-9)
  })
}

const correctionOf = (setup: Setup, keyed: SettingValue, before: number): number | undefined =>
  typeof keyed === 'object' ? correctionOfLength(keyed, feedOf(setup).patternLength, before) : undefined

function defaultOf(path: readonly string[]): SettingValue | undefined {
  const text = schemaAt('media', path)?.default
  return text === undefined ? undefined : /^\d+$/.test(text) ? Number(text) : text
}

/** The first thing after the reading back that was made with the value in the file. */
function laterThan(setup: Setup, read: string | undefined, key: string, file: SettingValue): ReadBack['since'] {
  const { own } = setup
  if (read === undefined) return undefined
  const made: { date: string | undefined; value: SettingValue | undefined; what: string }[] = []
  if (key === 'correction') {
    for (const { date, applied } of own.feed?.checks?.items ?? [])
      made.push({ date: date?.value, value: applied?.value, what: 'the check' })
    const { fine } = own.feed ?? {}
    if (fine) made.push({ date: fine.date?.value, value: fine.applied?.value, what: 'the fine pattern' })
  }
  if (key === 'gap' && own.alignment) {
    const found = stateOf(setup, own.alignment.under)
    // What was printed elsewhere tells nothing of this machine.
    const state = found.ok && found.value.printer?.value === setup.profile.printer?.value ? found.value : undefined
    made.push({ date: own.alignment.date?.value, value: state?.gap?.value, what: 'the alignment' })
  }
  for (const { zone, set, date } of own.heat?.readings?.items ?? [])
    if (zone?.value === key) made.push({ date: date?.value, value: set?.value, what: 'the heat reading' })
  const after = made.filter((m) => m.date !== undefined && m.date > read && m.value !== undefined && sameValue(m.value, file))
  const first = after.sort((a, b) => (a.date! < b.date! ? -1 : 1))[0]
  return first && { date: first.date!, what: first.what }
}

/** Why the machine's value is not taken over into the file; undefined where it may be. No heat is taken over that the stock does not stand. */
export function takeOverRefused(setup: Setup, { path, key, keyed: { value } }: ReadBack): string | undefined {
  const most = setup.material.property('max-web-temperature')
  if (path[0] === 'heat' && typeof value === 'object' && most && value.si > most.range.low) {
    const limit = shown(setup, most.range.low, 'temperature')
    return `The stock stands ${limit}${most.origin === 'typical' ? ' (typical)' : ''}: lower the heat at the machine instead.`
  }
  if (key === 'slot') return 'Another profile may use that place: move the settings at the machine, or change the slot by hand.'
  return undefined
}
