// The room in numbers, at a check: dew point, the web's margin to it, growth of paper with the weather, and static.

import { type NumbersSection, withVerdict } from '../../features/numbers.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { climateOf } from './facts.ts'
import { dewSentence, growthSentence, platenSentence, staticSentence, windowSentence } from './words.ts'

export const hover: NumbersSection = {
  paths: ['feed.checks.*.climate'],
  render(setup, path) {
    const item = nodeAt(setup.own.feed?.checks?.$.node, path.slice(2, 3))
    const check = climateOf(setup).checks.find((c) => c.evidence.check.$.node === item)
    if (!check) return undefined
    const grown = growthSentence(setup, check)
    return withVerdict(
      dewSentence(setup, check),
      windowSentence(setup, check),
      grown && [grown, platenSentence(setup)].filter((text) => text !== undefined).join(' '),
      staticSentence(setup, check),
    )
  },
}
