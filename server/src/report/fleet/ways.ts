// After a read-back that differs from the file: the machine may be right, or the file. Both ways, each with what the evidence says of it.

import { feedOf } from '../../areas/feed/facts.ts'
import { printsText } from '../../areas/feed/verdict-words.ts'
import { correctionText } from '../../areas/feed/words.ts'
import type { PanelSetting } from '../../areas/machine/panel.ts'
import { agree, type ReadBack, takeOverRefused } from '../../areas/machine/read-back.ts'
import { ok } from '../../base/outcome.ts'
import { reckonFeed } from '../../calc/feed.ts'
import { stateOf } from '../../model/evidence-state.ts'
import type { F } from '../../model/field.ts'
import { type SettingValue, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { stateValue } from '../../model/states.ts'

export interface Way {
  readonly right: 'machine' | 'file'
  /** What to do, and what the evidence says of that value: sentences. */
  readonly text: string
  /** False where this way is not to be gone: the reason stands in the text. */
  readonly open: boolean
}

/** The machine's way first, then the file's. */
export function waysOf(setup: Setup, found: ReadBack, panel: PanelSetting): readonly Way[] {
  const { keyed, setting } = found
  const { correction } = found
  const machine = correction === undefined ? writtenText(keyed) : correctionText(feedOf(setup), correction)
  const file = setting && writtenText(setting)
  const refused = takeOverRefused(setup, found)
  const said = (value: F<SettingValue>): string => evidenceOf(setup, found, value)
  const theirs: Way =
    refused === undefined
      ? { right: 'machine', open: true, text: `If the machine is right, take ${machine} over into the file: ${said(keyed)}.` }
      : { right: 'machine', open: false, text: `The machine's ${machine} is not taken over. ${refused}` }
  if (!setting || file === undefined) return [theirs]
  const key = panel.text === undefined ? 'put the file right first' : `key in ${panel.text} again and read it back`
  return [
    theirs,
    { right: 'file', open: panel.text !== undefined, text: `If the file's ${file} is right, ${key}: ${said(setting)}.` },
  ]
}

/** What was measured with a value, as far as anybody wrote down with what it was printed. */
function evidenceOf(setup: Setup, found: ReadBack, { value }: F<SettingValue>): string {
  if (found.key === 'correction')
    return feedEvidence(setup, typeof value === 'object' && value.dimension === 'relative' ? value.si : found.correction)
  const key = found.path.join('.')
  const made = dated(setup).flatMap(({ date, under, what }) => {
    const state = stateOf(setup, under)
    const then = state.ok ? stateValue(state.value, key) : undefined
    return then && agree(setup, found.key, value, then.value) ? [{ date, what }] : []
  })
  const newest = made.sort((a, b) => (a.date > b.date ? -1 : 1))[0]
  return newest
    ? `${newest.what} of ${newest.date} was made with it${made.length > 1 ? `, and ${made.length - 1} before` : ''}`
    : 'nothing that was measured says that it was made with it'
}

/** What of a profile's evidence names a day and a state, not after today. */
function dated({ own, today }: Setup): readonly { readonly date: string; readonly under: F<string>; readonly what: string }[] {
  const { feed, alignment, heat } = own
  const all = [
    ...(feed?.checks?.items ?? []).map((check) => ({ ...check, what: 'the feed check' })),
    ...(feed?.fine ? [{ ...feed.fine, what: 'the fine pattern' }] : []),
    ...(alignment ? [{ ...alignment, what: 'the alignment' }] : []),
    ...(heat?.readings?.items ?? []).map((reading) => ({ ...reading, what: 'the heat reading' })),
  ]
  return all.flatMap(({ date, under, what }) => (date && under && date.value <= today ? [{ date: date.value, under, what }] : []))
}

/** How many prints come out true with a correction, and whether the newest check was printed with it. */
function feedEvidence(setup: Setup, correction: number | undefined): string {
  const facts = feedOf(setup)
  if (correction === undefined) return 'nobody knows which correction that length made'
  const input = facts.expected ? undefined : facts.input
  const tried = input && reckonFeed({ ...input, applied: correction, held: ok(correction) })
  const chance = tried?.ok ? tried.value.proof?.set : undefined
  const { applied, date } = facts.newest?.check ?? {}
  const printed = applied && Math.abs(applied.value.si - correction) <= facts.halfStep
  const newest = printed ? `, and the newest check, of ${date?.value}, was printed with it` : ''
  return chance === undefined
    ? `no check tells how prints come out with it${newest}`
    : `by the checks ${printsText(facts, chance.print)} with it${newest}`
}
