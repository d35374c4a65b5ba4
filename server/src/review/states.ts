// States that mean something else than before: evidence stands under a name, and what the name stands for moved, in the profile itself or by what the
// printer calls a level or a mode. An event of the machine that is new explains it; without one somebody has to say what happened.
import { openingOf } from '../model/events.ts'
import type { MachineEvent, PrinterDocument, State } from '../model/generated/documents.ts'
import { levelsOf } from '../model/level-names.ts'
import { type SettingValue, writtenText } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { kindWords, madeUnder } from '../model/state-evidence.ts'
import { settingWords } from '../model/state-words.ts'
import { STATE_SETTINGS, statesOf, stateValue } from '../model/states.ts'
import { formatQuantity } from '../quantities/format.ts'
import type { StateMoved } from './change-set.ts'

/** The states of a profile, of those that both versions have, that mean something else now. */
export function statesMoved(before: Setup, after: Setup): readonly StateMoved[] {
  const then = statesOf(before)
  const explained = hasNewEvent(before.printer, after.printer)
  const out: StateMoved[] = []
  for (const [name, state] of statesOf(after)) {
    const was = then.get(name)
    const under = madeUnder(after.own).filter((made) => made.under?.value === name)
    if (!was || under.length === 0) continue
    const moves = STATE_SETTINGS.map(({ key }) => moveOf(key, [before, was], [after, state])).filter((move) => move !== undefined)
    const rewritten = moves.some(({ by }) => by === 'itself')
    if (moves.length === 0 || (explained && !rewritten)) continue
    const kinds = [...new Set(under.map(({ kind }) => kind))].map((kind) => {
      const count = under.filter((made) => made.kind === kind).length
      return `${count} ${kindWords(kind, count)}`
    })
    const meant = moves.map(({ was: text }) => text).join(', ')
    const means = moves.map(({ is: text }) => text).join(', ')
    const event = moves.some(({ by }) => by === 'mode') ? 'mode-changed' : 'levels-changed'
    const todo = rewritten
      ? 'What was measured was measured in the old one: give the new settings a state of their own.'
      : `No event of the machine says that it was changed: write it into the printer's events (${event}), or undo it.`
    out.push({
      state: name,
      text: `The state ${name} meant ${meant}, and now means ${means}. Under it stand ${kinds.join(' and ')}. ${todo}`,
    })
  }
  return out
}

interface Move {
  readonly was: string
  readonly is: string
  /** Whether the state says something else, or the printer calls a level or a mode otherwise. */
  readonly by: 'itself' | 'level' | 'mode'
}

/** What a setting of a state stood for and stands for, where that is not the same. */
function moveOf(key: string, [before, old]: [Setup, State], [after, state]: [Setup, State]): Move | undefined {
  const [a, b] = [stateValue(old, key), stateValue(state, key)]
  const text = (field: typeof a, setup: Setup): string => {
    if (!field) return `${settingWords(key)} not known`
    const real = realText(setup.printer, key, field.value)
    return `${settingWords(key)} ${writtenText(field)}${real === undefined ? '' : ` (${real})`}`
  }
  const meaning = (field: typeof a, setup: Setup): string | undefined =>
    field && (realMeaning(setup.printer, key, field.value) ?? meaningOf(field.value))
  if (meaning(a, before) === meaning(b, after)) return undefined
  const same = (a && meaningOf(a.value)) === (b && meaningOf(b.value))
  return { was: text(a, before), is: text(b, after), by: same ? (key === 'mode' ? 'mode' : 'level') : 'itself' }
}

/** What a level stands for at a printer, in words; undefined for what says it itself. */
export function realText(printer: PrinterDocument | undefined, key: string, value: SettingValue): string | undefined {
  const amount = typeof value === 'number' ? levelsOf(printer, key)?.entries.get(String(value))?.value : undefined
  return amount && formatQuantity(amount)
}

/** A level and the pressure or pull that it stands for are the same. */
function realMeaning(printer: PrinterDocument | undefined, key: string, value: SettingValue): string | undefined {
  const amount = typeof value === 'number' ? levelsOf(printer, key)?.entries.get(String(value))?.value : undefined
  if (amount) return meaningOf(amount)
  const mode = key === 'mode' ? printer?.modes?.entries.get(String(value)) : undefined
  if (!mode) return undefined
  const { resolution, passes, directions } = mode
  const dots = resolution && `${meaningOf(resolution.value)} ${resolution.value.second}`
  return [value, dots, passes?.value, directions?.value, mode['carriage-speed'] && meaningOf(mode['carriage-speed'].value)].join(
    ' ',
  )
}

const meaningOf = (value: SettingValue): string =>
  typeof value === 'object' ? `${value.dimension} ${Number(value.si.toPrecision(9))}` : String(value)

/** An event that one version does not have, by its day and what was done. */
function hasNewEvent(before: PrinterDocument | undefined, after: PrinterDocument | undefined): boolean {
  const name = (event: MachineEvent): string | undefined => {
    const opening = openingOf(event)
    return opening && `${opening.date} ${opening.what}`
  }
  const then = new Set((before?.events?.items ?? []).map(name))
  return (after?.events?.items ?? []).some((event) => name(event) !== undefined && !then.has(name(event)))
}
