// What the evidence of a profile proves today, a line each, for the sheet on the wall: the word, what it rests on, and what to print or read.
import { colourDoubt } from '../../areas/colour/evidence.ts'
import { colourOf } from '../../areas/colour/facts.ts'
import { toleranceSentence } from '../../areas/colour/words.ts'
import { feedOf } from '../../areas/feed/facts.ts'
import { asInFile, verdictOf } from '../../areas/feed/verdict.ts'
import { verdictSentences } from '../../areas/feed/verdict-words.ts'
import { feedDueOf } from '../../areas/feed/watch.ts'
import { heatEvidence } from '../../areas/heat/evidence.ts'
import { heatOf } from '../../areas/heat/facts.ts'
import { alignmentEvidence } from '../../areas/landing/evidence.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import type { Setup } from '../../model/setup.ts'

export interface SheetEvidence {
  readonly what: string
  /** Undefined where no word is said: colours that were measured, and nothing speaks against them. */
  readonly word: EvidenceWord | undefined
  /** One sentence or two, without the word. */
  readonly text: string
}

export function evidenceLines(setup: Setup): readonly SheetEvidence[] {
  return [feedLine(setup), alignmentLine(setup), ...heatLines(setup), ...colourLines(setup)]
}

function feedLine(setup: Setup): SheetEvidence {
  const facts = asInFile(feedOf(setup))
  const { word } = verdictOf(facts, 'aside')
  const [first = ''] = verdictSentences(facts, undefined, 'aside')
  const due = feedDueOf(setup)
  const told = first.slice(first.indexOf(': ') + 2)
  return { what: 'feed', word, text: `${capital(told)}${due ? ` Check again by ${due.date}.` : ''}` }
}

function alignmentLine(setup: Setup): SheetEvidence {
  const { word, reason, print } = alignmentEvidence(setup)
  const { alignment } = setup.own
  const date = alignment?.date ? `Of ${alignment.date.value}: it ${reason}.` : `It ${reason}.`
  return { what: 'alignment', word, text: print === undefined ? date : `${date} ${print}` }
}

function heatLines(setup: Setup): readonly SheetEvidence[] {
  return heatOf(setup)
    .zones.filter(({ set }) => set)
    .map((zone) => {
      const { word, reason } = heatEvidence(setup, zone)
      const newest = zone.readings.flatMap(({ age }) => age ?? []).toSorted((a, b) => a - b)[0]
      const when = newest === undefined ? '' : ` (${newest === 0 ? 'today' : `${newest} days ago`})`
      return {
        what: `web at ${zone.zone}`,
        word,
        text:
          reason === undefined
            ? 'Nobody has read it: read the web here.'
            : `Read${when}: it was ${reason}.${word === 'doubtful' ? ' Read it again.' : ''}`,
      }
    })
}

function colourLines(setup: Setup): readonly SheetEvidence[] {
  const { colour } = setup.profile
  if (!colour?.measured && !colour?.reference) return []
  const { newest } = colourOf(setup)
  const line = (word: EvidenceWord | undefined, text: string): readonly SheetEvidence[] => [{ what: 'colour', word, text }]
  if (!newest) return line('unknown', 'Nothing was measured: print the chart and measure it.')
  const doubt = colourDoubt(setup, newest.file)
  if (doubt) return line('doubtful', `The newest measurement was ${doubt.reason}. Print the chart again.`)
  const { comparison, beyond } = newest
  if (!comparison.ok) return line('unknown', `It cannot be compared: ${comparison.problem.reason}.`)
  const [worst] = beyond
  if (worst) return line('off', toleranceSentence(setup, comparison.value, worst.what))
  if (!setup.shop.document?.tolerance?.colour)
    return line('unknown', 'It was measured, and the shop states no tolerance of colour.')
  return line(undefined, 'Measured, within the shop’s tolerance on that day.')
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
