// The verdict in words people use at a machine: what to do first, then how probable it is that a print comes out true.

import { unsettledText } from '../../model/unsettled.ts'
import { carriesText } from './carries-words.ts'
import type { FeedFacts } from './facts.ts'
import { feedAdvice } from './next.ts'
import type { NextPrint } from './next-print.ts'
import { nextPrintSentences } from './next-print-words.ts'
import { checksByNumber } from './reckoning-words.ts'
import type { Doubtful, FeedVerdict } from './verdict.ts'
import { LEAST_PRINTS, readBackApart, scattersTooMuch, toldChance, verdictOf } from './verdict.ts'
import { correctionText, disagreementText, keyInText, perLength } from './words.ts'

/** A probability as a share of a hundred prints, never rounded up to one that is asked for; what lies beyond what anybody could count is not told in digits. */
export function chanceText(probability: number): string {
  if (probability > 0.995) return 'over 99 %'
  return probability < 0.005 ? 'under 1 %' : `${Math.floor(probability * 100 + 1e-9)} %`
}

/** Of a probability below what is asked for, with as many digits as it takes to read as less. */
function chanceBelow(probability: number, goal: number): string {
  if (chanceText(probability) !== chanceText(goal)) return chanceText(probability)
  const tenths = Math.floor(probability * 1000) / 10
  return `${tenths.toFixed(1)} %`
}

/** "97 % of prints come out within 0.5 mm per metre". */
export const printsText = ({ setup, tolerance }: FeedFacts, probability: number, goal?: number): string =>
  `${goal === undefined ? chanceText(probability) : chanceBelow(probability, goal)} of prints come out within ${perLength(setup, tolerance)}`

/** The word, what it rests on, and what to do, each a sentence; `next` says what gains most, where someone reckoned it. */
export function verdictSentences(facts: FeedFacts, next?: NextPrint, readBack?: 'counts' | 'aside'): readonly string[] {
  const verdict = verdictOf(facts, readBack)
  const { word, chance, doubtful, goal } = verdict
  switch (word) {
    case 'unknown':
      return ['Unknown: nothing usable was measured. Print a pattern and measure it.']
    case 'doubtful':
      return [
        `Doubtful: ${doubtfulText(facts, verdict, doubtful!)}`,
        ...(next ? nextPrintSentences(facts, next) : wayOut(facts, verdict)),
      ]
    case 'off':
      return [`Off: ${printsText(facts, chance!.print)}${keyFirst(facts, verdict)}.`]
    case 'carried':
      return [
        `Carried: ${printsText(facts, chance!.print)}, and ${chanceText(goal)} are asked for. It was measured under other settings and brought here: ${carriesText(facts)}.`,
      ]
    case 'proven':
      return [`Proven: ${printsText(facts, chance!.print)}, and ${chanceText(goal)} are asked for.`]
  }
}

/** For a finding: what to do, then the word and what it rests on. */
export function toDoSentences(facts: FeedFacts): readonly string[] {
  const [word, ...toDo] = verdictSentences(facts)
  return [...toDo, word!]
}

/** The word alone, with its probability: "doubtful, 83 %". */
export function wordText(facts: FeedFacts): string {
  const verdict = verdictOf(facts)
  const chance = toldChance(verdict)
  return chance === undefined ? verdict.word : `${verdict.word}, ${chanceText(chance)}`
}

function doubtfulText(facts: FeedFacts, { chance, goal }: FeedVerdict, why: Doubtful): string {
  const { recheckDays, reckoning } = facts
  switch (why) {
    case 'unsettled':
      return `${unsettledText(facts.setup)}, and the number may be another with the other version.`
    case 'not-read':
      return `${notRead(facts)}, and the number rests on it.`
    case 'not-comparable': {
      const { length } = facts.counted
      const which = length === 1 ? 'the check proves nothing of today' : 'no check proves anything of today; of the newest'
      return `${which}: ${facts.counted.at(-1)?.reason}. What ${length === 1 ? 'it asks' : 'they ask'} for is to be expected, and no more.`
    }
    case 'not-set':
      return 'nobody knows which correction the machine runs with.'
    case 'read-back': {
      const { correction, date } = readBackApart(facts)!
      return `the machine had ${correctionText(facts, correction.si)} when it was read back on ${date}, and the profile has ${correctionText(facts, facts.applied!.value.si)}.`
    }
    case 'disagree':
      return disagreementText(facts)
    case 'stale':
      return `the newest check that counts is ${youngest(facts)} days old, and the shop trusts one for ${Number(recheckDays.toFixed(1))}.`
    case 'suspect':
      return `${checksByNumber(reckoning!.suspects)} is far from what the others predict: measure again, or leave it out with a reason.`
    case 'few': {
      const { prints } = reckoning!.combined!
      return `${prints} print${prints === 1 ? '' : 's'} cannot tell how far this feed scatters from print to print, and the printer's document does not (feed.repeatability).`
    }
    case 'between':
      return `${printsText(facts, chance!.print, goal)}, and ${chanceText(goal)} are asked for.`
  }
}

