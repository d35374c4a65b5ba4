// What the machine may have been set to when something was measured just now: as this profile says, and as it was read back, where the two differ. The file
// is not the machine, so where they differ the person is asked.
import { schemaAt } from '../schema/schema.ts'
import type { F } from './field.ts'
import { type KeyedKey, readBacksOf } from './read-backs.ts'
import { type SettingValue, settingAt } from './setting.ts'
import type { Setup } from './setup.ts'
import type { StateSource } from './state-add.ts'
import { madeUnder } from './state-evidence.ts'
import { flawOf, sameMeaning, settingsNow, settingsOfPrinter, statesOf, stateValue } from './states.ts'

export interface ProposedState {
  /** In words, behind a label: "as read back 2026-11-19". */
  readonly words: string
  readonly fields: ReadonlyMap<string, F<SettingValue>>
  readonly from: StateSource
}

/** The likeliest first. More than one where somebody has to say which. */
export function proposedStates(setup: Setup): readonly ProposedState[] {
  const now = settingsNow(setup)
  const asSet: ProposedState = { words: 'as in this profile', fields: now, from: 'profile' }
  const fields = new Map(now)
  let date: string | undefined
  let differs = false
  for (const { key } of settingsOfPrinter(setup.printer)) {
    const set = now.get(key)
    const back = readBackOf(setup, key)
    if (!back || !set || sameMeaning(setup.printer, key, back.value.value, set.value) || isOld(setup, key, set.value, back.date))
      continue
    fields.set(key, back.value)
    if (back.date !== undefined && (date === undefined || back.date > date)) date = back.date
    differs = true
  }
  return differs ? [{ words: `as read back${date === undefined ? '' : ` ${date}`}`, fields, from: 'read-back' }, asSet] : [asSet]
}

/** A copy of today's settings for whoever knows that another one ran: to be changed where it stands. */
export const otherState = (setup: Setup): ProposedState => ({
  words: 'another setting ran: write a new state as said',
  fields: settingsNow(setup),
  from: 'said',
})

/** What was read back of a setting, and when. */
function readBackOf(
  setup: Setup,
  key: string,
): { readonly value: F<SettingValue>; readonly date: string | undefined } | undefined {
  const name = READ_BACK.get(key)
  const entry = name === undefined ? undefined : readBacksOf(setup.own.keyed, name as KeyedKey, setup.today)[0]
  const value = entry && settingAt(entry, [name!])
  return value && { value, date: entry.date?.value }
}

/** Whether something was made with today's value after a read-back, under a state that says so: then it was keyed in since. */
function isOld(setup: Setup, key: string, now: SettingValue, read: string | undefined): boolean {
  return madeUnder(setup.own).some(({ under, date }) => {
    const state = under && !flawOf(setup, under.value) ? statesOf(setup).get(under.value) : undefined
    const then = state && stateValue(state, key)
    return (
      then !== undefined &&
      date !== undefined &&
      read !== undefined &&
      date.value > read &&
      sameMeaning(setup.printer, key, then.value, now)
    )
  })
}

/** The key below `keyed` that reads back a setting of a state. */
export const READ_BACK: ReadonlyMap<string, string> = (() => {
  const keyed = schemaAt('media', ['keyed'])
  const entry = keyed?.kind === 'list' ? keyed.items : keyed
  return new Map(
    entry?.kind === 'map'
      ? [...entry.properties].flatMap(([key, { readsBack }]) => (readsBack === undefined ? [] : [[readsBack, key] as const]))
      : [],
  )
})()
