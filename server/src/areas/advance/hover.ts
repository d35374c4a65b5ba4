// Advance, output and bands in this profile's numbers: for hovers on the mode, the carriage, the feed and the pause.
import { table } from '../../base/markdown.ts'
import { VISIBILITY_CAUTION } from '../../calc/visibility.ts'
import { type Numbers, type NumbersSection, withVerdict } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { throughputOf } from './facts.ts'
import {
  advanceSentence,
  bandsSentence,
  cannotBeTold,
  coverageSentence,
  outputSentence,
  passSentence,
  pauseSentence,
  seenBestSentence,
  shiftSentence,
  strikesText,
  turnText,
} from './words.ts'

export const hover: NumbersSection = {
  paths: ['mode', 'carriage', 'feed'],
  render(setup, path) {
    if (!setup.printer || !setup.mode) return undefined
    switch (path.join('.')) {
      case 'mode':
        return modeNumbers(setup)
      case 'feed':
        return { told: [rowsText(setup, [...ADVANCE, BANDS, SHIFT])] }
      case 'carriage':
      case 'carriage.turn-at':
        return { told: [turnText(setup)] }
      case 'carriage.strikes':
        return { told: [strikesText(setup)] }
      case 'drying.pause':
        return withVerdict(pauseSentence(setup))
      default:
        return undefined
    }
  },
}

type Row = readonly [label: string, sentence: (setup: Setup) => string | undefined]

const ADVANCE: readonly Row[] = [
  ['advance', advanceSentence],
  ['coverage', coverageSentence],
]
const OUTPUT: readonly Row[] = [
  ['a pass', passSentence],
  ['output', outputSentence],
]
const BANDS: Row = ['bands', bandsSentence]
const SHIFT: Row = ['feed error', shiftSentence]

function modeNumbers(setup: Setup): Numbers {
  const { plan, pass, bands } = throughputOf(setup)
  const lines = [rowsText(setup, [...ADVANCE, ...OUTPUT, BANDS, ['seen best', seenBestSentence], SHIFT])]
  if (plan.ok && !pass.ok) lines.push(cannotBeTold(pass.problem.reason))
  if (bands.ok) lines.push(VISIBILITY_CAUTION)
  const output = outputSentence(setup)
  return { verdict: output && `It prints ${output}.`, told: lines }
}

function rowsText(setup: Setup, rows: readonly Row[]): string {
  const { plan } = throughputOf(setup)
  if (!plan.ok) return cannotBeTold(plan.problem.reason)
  const told = rows.map(([label, sentence]) => [label, sentence(setup)] as const)
  return table(
    ['in this mode', ''],
    told.flatMap(([label, text]) => (text === undefined ? [] : [[label, text]])),
  )
}
