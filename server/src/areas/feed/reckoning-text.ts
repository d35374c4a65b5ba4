// The whole reckoning of a profile's feed, step by step as it would be done on paper: what to key in first, then where it comes from.
import type { FeedReckoning } from '../../calc/feed.ts'
import type { FeedCombination } from '../../calc/feed-combine.ts'
import type { LengthCause } from '../../calc/measurement.ts'
import { addDays } from '../../model/dates.ts'
import { lackingOf, lackingText } from '../../model/lacking.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { type Block, items, lines, type Page, type Passage, pageText } from '../../report/page.ts'
import { type FeedFacts, feedOf, resultOf } from './facts.ts'
import { type FeedAdvice, feedAdvice } from './next.ts'
import { checksPassage, workingPassage } from './reckoning-check.ts'
import { asWritten, checksByNumber, freedom, Lengths, percent, plainPercent, standard } from './reckoning-words.ts'
import { picksText, rowsOf } from './rows.ts'
import {
  checksText,
  correctionText,
  disagreementText,
  heldText,
  keyInText,
  longOrShort,
  perLength,
  plusMinus,
  sourceText,
} from './words.ts'

/** The reckoning as text for a terminal. `notRead`: what it rests on and could not be read, a sentence each. */
export const reckoningText = (setup: Setup, notRead: readonly string[]): string => pageText(reckoningPage(setup, notRead))

/** The reckoning as a page. Says what is missing where there is nothing to reckon with, and where a number would be another. */
export function reckoningPage(
  setup: Setup,
  notRead: readonly string[] = lackingOf(setup).map((l) => lackingText(l, setup)),
): Page {
  const facts = feedOf(setup)
  const { reckoning } = facts
  const passages: Passage[] = [{ heading: 'In short', blocks: [items(...settleFirst(notRead), ...shortly(facts))] }]
  if (facts.evidence.length > 0) {
    passages.push(checksPassage(setup, facts))
    for (const evidence of facts.evidence) {
      const result = resultOf(facts, evidence)
      if (result?.use === 'included') passages.push(workingPassage(setup, evidence, result))
    }
  }
  if (reckoning?.combined) passages.push(togetherPassage(facts, reckoning, reckoning.combined))
  if (reckoning?.fine) passages.push(finePassage(setup, reckoning.fine))
  if (reckoning?.wanted && reckoning.keyIn) passages.push(keyInPassage(setup, facts, reckoning))
  if (reckoning?.proof) passages.push(tolerancePassage(setup, facts, reckoning))
  if (facts.newest) passages.push(agePassage(facts, setup.today))
  return { title: titleOf(setup), passages: numbered(passages) }
}

function titleOf({ own, profile, today }: Setup): string {
  const name = own.profile?.value ?? 'this profile'
  const where = [
    profile.stock?.value,
    profile.printer && `on ${profile.printer.value}`,
    profile.mode && `in ${profile.mode.value}`,
  ]
  const given = where.filter((w) => w !== undefined).join(' ')
  return `Feed of ${name}${given === '' ? '' : `: ${given}`}, reckoned on ${today}`
}

/** What is to be done before any number is keyed in. */
const settleFirst = (notRead: readonly string[]): readonly string[] =>
  notRead.length === 0
    ? []
    : [
        ...notRead.map((sentence) => `Settle first: ${sentence}`),
        'What follows is reckoned without that, and may be another number with it: key in nothing before.',
      ]

/** The result, and what to do about it. */
function shortly(facts: FeedFacts): readonly (string | undefined)[] {
  const { reckoning, stale } = facts
  const { wanted, suspects = [], proof } = reckoning ?? {}
  const advice = feedAdvice(facts)
  if (!wanted || !advice) return [nothingToReckon(facts)]
  return [
    ...whatToDo(facts, advice),
    `The correction asked for is ${percent(wanted.correction)} ${plusMinus(wanted.U)}, by ${sourceText(reckoning!)}. ${INTERVAL}`,
    suspects.length > 0 ? `Look at ${checksByNumber(suspects)} first: far from the others, and still counted.` : undefined,
    stale
      ? `No check is younger than ${facts.recheckDays} days, so nothing proves today's number: print a new check.`
      : undefined,
    proof && !stale && !proof.proven
      ? `The shop's length tolerance of ${plainPercent(facts.tolerance)} is not proven${proof.known && advice.machine === 'key-in' ? ' before that is keyed in' : ''}.`
      : undefined,
  ]
}