const youngest = ({ counted }: FeedFacts): number => counted.reduce((least, { age = 0 }) => Math.min(least, age), Infinity)

function notRead({ setup }: FeedFacts): string {
  const { profile, stock, printer, baseProblem, mode } = setup
  if (baseProblem) return `the base ${baseProblem.id} is not there`
  if (!stock)
    return profile.stock ? `the document of the stock ${profile.stock.value} is not there` : 'the profile names no stock'
  if (!printer)
    return profile.printer ? `the document of the printer ${profile.printer.value} is not there` : 'the profile names no printer'
  if (mode) return 'a document is not there'
  return profile.mode ? `the mode ${profile.mode.value} is not described` : 'the mode is not described'
}

/** What is to be done about that, without a full stop: "name the mode". */
export function missingDeed({ setup }: FeedFacts): string {
  const { profile, stock, printer, baseProblem } = setup
  if (baseProblem) return `bring back the base ${baseProblem.id}, or name another`
  if (!stock) return profile.stock ? `add the document of the stock ${profile.stock.value}` : 'name the stock'
  if (!printer) return profile.printer ? `add the document of the printer ${profile.printer.value}` : 'name the printer'
  return profile.mode ? `describe the mode ${profile.mode.value} in the printer's document` : 'name the mode'
}

/** The same as a sentence. */
export function missingFirst(facts: FeedFacts): string {
  const deed = missingDeed(facts)
  return `${deed[0]!.toUpperCase()}${deed.slice(1)} first, and key in nothing before.`
}

/** What makes a doubtful number good, the cheapest way first. */
function wayOut(facts: FeedFacts, verdict: FeedVerdict): readonly string[] {
  const { doubtful } = verdict
  if (doubtful === 'unsettled') return ['Settle the merge first, and key in nothing before.']
  if (doubtful === 'not-read') return [missingFirst(facts)]
  if (doubtful === 'read-back') {
    // Where another number is asked for, that one is to be keyed in, and it is told already.
    if (feedAdvice(facts)?.machine === 'key-in') return []
    return [
      `Key in ${correctionText(facts, facts.applied!.value.si)} again, or take over what the machine has, and read it back.`,
    ]
  }
  if (doubtful === 'not-comparable' || doubtful === 'stale' || doubtful === 'not-set') return [printAgain(facts)]
  if (doubtful !== 'few' && doubtful !== 'between') return []
  if (keysIn(facts)) return [`Key in ${keyInText(facts)}: then ${chanceText(verdict.keyedIn!.print)} do.`]
  if (doubtful === 'few') return [`Print ${LEAST_PRINTS - facts.reckoning!.combined!.prints} more, each on another day.`]
  if (scattersTooMuch(facts))
    return [
      'This feed scatters too much for the tolerance: no print proves it. Look at the roller and the tension, or allow more.',
    ]
  return [printAgain(facts)]
}

/** Whether a doubtful number is mended by keying in what is asked for: nothing has to be printed for it. */
export function keysIn(facts: FeedFacts): boolean {
  const { doubtful, keyedIn, chance, goal } = verdictOf(facts)
  return (
    doubtful === 'between' &&
    keyInText(facts) !== undefined &&
    keyedIn !== undefined &&
    keyedIn.print > goal &&
    chance!.print < goal
  )
}

function printAgain({ setup }: FeedFacts): string {
  const lengths = setup.printer?.feed?.['pattern-lengths']?.items ?? []
  const longest = lengths.reduce<(typeof lengths)[number] | undefined>(
    (best, one) => (!best || one.value.si > best.value.si ? one : best),
    undefined,
  )
  const pattern = longest ? `the ${longest.value.written} ${longest.value.unit.id} pattern` : 'the pattern'
  return `Print ${pattern} with today's settings, measure it with the best rule there is, and add it to feed, checks.`
}

function keyFirst(facts: FeedFacts, { keyedIn }: FeedVerdict): string {
  const key = keyInText(facts)
  if (key === undefined) return ''
  return `: key in ${key}${keyedIn ? `, then ${chanceText(keyedIn.print)} do` : ''}`
}
