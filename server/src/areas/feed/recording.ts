// What new feed checks and fine picks are printed with: the correction that the machine holds, as far as that is known, and else what the profile says.
import type { Check } from '../../model/generated/documents.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { knownOr, type Part, type Recording } from '../recording.ts'
import { feedOf } from './facts.ts'
import { correctionText } from './words.ts'

export const recordings: readonly Recording[] = [
  {
    kind: 'feed.checks',
    words: 'a feed check',
    entries: (setup) => {
      const last = setup.own.feed?.checks?.items.at(-1)
      const [rules, lots] = [instrumentsOf(setup, last?.with?.value), lotsOf(setup, last)]
      const rule: Part = last?.with ? oneOf(rules) : { word: true, of: rules }
      return [{ parts: { applied: applied(setup), with: rule, lot: lots.length > 0 ? oneOf(lots) : { word: true } } }]
    },
  },
  {
    kind: 'feed.fine',
    words: 'fine picks',
    entries: (setup) => {
      const { printer, own } = setup
      const rows = printer?.feed?.fine?.rows?.items.length ?? own.feed?.fine?.picks?.items.length
      return rows === undefined ? [] : [{ parts: { applied: applied(setup), picks: { count: rows } } }]
    },
  },
]

const applied = (setup: Setup) => knownOr(appliedText(setup), '%')

function appliedText(setup: Setup): string | undefined {
  const { correction } = setup.profile.feed ?? {}
  const facts = feedOf(setup)
  const held = facts.held?.ok ? facts.held.value.correction : undefined
  const isSet = held !== undefined && correction !== undefined && Math.abs(held - correction.value.si) <= facts.halfStep
  return held !== undefined && !isSet ? correctionText(facts, held) : correction && writtenText(correction)
}

/** The likeliest, and what else it may be. */
const oneOf = ([known = '', ...others]: readonly string[]): Part => ({ known, others })

/** What lengths are read with: the one that was used last, where one was, then the others of the shop. */
function instrumentsOf(setup: Setup, last: string | undefined): readonly string[] {
  const others = [...(setup.shop.instruments ?? [])].filter(([id, { kind }]) => id !== last && !NO_LENGTHS.has(kind?.value ?? ''))
  return [...(last === undefined ? [] : [last]), ...others.map(([id]) => id)]
}

const NO_LENGTHS: ReadonlySet<string> = new Set(['loupe', 'thermometer', 'hygrometer'])

/** The lot of the newest check, or one that was opened since, then the others that are not used up; none where neither check nor stock tells of lots. */
function lotsOf(setup: Setup, last: Check | undefined): readonly string[] {
  const lots = setup.stock?.lots?.items ?? []
  const open = lots.flatMap(({ lot, opened, finished }) =>
    lot && !finished ? [{ lot: String(lot.value), opened: opened?.value ?? '' }] : [],
  )
  const since = open
    .filter(({ opened }) => opened !== '' && opened > (last?.date?.value ?? ''))
    .sort((a, b) => (a.opened < b.opened ? 1 : -1))
  if (!last?.lot && since.length === 0) return []
  const first = [...since.map(({ lot }) => lot), ...(last?.lot ? [String(last.lot.value)] : [])]
  return [...new Set([...first, ...open.map(({ lot }) => lot)])].slice(0, MOST)
}

/** More than these are no help in a line. */
const MOST = 8
