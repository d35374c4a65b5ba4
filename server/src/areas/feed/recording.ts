// What a new feed check is printed with: the correction that the machine holds, as far as that is known, and else what the profile says.
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import type { Recording } from '../recording.ts'
import { feedOf } from './facts.ts'
import { correctionText } from './words.ts'

export const recording: Recording = {
  kind: 'feed.checks',
  proposed: (setup) => ({ applied: appliedText(setup) }),
}

function appliedText(setup: Setup): string | undefined {
  const { correction } = setup.profile.feed ?? {}
  const facts = feedOf(setup)
  const held = facts.held?.ok ? facts.held.value.correction : undefined
  const isSet = held !== undefined && correction !== undefined && Math.abs(held - correction.value.si) <= facts.halfStep
  return held !== undefined && !isSet ? correctionText(facts, held) : correction && writtenText(correction)
}
