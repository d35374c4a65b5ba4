// What the machine may have been set to when something was measured just now: as this profile says, and as it was read back, where the two differ. The file
// is not the machine, so where they differ the person is asked.
import type { F } from '../../model/field.ts'
import type { SettingValue } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import type { StateSource } from '../../model/state-add.ts'
import { settingsNow, settingsOfPrinter } from '../../model/states.ts'
import { keyedOf } from './read-back.ts'

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
  const back = keyedOf(setup).filter(({ same, since }) => same === false && since === undefined)
  const fields = new Map(now)
  let date: string | undefined
  let differs = false
  for (const { key } of settingsOfPrinter(setup.printer)) {
    const found = back.find(({ path }) => path.join('.') === key)
    if (!found) continue
    fields.set(key, found.keyed)
    if (date === undefined || (found.date?.value ?? '') > date) date = found.date?.value
    differs = true
  }
  if (!differs) return [asSet]
  return [{ words: `as read back${date === undefined ? '' : ` ${date}`}`, fields, from: 'read-back' }, asSet]
}

/** A copy of today's settings for whoever knows that another one ran: to be changed where it stands. */
export const otherState = (setup: Setup): ProposedState => ({
  words: 'another setting ran: write a new state as said',
  fields: settingsNow(setup),
  from: 'said',
})
