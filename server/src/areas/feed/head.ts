// Above `feed:` stands what its number is worth, what to key in and where on the panel, and what the next print would gain.
import { recorded } from '../../base/recorder.ts'
import type { Setup } from '../../model/setup.ts'
import type { SectionHead } from '../head.ts'
import { type FeedFacts, feedOf } from './facts.ts'
import { feedAdvice } from './next.ts'
import { isOpen, nextPrintOf } from './next-print.ts'
import { nextPrintSentences, nextPrintTitle } from './next-print-words.ts'
import { verdictOf } from './verdict.ts'
import { missingDeed, wordText } from './verdict-words.ts'
import { keyInText } from './words.ts'

export const head: SectionHead = {
  section: 'feed',
  words(setup) {
    const facts = feedOf(setup)
    if (facts.evidence.length === 0 && !setup.own.feed?.fine) return undefined
    const word = wordText(facts)
    return `${word[0]!.toUpperCase()}${word.slice(1)}${toDo(facts)}`
  },
  mayGain: (setup) => isOpen(feedOf(setup)),
  gain: recorded('next print', (setup: Setup) => {
    const facts = feedOf(setup)
    const next = nextPrintOf(facts)
    if (next) return { title: nextPrintTitle(next), why: nextPrintSentences(facts, next)[0]! }
    return {
      title: 'What a print gains is not known',
      why: 'No instrument of the shop is known to measure a pattern of this printer.',
    }
  }),
}

function toDo(facts: FeedFacts): string {
  const { doubtful } = verdictOf(facts)
  if (doubtful === 'unsettled') return ': settle the merge first'
  if (doubtful === 'not-read') return `: ${missingDeed(facts)}`
  const advice = feedAdvice(facts)
  const text = advice?.machine === 'key-in' ? keyInText(facts) : undefined
  if (facts.expected && text === undefined && advice && advice.machine !== 'impossible') return ': print again'
  if (text === undefined) return advice?.machine === 'done' || advice?.machine === 'stay' ? ': nothing to key in' : ''
  if (facts.expected) return `: expect ${text}`
  const { panel } = facts.setup.printer ?? {}
  const where = panel?.items.find(({ key }) => key?.value === 'feed.correction')?.where?.value
  return `: key in ${text}${where === undefined ? '' : ` (${where})`}`
}
