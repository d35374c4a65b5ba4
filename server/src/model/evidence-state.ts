// The state that a piece of evidence names, and why it may speak of nothing here: the half of the question that is the same for every kind of evidence.
// All reasons stand behind "it was" or "they were".
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { shortened } from '../base/shortened.ts'
import { formatQuantity } from '../quantities/format.ts'
import { openedSince, UNREAD } from './events.ts'
import type { F } from './field.ts'
import type { KindOfEvidence, State } from './generated/documents.ts'
import type { SettingValue } from './setting.ts'
import type { Setup } from './setup.ts'
import { type Difference, differencesOf, type Flaw, flawOf, statesOf } from './states.ts'

/** The state of evidence. Refuses where it names none, or one that cannot be taken at its word. */
export function stateOf(setup: Setup, under: F<string> | undefined): Outcome<State> {
  if (!under) return refuse('under', 'made under settings that are not known')
  const { value } = under
  const flaw = flawOf(setup, value)
  const state = statesOf(setup).get(value)
  return flaw === undefined && state ? ok(state) : refuse('under', `made under '${value}', ${FLAWS[flaw ?? 'unknown']}`)
}

const FLAWS: Readonly<Record<Flaw, string>> = {
  unknown: 'a state that is not among the conditions',
  twice: 'a name that two states have',
  differs: 'a state that does not hold what its name stands for',
}

/** Why evidence of this state is another pairing's: it cannot be brought here. */
export function otherPairing({ profile }: Pick<Setup, 'profile'>, state: State): string | undefined {
  const { stock, printer } = state
  if (!stock || !printer) return 'made under a state that does not say on which stock and printer'
  if (stock.value !== profile.stock?.value)
    return `made on ${stock.value}, ${profile.stock ? `and the stock is ${profile.stock.value}` : 'and the profile names no stock'}`
  if (printer.value !== profile.printer?.value)
    return `made on ${printer.value}, ${profile.printer ? `and the printer is ${profile.printer.value}` : 'and the profile names no printer'}`
  return undefined
}

/** What was done to the machine since a day, so that evidence of this kind proves nothing any more. */
export function openedBy(
  { printer, today }: Pick<Setup, 'printer' | 'today'>,
  kind: KindOfEvidence,
  date: F<string> | undefined,
) {
  const event = date && openedSince(printer, kind, date.value, today)
  return event && `made before ${event.what === UNREAD ? UNREAD : EVENT_WORDS[event.what]} on ${event.date}`
}

const EVENT_WORDS = {
  'head-changed': 'a head was changed',
  'head-cleaned': 'a head was cleaned',
  'feed-roller-changed': 'the feed roller was changed',
  'feed-roller-cleaned': 'the feed roller was cleaned',
  'belt-changed': 'the belt was changed',
  'ink-changed': 'another ink was filled in',
  'heater-replaced': 'a heater was replaced',
  'sensor-replaced': 'a temperature sensor was replaced',
  'blower-changed': 'the blower was changed',
  'levels-changed': 'a level came to mean another amount',
  'mode-changed': 'a mode came to mean something else',
  levelled: 'the machine was levelled',
  moved: 'the machine was moved',
  serviced: 'the machine was serviced',
} as const

/** Where a state differs from today in one of the settings that evidence rests on, beside stock and printer. */
export const differencesIn = (setup: Setup, state: State, keys: ReadonlySet<string>): readonly Difference[] =>
  differencesOf(setup, state, keys)

const valueText = ({ value }: F<SettingValue>): string =>
  typeof value === 'object' ? formatQuantity(value) : shortened(String(value), 60)

/** "made with suction 3, and it is 5", "made in fine, and the mode is quick", "made under a state that does not give heat.after". */
export function differenceText({ key, then, now, kind }: Difference): string {
  if (kind === 'not-known-then') return `made under a state that does not give ${key}`
  const [before, name] =
    key === 'mode' ? [`made in ${valueText(then!)}`, 'the mode'] : [`made with ${key} ${valueText(then!)}`, 'it']
  if (kind === 'gone') return `${before}, which the printer does not have`
  return kind === 'differs' ? `${before}, and ${name} is ${valueText(now!)}` : `${before}, and the profile gives none`
}
