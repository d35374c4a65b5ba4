// The answer to a complaint of a wrong length, as one page: the verdict and what to do first, then what it rests on, step by step.

import type { LengthPart } from '../../calc/measurement.ts'
import { cautionsOf } from '../../model/cautions.ts'
import { settingCells } from '../../model/evidence.ts'
import { writtenText } from '../../model/setting.ts'
import { settingMeaning } from '../../model/setting-meaning.ts'
import type { Setup } from '../../model/setup.ts'
import { settingWords } from '../../model/state-words.ts'
import { settingsNow } from '../../model/states.ts'
import { formatSi } from '../../quantities/format.ts'
import { type Block, items, lines, type Page, type Passage } from '../../report/page.ts'
import { heldThenSentences } from '../feed/held-then.ts'
import { chanceText, verdictSentences } from '../feed/verdict-words.ts'
import { K95, perLength, plusMinus } from '../feed/words.ts'
import { type Answer, answerFor, type Observation, type Verdict } from './claim.ts'

/** The commit whose documents ran that day. */
export interface Documents {
  readonly short: string
  readonly day: string
  readonly subject: string
}

/** What a page of an answer is made of. */
export interface Answered {
  readonly answer: Answer
  readonly documents: Documents
  /** The same by the documents of the day before, where they changed on the day itself. */
  readonly before: Answer | undefined
  readonly verdict: Verdict
}

/** `dayBefore`: the profile as it was the day before, where a commit changed it on the day of the print itself. */
export function answered(then: Setup, observation: Observation | undefined, documents: Documents, dayBefore?: Setup): Answered {
  const answer = answerFor(then, observation)
  const earlier = dayBefore && answerFor(dayBefore, observation)
  const same = earlier?.held?.correction === answer.held?.correction && earlier?.verdict === answer.verdict
  const before = same ? undefined : earlier
  // Nobody wrote down at which hour the print was made.
  return { answer, documents, before, verdict: before && before.verdict !== answer.verdict ? 'cannot-tell' : answer.verdict }
}

export function answerPage({ answer, documents, before, verdict }: Answered): Page {
  const { then } = answer
  const passages: Passage[] = [
    { heading: 'In short', blocks: [items(...shortly(answer, verdict, before))] },
    askedPassage(answer),
    ranPassage(answer, documents, before),
    knownPassage(answer),
    ...(answer.measured ? [measuredPassage(answer)] : []),
    ...(answer.claim.ok && answer.claim.value.mean !== undefined ? [togetherPassage(answer)] : []),
    {
      heading: 'What this does not say',
      blocks: [items(...LIMITS, ...cautionsOf(then))],
    },
  ]
  const numbered = passages.map((one, i) => (i === 0 ? one : { ...one, heading: `${i}. ${one.heading}` }))
  return { title: `Answer for ${then.own.profile?.value ?? 'this profile'}, printed on ${then.today}`, passages: numbered }
}

const LIMITS = [
  'It speaks of the length of the print as it left the machine, cold and relaxed, and of nothing else. What hanging, washing, laminating or another climate did to it later is not in it.',
  'It is advice to whoever answers the customer, and no judgement in law. What was agreed, and the documents of machine and material, come first.',
]

const VERDICTS: Readonly<Record<Verdict, string>> = {
  ours: 'Ours: the print was out of tolerance when it left the machine. Print it again.',
  theirs: 'Theirs: the print was within tolerance when it left the machine. Show this page.',
  'cannot-tell': 'Nobody can tell.',
}

function shortly(answer: Answer, verdict: Verdict, before: Answer | undefined): readonly string[] {
  const { claim, risk } = answer
  const within = claim.ok ? claim.value.within : undefined
  const chance =
    within === undefined
      ? []
      : [
          `By ${basis(answer)} the probability is ${chanceText(within)} that it was within ${toleranceText(answer)}; ${chanceText(1 - risk)} are asked for to call it good, and ${chanceText(risk)} or less to call it bad.`,
        ]
  return [`${VERDICTS[verdict]}${verdict === 'cannot-tell' ? ` ${whatToDo(answer, before)}` : ''}`, ...chance]
}

