// What the suction does on this profile, level by level: stretch, dimples and curl, and what one level more or less does to the length.

import { escapeMarkdown } from '../../base/markdown.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { sentence } from '../../rules/support/words.ts'
import { suctionOf } from './facts.ts'
import { allowedSentence, couplingSentence, dragSentence, holdsSentence, levelsTable, neededSentence } from './words.ts'

export const hover: NumbersSection = {
  paths: ['suction'],
  render(setup) {
    const { window } = suctionOf(setup)
    if (!window.ok) return setup.profile.suction && { verdict: escapeMarkdown(sentence(window.problem.reason)) }
    const holds = holdsSentence(setup)
    const told = [
      [neededSentence(setup), holds && dragSentence(setup), couplingSentence(setup)],
      [allowedSentence(setup), curlCaveat(setup)],
      ['How far suction reaches under the web is an assumption: from the openings alone to the whole platen.'],
    ].map((sentences) => sentences.filter((one) => one !== undefined).join(' '))
    return { verdict: holds ?? dragSentence(setup), told: [levelsTable(setup), ...told] }
  },
}

const curlCaveat = ({ material }: Setup): string | undefined =>
  material.property('curl-radius')?.origin === 'typical'
    ? 'The curl is a guess: nobody has measured the curl radius of this stock.'
    : undefined