const INTERVAL = 'Here and below, ± is the 95 % interval.'

function nothingToReckon(facts: FeedFacts): string {
  const { evidence, problem, reckoning } = facts
  if (reckoning?.fine?.use === 'disagrees') return disagreementText(facts)
  if (problem) return `The feed cannot be reckoned: ${problem.reason}.`
  if (evidence.length > 0) return 'No check counts, so there is nothing to reckon with: print a new one.'
  return 'There is no check yet. Print a pattern, measure it, and write both lengths down under feed, checks.'
}

/** What to do at the machine and in the profile, and why: the first line is the thing to do. */
function whatToDo(facts: FeedFacts, { machine, write, parted }: FeedAdvice): readonly (string | undefined)[] {
  const { setup, reckoning, applied, held, entry } = facts
  const { keyIn, agreement, machine: running } = reckoning!
  const has = applied && asWritten(applied.value)
  if (machine === 'impossible') return [`Nothing may be keyed in: ${keyIn!.reason}.`, howItPrints(facts)]
  if (entry === 'percent') {
    if (machine === 'done')
      return [`Nothing to change: the correction in the profile, ${has}, is the one asked for, to the step of the printer.`]
    if (machine === 'stay')
      return [`Nothing needs to change: the correction in the profile, ${has}, may stay.`, howItPrints(facts)]
    return [`Key in ${keyInText(facts)}.`, howItPrints(facts)]
  }
  const holds = held?.ok ? heldText(facts, held.value) : ''
  const lines =
    machine === 'key-in'
      ? [
          `Key in ${keyInText(facts)} as the measured length: the machine has ${holds}, and then runs with ${correctionText(facts, keyIn!.correction)}.`,
        ]
      : machine === 'done'
        ? [`Nothing to key in: the machine has ${holds}, and that is the one asked for, to its step.`]
        : [
            `Nothing needs to be keyed in: the machine has ${holds}, and that may stay. With it prints come out ${longOrShort(setup, running!.lengthError)}, within the uncertainty and the shop's tolerance.`,
          ]
  if (parted) {
    const keyedSince = machine === 'key-in' && agreement?.asKeyedIn === true
    const then = keyedSince ? 'If that was keyed in since, key in nothing: read' : 'To know what it has now, read'
    lines.push(`The profile has ${has}, and the machine another number. ${then} it back and write that down under keyed.`)
  }
  if (write !== undefined)
    lines.push(`The profile is to have ${correctionText(facts, write)}${has === undefined ? '' : `; it has ${has}`}.`)
  return lines
}

/** What the profile's correction does to a print. */
function howItPrints({ setup, reckoning, applied }: FeedFacts): string | undefined {
  const agreement = reckoning?.agreement
  if (!applied || !agreement || agreement.asKeyedIn) return undefined
  const { lengthError, withinU, mayStay } = agreement
  const beside = mayStay
    ? "within the uncertainty and the shop's tolerance"
    : `${withinU ? 'within' : 'more than'} the uncertainty`
  return `The profile has ${asWritten(applied.value)}: prints come out ${longOrShort(setup, lengthError)}, ${beside}.`
}