function basis({ claim, silent, measured, knownBy }: Answer): string {
  const seen = measured?.ok && knownBy !== undefined && claim.ok && claim.value.measuredWithin !== undefined
  if (silent === undefined)
    return seen ? 'the evidence of that day and the measurement together' : 'the evidence of that day alone'
  return 'the measurement alone'
}

/** What would make it possible to tell. */
function whatToDo(answer: Answer, before: Answer | undefined): string {
  switch (answer.because) {
    case 'not-measured':
      return 'Write down under observed what was ordered and what was measured on the print, with what, and the day it was printed.'
    case 'not-known-how':
      return 'Ask what it was measured with, and write that down as with; or measure the print again with your own best rule.'
    case 'in-steps':
      return 'The rule is shorter than the print, and what laying it on again and again adds is not known: measure again with one that spans it.'
    case 'unusable':
      return 'The measured length cannot be right: look at both lengths and their units.'
    case 'contradiction':
      return 'What was known of the print and what was measured on it contradict each other: one of the two is wrong. Get the print back, measure it together, and look for what happened that day that nobody wrote down.'
    case 'between':
      return 'Get the print back and measure it with a better rule, cold and relaxed, over its whole length.'
    case undefined:
      return before
        ? 'The settings were changed on that very day, and it is not written down whether the print was made before or after. Find out the hour.'
        : ''
  }
}

const toleranceText = ({ tolerance, ordered, then }: Answer): string =>
  ordered === undefined ? `${perLength(then, tolerance)} either way` : `±${lengthText(then, tolerance * ordered)}`

const lengthText = ({ shop }: Setup, metres: number): string =>
  formatSi(metres, 'length', { unit: shop.units === 'us' ? 'in' : 'mm', digits: Math.abs(metres) < 0.1 ? 2 : 6 })

const rows = (...given: readonly (readonly string[] | undefined)[]): Block => ({
  kind: 'table',
  header: given[0]!.map(() => ''),
  rows: given.filter((row) => row !== undefined),
})

function askedPassage(answer: Answer): Passage {
  const { observation, ordered, then, tolerance, toleranceBy } = answer
  const whose = observation?.['tolerance-of']?.value ?? (toleranceBy === 'shop' ? "the shop's own" : 'as agreed')
  const error = observation?.measured && ordered !== undefined ? observation.measured.value.si - ordered : undefined
  return {
    heading: 'What was asked for, and what is said',
    blocks: [
      rows(
        ['ordered', observation?.ordered ? writtenText(observation.ordered) : 'not written down'],
        ['measured', observation?.measured ? writtenText(observation.measured) : 'not written down'],
        error === undefined
          ? undefined
          : ['that is', error === 0 ? 'as ordered' : `${lengthText(then, Math.abs(error))} too ${error < 0 ? 'short' : 'long'}`],
        ['measured with', observation?.with?.value ?? 'not written down'],
        ['tolerance', `${perLength(then, tolerance)} (${whose})`],
        observation?.note ? ['note', observation.note.value] : undefined,
      ),
    ],
  }
}

function ranPassage({ then, feed }: Answer, { short, day, subject }: Documents, before: Answer | undefined): Passage {
  const held = heldThenSentences(feed)
  const changed = before && [`The documents were changed on that day itself. Before: ${heldThenSentences(before.feed)[0]}`]
  const settings = [...settingsNow(then)].map(([key, field]) => {
    const real = key === 'mode' ? undefined : settingMeaning(then, key)?.real
    return [settingWords(key), `${writtenText(field)}${real === undefined ? '' : ` (${real})`}`]
  })
  return {
    heading: 'What ran that day',
    blocks: [
      items(`The documents are those of commit ${short} of ${day}: ${subject}`, held[0], ...(changed ?? [])),
      ...(settings.length > 0 ? [{ kind: 'table' as const, header: ['', ''], rows: settings }] : []),
    ],
  }
}

