// What pull, winding and speed of the web do on this profile, and what its roll weighs.

import { type Numbers, type NumbersSection, withVerdict } from '../../features/numbers.ts'
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
  stretchRow,
  windingLines,
} from './words.ts'

export const hover: NumbersSection = {
  paths: ['web'],
  render(setup, path) {
    if (path[1] === 'tension') return tensionNumbers(setup)
    if (path[1] === 'wound') return woundNumbers(setup)
    if (path[1] === 'speed') return speedNumbers(setup)
    if (path[1] === 'slack-watch') return withVerdict(slackSentence(setup))
    return path.length === 1 ? rollNumbers(setup) : undefined
  },
}

const joined = (parts: readonly (string | undefined)[], by: string): string | undefined => {
  const told = parts.filter((part) => part !== undefined && part !== '')
  return told.length > 0 ? told.join(by) : undefined
}

function tensionNumbers(setup: Setup): Numbers | undefined {
  const { tension, strain } = webOf(setup)
  if (!tension) return undefined
  const unknown = strain.ok ? undefined : sentence(strain.problem.reason)
  const stretch = stretchRow(setup)
  const notes = [stretch && unknown, besideSentence(setup), growthSentence(setup), emptyingSentence(setup)]
  return { verdict: stretch ? `It ${stretch.join(' ')}.` : unknown, told: [pullTable(setup), joined(notes, ' ')] }
}

function woundNumbers(setup: Setup): Numbers | undefined {
  const without = setup.stock && setup.profile.web?.wound && setup.material.family?.without('curl-radius')
  if (without !== undefined && !setup.stock?.['curl-radius']) return withVerdict(without)
  const [first, ...more] = windingLines(setup)
  return withVerdict(first, joined(more, ' '))
}

function speedNumbers(setup: Setup): Numbers | undefined {
  const speed = setup.profile.web?.speed?.value.si
  if (speed === undefined || !(speed > 0)) return undefined
  return withVerdict(stepSentence(setup), speedRangeSentence(setup))
}

function rollNumbers(setup: Setup): Numbers | undefined {
  const mass = massSentence(setup)
  return mass === undefined ? undefined : { ...withVerdict(mass), caution: LIFTING_CAUTION }
}
