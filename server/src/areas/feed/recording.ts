// What new feed checks and fine picks are printed with: the correction that the machine holds, as far as that is known, and else what the profile says.
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { knownOr, type Recording } from '../recording.ts'
import { feedOf } from './facts.ts'
import { correctionText } from './words.ts'

export const recordings: readonly Recording[] = [
  {
    kind: 'feed.checks',
    words: 'a feed check',
    entries: (setup) => [{ parts: { applied: applied(setup) } }],
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
