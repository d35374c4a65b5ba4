// Where the dots land in this profile's numbers: for hovers on the gap and on the alignment.

import { type NumbersSection, withVerdict } from '../../features/numbers.ts'
import { alignmentSentence } from './evidence.ts'
import { landingOf } from './facts.ts'
import { gapNumbers, picksNumbers, pickText, pixelsSentence, sinceText } from './words.ts'

export const hover: NumbersSection = {
  paths: ['gap', 'alignment'],
  render(setup, [first, second, ink]) {
    if (first === 'gap') return setup.printer || setup.stock ? gapNumbers(setup) : undefined
    if ((second === 'one-way' || second === 'two-way') && ink !== undefined)
      return withVerdict(pickText(setup, second, String(ink)))
    if (!setup.printer) return undefined
    if (second === 'one-way' || second === 'two-way') return picksNumbers(setup, second)
    return landingOf(setup).since && withVerdict(alignmentSentence(setup), sinceText(setup), pixelsSentence(setup))
  },
}