function togetherPassage(facts: FeedFacts, { suspects, without, estimators }: FeedReckoning, combined: FeedCombination): Passage {
  const { n, correction, birge, uReading, uRandom, systematic, u, nu, k, U } = combined
  const rows: (readonly string[])[] = [
    ['weighted mean', percent(correction), n > 1 ? `${checksText(n)}, each by its uncertainty` : checksText(n)],
  ]
  rows.push(['readings', standard(uReading), `standard uncertainty${n > 1 ? ', falls with the number of checks' : ''}`])
  if (uRandom > uReading * (1 + 1e-9))
    rows.push([
      'readings and scatter',
      standard(uRandom),
      'standard uncertainty, the checks scatter more than their readings explain',
    ])
  for (const part of systematic)
    rows.push([shared(part), standard(part.u), 'standard uncertainty, shared by the checks: more of them do not lessen it'])
  rows.push(['standard uncertainty', standard(u), `of all together, ${freedom(nu)}`])
  rows.push(['95 % interval', plusMinus(U), `${k.toFixed(2)} times that`])
  const blocks: Block[] = [{ kind: 'table', header: ['', '', ''], rows }]
  if (birge !== undefined)
    blocks.push(lines(`Birge ratio ${birge.toFixed(2)}: ${birgeWords(birge, uRandom > uReading * (1 + 1e-9))}.`))
  if (suspects.length > 0)
    blocks.push(
      lines(
        `Suspect: ${checksByNumber(suspects)}. Only a person leaves a check out, with skip and a reason.`,
        without && `Without: ${percent(without.correction)} ${plusMinus(without.U)} from ${checksText(without.n)}.`,
      ),
    )
  if (estimators && n > 1)
    blocks.push({
      kind: 'table',
      header: ['other ways to put them together', 'gives'],
      rows: [
        ['line through the origin', percent(estimators.throughOrigin)],
        ['sum of expected over sum of measured', percent(estimators.ratioOfSums)],
        ['mean of the ratios', percent(estimators.meanOfRatios)],
      ],
    })
  return { heading: `What ${facts.lot === undefined ? 'they say' : `the checks of lot ${facts.lot} say`} together`, blocks }
}

const birgeWords = (birge: number, widened: boolean): string =>
  widened
    ? 'the checks scatter more than their uncertainties say, and the uncertainty is widened by that'
    : birge > 1
      ? 'the checks scatter a little more than their uncertainties say, which is no wonder with so few'
      : 'the checks agree as well as their uncertainties say'

const CAUSES: Readonly<Record<LengthCause, string>> = {
  reading: 'readings',
  'limit-of-error': 'limit of error',
  'rule-temperature': 'temperature of the rules',
  'web-temperature': 'temperature of the web',
  'web-expansion': 'expansion of the web',
  tension: 'stretch of the web under tension',
}

const shared = ({ cause, instrument }: FeedCombination['systematic'][number]): string =>
  instrument === undefined ? CAUSES[cause] : `${CAUSES[cause]} of ${instrument}`

function finePassage(setup: Setup, fine: NonNullable<FeedReckoning['fine']>): Passage {
  const heading = 'The fine picks'
  if (fine.use !== 'used') return { heading, blocks: [lines(`They do not count: ${fine.reason}.`)] }
  const picks = setup.own.feed?.fine?.picks?.items.map((p) => p.value) ?? []
  const step = setup.printer?.feed?.fine?.step
  const rows = [
    [
      'mean pick',
      String(Number(fine.meanPick.toFixed(3))),
      `of ${picksText(rowsOf(setup, picks.length), picks)}${step ? `, in steps of ${asWritten(step.value)} a pass` : ''}`,
    ],
    ['adds', `${percent(fine.contribution)} ${plusMinus(fine.U)}`, 'mean pick times step, over the advance of a pass'],
    ['correction', percent(fine.correction), 'the one the picks were printed with, and what they add'],
  ]
  return { heading, blocks: [{ kind: 'table', header: ['', '', ''], rows }] }
}

function keyInPassage(setup: Setup, facts: FeedFacts, { wanted, keyIn }: FeedReckoning): Passage {
  const heading = 'What to key in'
  const { step, range, entry, held, patternLength, lengthUnit } = facts
  const at = new Lengths(setup, lengthUnit)
  const rows: (readonly string[])[] = [['correction wanted', percent(wanted!.correction), '']]
  if (range) rows.push(['the printer takes', `${percent2(range[0])} to ${percent2(range[1])}`, ''])
  if (keyIn!.value === undefined)
    return {
      heading,
      blocks: [{ kind: 'table', header: ['', '', ''], rows }, lines(`Nothing may be keyed in: ${keyIn!.reason}.`)],
    }
  if (entry === 'measured-length' && patternLength !== undefined && held?.ok) {
    const { correction, by } = held.value
    rows.push(['correction in the machine', percent2(correction), `by ${by}`])
    rows.push([
      'exact measured length',
      at.text((patternLength * (1 + correction)) / (1 + wanted!.correction)),
      `${at.bare(patternLength)} · (1 + correction in the machine) / (1 + wanted)`,
    ])
  }
  if (step !== undefined) rows.push(['step', entry === 'percent' ? plainPercent(step) : at.rough(step), 'rounded to the nearest'])
  rows.push([
    'key in',
    keyInText(facts) ?? '—',
    entry === 'percent' ? '' : `as the measured length; the machine then runs with ${correctionText(facts, keyIn!.correction)}`,
  ])
  rows.push(['the rounding leaves', left(setup, keyIn!.left), ''])
  return { heading, blocks: [{ kind: 'table', header: ['', '', ''], rows }] }
}

