// What the checks of a feed prove, for whoever compares two versions of a profile.
import type { AreaStanding } from '../standing.ts'
import { feedOf } from './facts.ts'
import { feedAdvice } from './next.ts'
import { verdictOf } from './verdict.ts'
import { verdictSentences, wordText } from './verdict-words.ts'
import { keyInText } from './words.ts'

export const standing: AreaStanding = (setup) => {
  const facts = feedOf(setup)
  if (!setup.profile.feed && facts.evidence.length === 0) return undefined
  return {
    kind: 'feed.checks',
    word: verdictOf(facts).word,
    text: wordText(facts),
    sentences: verdictSentences(facts),
    keyIn: feedAdvice(facts)?.machine === 'key-in' ? keyInText(facts) : undefined,
  }
}