function knownPassage({ feed, silent, claim, then }: Answer): Passage {
  const said = verdictSentences(feed)[0]
  const known = claim.ok ? claim.value.knownWithin : undefined
  const why = {
    unknown: 'Nothing usable had been measured: it says nothing of the print.',
    expected: 'It proves nothing of that day, so it says nothing of the print.',
    'same-rule':
      'It was measured with the same rule as the print, whose error is in both, so that the measurement alone decides.',
    'not-held': 'Nobody knows which correction the machine ran with, so it says nothing of the print.',
  }
  return {
    heading: 'What the evidence of that day said',
    blocks: [
      items(
        `Of the correction in the file. ${said}`,
        silent === undefined
          ? `With the correction that ran, ${chanceText(known!)} of prints came out within the tolerance asked for here.`
          : why[silent],
        `Nothing that was measured after ${then.today} is in it.`,
      ),
    ],
  }
}

function measuredPassage({ measured, ordered, knownBy, claim, observation, then }: Answer): Passage {
  const heading = 'What the measurement says'
  if (!measured!.ok) return { heading, blocks: [lines(`It cannot be reckoned with: ${measured!.problem.reason}.`)] }
  const { read, length, u, parts } = measured!.value
  const how = {
    stated: 'Its ± is taken for the whole of what it leaves open.',
    instrument: `By what the shop's document says of ${observation?.with?.value}.`,
    class: `By the limit of error of ${observation?.with?.value}, read to the millimetre.`,
  }
  const alone = claim.ok ? claim.value.measuredWithin : undefined
  return {
    heading,
    blocks: [
      rows(
        ['read', lengthText(then, read), ''],
        ['relaxed, at the reference temperature', lengthText(then, length), ''],
        ...byCause(parts).map(({ cause, u: one, assumed }) => [
          cause.replaceAll('-', ' '),
          lengthText(then, one),
          `standard uncertainty${assumed ? ', assumed' : ''}`,
        ]),
        ['95 % interval', `±${lengthText(then, K95 * u)}`, `${plusMinus((K95 * u) / ordered!)} of the length`],
      ),
      items(
        knownBy === undefined ? 'Nobody wrote down what it was measured with, so it decides nothing.' : how[knownBy],
        alone === undefined
          ? undefined
          : `By it alone the probability is ${chanceText(alone)} that the print was within tolerance.`,
      ),
    ],
  }
}

/** What one cause leaves open, in one sum: its own and its shared part. */
function byCause(
  parts: readonly LengthPart[],
): readonly { readonly cause: string; readonly u: number; readonly assumed: boolean }[] {
  const sums = new Map<string, { u: number; assumed: boolean }>()
  for (const { cause, u, assumed } of parts) {
    const sum = sums.get(cause)
    sums.set(cause, { u: Math.hypot(sum?.u ?? 0, u), assumed: assumed || (sum?.assumed ?? false) })
  }
  return [...sums].flatMap(([cause, sum]) => (sum.u > 1e-9 ? [{ cause, ...sum }] : []))
}

function togetherPassage({ claim, tolerance, then, risk }: Answer): Passage {
  const { mean, s, within, surprise } = (claim as { value: { mean: number; s: number; within: number; surprise?: number } }).value
  return {
    heading: 'The decision',
    blocks: [
      rows(
        [
          'length error of the print',
          `${formatSi(mean, 'relative', { unit: '%', decimals: 3, sign: true })} ${plusMinus(K95 * s)}`,
          `${perLength(then, mean)} ${mean < 0 ? 'short' : 'long'}`,
        ],
        ['tolerance', plusMinus(tolerance), 'either way'],
        ['probability that it was kept', chanceText(within), ''],
        ['risk', chanceText(risk), 'of wronging the one or the other'],
        surprise === undefined
          ? undefined
          : ['so far off, or farther, is measured in', chanceText(surprise), 'of such prints, if what was known is right'],
      ),
      lines(
        'What was known of the print is a mixture of normal distributions, one for each size that the scatter of the feed may have. Each is multiplied by that of the',
        'measurement and weighed anew by how well it foretold it (JCGM 106:2012, 6). The print was good where the probability is at least 1 − risk, and bad where it',
        'is at most the risk (8.3); in between nobody can tell.',
      ),
    ],
  }
}

/** All settings of the day, for programs. */
export const settingsThen = (then: Setup): Readonly<Record<string, string>> =>
  Object.fromEntries(
    settingCells(then.profile).flatMap(({ key, part, text, unit }) =>
      part === 'value' ? [[key, unit === undefined ? text : `${text} ${unit}`]] : [],
    ),
  )