const percent2 = (fraction: number): string => formatSi(fraction, 'relative', { unit: '%', digits: 4, sign: true })

/** What the rounding leaves; less than a micrometre per metre is nothing. */
const left = (setup: Setup, error: number): string => (Math.abs(error) < 1e-6 ? 'nothing' : longOrShort(setup, error))

function tolerancePassage(
  setup: Setup,
  facts: FeedFacts,
  { wanted, keyIn, fine, agreement, machine, proof }: FeedReckoning,
): Passage {
  const { known, proven, required } = proof!
  const { tolerance, entry, stale, applied, held } = facts
  const from = setup.shop.tolerance.length.place ? "The shop's" : 'The usual'
  const texts = [`${from} length tolerance is ${plainPercent(tolerance)}, ${perLength(setup, tolerance)}.`]
  const knows = `The correction asked for is known to ${plusMinus(wanted!.U)}`
  const told = entry === 'measured-length'
  const set = told ? machine : agreement
  const has = told ? held?.ok && correctionText(facts, held.value.correction) : applied && asWritten(applied.value)
  const prints = set && `with ${has} prints come out ${longOrShort(setup, set.lengthError)}`
  if (!known) {
    const rounding = wanted!.U <= tolerance ? `, and the rounding leaves ${longOrShort(setup, keyIn!.left)}` : ''
    texts.push(`${knows}${rounding}: it is not proven.`)
  } else if (stale) texts.push(`${knows}, but by checks that are too old: it is not proven.`)
  else if (proven)
    texts.push(
      set && Math.abs(set.lengthError) >= 1e-6
        ? `${knows}, and ${prints}: it is proven.`
        : `${knows}, and that is what is set: it is proven.`,
    )
  else
    texts.push(
      `${knows}, but ${prints ?? 'nobody knows what is set'}: it is not proven before ${keyInText(facts) ?? 'a number'} is keyed in.`,
    )
  if (known) return { heading: 'Is the tolerance proven', blocks: [lines(...texts)] }
  const beside = fine?.use === 'used' ? ` beside the ${plusMinus(fine.U)} of the picks` : ''
  if (required?.length !== undefined) {
    // Rounded up to a length one would choose; a longer one may do worse where it passes a whole metre, so "or longer" is not said.
    const chosen = Math.ceil(required.length * 100 - 1e-6) / 100
    texts.push(`With the rule of the weightiest check, one pattern of ${new Lengths(setup).rough(chosen)} proves it${beside}.`)
  } else if (required)
    texts.push(
      `With the rule of the weightiest check no pattern proves it${beside}: ${plusMinus(required.floor)} is left however long it is. Use a better rule, or know the web's temperature better.`,
    )
  else texts.push(`${fine?.use === 'used' ? 'The picks and the rounding' : 'The rounding'} alone leave more: no rule proves it.`)
  return { heading: 'Is the tolerance proven', blocks: [lines(...texts)] }
}

function agePassage({ newest, recheckDays, stale, lot }: FeedFacts, today: string): Passage {
  const { check, age = 0, index } = newest!
  const date = check.date!.value
  const due = addDays(date, Math.floor(recheckDays))
  const days = `${age} day${age === 1 ? '' : 's'}`
  return {
    heading: 'Age and lot',
    blocks: [
      lines(
        `The newest check is check ${index + 1} of ${date}, ${age === 0 ? 'made today' : `${days} before ${today}`}. A check proves the feed for ${recheckDays} days.`,
        stale ? `It was due again on ${due}.` : `The next one is due on ${due}.`,
        lot === undefined ? undefined : `The reckoning speaks of lot ${lot}; another lot may run differently.`,
      ),
    ],
  }
}

/** Numbers the main passages after the first. */
function numbered(passages: readonly Passage[]): readonly Passage[] {
  let n = 0
  return passages.map((p, i) => (i === 0 || p.nested ? p : { ...p, heading: `${++n}. ${p.heading}` }))
}
