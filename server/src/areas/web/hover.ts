// What pull, winding and speed of the web do on this profile, and what its roll weighs.

import type { NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { sentence } from '../../rules/support/words.ts'
import { webOf } from './facts.ts'
import {
  besideSentence,
  emptyingSentence,
  growthSentence,
  LIFTING_CAUTION,
  massSentence,
  pullTable,
  slackSentence,
  speedRangeSentence,
  stepSentence,
  windingLines,
} from './words.ts'

export const hover: NumbersSection = {
  paths: ['web'],
  render(setup, path) {
    if (path[1] === 'tension') return tensionNumbers(setup)
    if (path[1] === 'wound') return woundNumbers(setup)
    if (path[1] === 'speed') return speedNumbers(setup)
    if (path[1] === 'slack-watch') return slackSentence(setup)
    return path.length === 1 ? rollNumbers(setup) : undefined
  },
}

const joined = (parts: readonly (string | undefined)[], by: string): string | undefined => {
  const told = parts.filter((part) => part !== undefined && part !== '')
  return told.length > 0 ? told.join(by) : undefined
}

function tensionNumbers(setup: Setup): string | undefined {
  const { tension, strain } = webOf(setup)
  if (!tension) return undefined
  const unknown = strain.ok ? undefined : sentence(strain.problem.reason)
  const notes = [unknown, besideSentence(setup), growthSentence(setup), emptyingSentence(setup)]
  return joined([pullTable(setup), joined(notes, ' ')], '\n\n')
}

function woundNumbers(setup: Setup): string | undefined {
  const without = setup.stock && setup.profile.web?.wound && setup.material.family?.without('curl-radius')
  if (without !== undefined && !setup.stock?.['curl-radius']) return without
  return joined(windingLines(setup), '  \n')
}

function speedNumbers(setup: Setup): string | undefined {
  const speed = setup.profile.web?.speed?.value.si
  if (speed === undefined || !(speed > 0)) return undefined
  return joined([stepSentence(setup), speedRangeSentence(setup)], ' ')
}

function rollNumbers(setup: Setup): string | undefined {
  const mass = massSentence(setup)
  return mass && `${mass}\n\n${LIFTING_CAUTION}`
}
