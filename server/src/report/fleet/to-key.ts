// What has to be keyed in at one machine now: slot by slot in the order of its panel, ticked off by what was read back; what is not proven comes last, with
// the print that comes first. Pure: setups in, plain values out.
import { feedOf } from '../../areas/feed/facts.ts'
import { nextPrintOf } from '../../areas/feed/next-print.ts'
import { asInFile, verdictOf } from '../../areas/feed/verdict.ts'
import { verdictSentences } from '../../areas/feed/verdict-words.ts'
import { type PanelSetting, panelOf } from '../../areas/machine/panel.ts'
import { keyedOf } from '../../areas/machine/read-back.ts'
import { readBacksOf } from '../../model/read-backs.ts'
import { retiredOf, retiredText } from '../../model/retired.ts'
import { settingAt, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { RULES } from '../../rules/generated/index.ts'
import type { Finding } from '../../rules/rule.ts'
import { type Holds, holdsOf } from './holds.ts'
import { type Way, waysOf } from './ways.ts'

/**
 * has-it: a read-back, or something measured after it, shows the machine has the file's value. key-in: it has another, or nobody read it back. in-doubt:
 * the number is not to be keyed in before something is printed or put right, as `note` says.
 */
export type ToKeyState = 'has-it' | 'key-in' | 'in-doubt'

export interface ToKeyItem extends PanelSetting {
  readonly state: ToKeyState
  /** What was read back last, where that is not what the file has. */
  readonly machine: { readonly text: string; readonly date: string | undefined } | undefined
  /** The day on which a read-back, or something printed with it, showed that the machine has it. */
  readonly since: string | undefined
  /** Where machine and file differ: both ways, each with what the evidence says of it. */
  readonly ways: readonly Way[]
}

export interface ToKeySlot {
  /** The memory place; undefined for a profile that names none. */
  readonly slot: number | undefined
  readonly profile: string
  readonly title: string | undefined
  readonly stock: string | undefined
  readonly mode: string | undefined
  readonly file: string
  /** Since when it is out of use: then nothing is keyed in, and its place is free. */
  readonly retired: string | undefined
  /** Whose numbers the machine held when it was read back, where they are another profile's. */
  readonly holds: Holds | undefined
  readonly items: readonly ToKeyItem[]
}

/** A profile of the printer, and what the rules found in it and in its bases. */
export interface OnPrinter {
  readonly setup: Setup
  readonly findings: readonly Finding[]
  /** Why its numbers are not known to stay. */
  readonly unsettled: string | undefined
}

/** Of all profiles on one printer, in the order of their slots; those without one at the end. */
export function toKey(profiles: readonly OnPrinter[]): readonly ToKeySlot[] {
  const setups = profiles.map(({ setup }) => setup)
  return profiles
    .map((one) => slotOf(one, setups))
    .sort((a, b) => (a.slot ?? Infinity) - (b.slot ?? Infinity) || (a.profile < b.profile ? -1 : 1))
}

function slotOf({ setup, findings, unsettled }: OnPrinter, others: readonly Setup[]): ToKeySlot {
  const { own, profile } = setup
  const retired = retiredOf(setup)
  return {
    slot: own.slot?.value,
    profile: own.profile?.value ?? '',
    title: own.title?.value,
    stock: profile.stock?.value,
    mode: profile.mode?.value,
    file: setup.file,
    retired: retired && retiredText(retired),
    holds: retired ? undefined : holdsOf(setup, others),
    items: retired ? [] : panelOf(setup).map((one) => itemOf(setup, one, findings, unsettled)),
  }
}

function itemOf(setup: Setup, one: PanelSetting, findings: readonly Finding[], unsettled: string | undefined): ToKeyItem {
  const found = keyedOf(setup).find(({ path }) => path.join('.') === one.key)
  const held = one.key === 'feed.correction' ? heldSince(setup) : undefined
  const has = found?.same === true || found?.since !== undefined || held !== undefined
  const apart = found && !has && found.same === false ? found : undefined
  const base = {
    ...one,
    machine: apart && { text: writtenText(apart.keyed), date: apart.date?.value },
    since: has ? (held ?? found?.since?.date ?? found?.date?.value) : undefined,
    ways: apart ? waysOf(setup, apart, one) : [],
  }
  const doubt = unsettled ?? atFault(setup, one, findings) ?? (one.key === 'feed.correction' ? feedDoubt(setup, has) : undefined)
  if (doubt !== undefined) return { ...base, state: 'in-doubt', note: doubt }
  if (has) return { ...base, state: 'has-it', note: undefined }
  return { ...base, state: one.text === undefined ? 'in-doubt' : 'key-in' }
}

/** The day of what says that a machine which is told a length holds the file's correction already: then there is no length to key in. */
function heldSince(setup: Setup): string | undefined {
  const { held, applied, halfStep, newest } = feedOf(setup)
  if (!held?.ok || !applied || Math.abs(held.value.correction - applied.value.si) > halfStep) return undefined
  return [newest?.check.date?.value, readBacksOf(setup.own.keyed, 'correction', setup.today)[0]?.date?.value]
    .filter((date) => date !== undefined)
    .toSorted()
    .at(-1)
}

/** Told by this command itself, or of nothing that is keyed in. */
const OWN: ReadonlySet<string> = new Set(['keyed-differs', 'keyed-stale', 'heat-step', 'feed-step'])

const HARMFUL: ReadonlySet<string> = new Set(RULES.filter(({ risk }) => risk === 'harm').map(({ code }) => code))

/** What is wrong with the value in the file, so that nobody should key it in: an error, or what can hurt somebody or a machine. */
function atFault(setup: Setup, { key }: PanelSetting, findings: readonly Finding[]): string | undefined {
  const field = settingAt(setup.profile, key.split('.'))
  if (!field) return undefined
  const { file, node, key: name } = field.place
  const start = name?.start ?? node.start
  return findings.find(
    ({ code, severity, file: at, span }) =>
      at === file &&
      span.start >= start &&
      span.end <= node.end &&
      !OWN.has(code) &&
      (severity === 'error' || (severity === 'warning' && HARMFUL.has(code))),
  )?.message
}

/** Why the correction in the file is not to be keyed in as it stands; undefined where it is proven or carried, whatever the machine holds now. */
function feedDoubt(setup: Setup, has: boolean): string | undefined {
  const facts = asInFile(feedOf(setup))
  const { word } = verdictOf(facts, 'aside')
  if (word === 'proven' || word === 'carried') return undefined
  // What runs already and waits for a print is nothing to key in; what is off is.
  if (has && word !== 'off') return undefined
  return verdictSentences(facts, nextPrintOf(facts), 'aside').join(' ')
}
