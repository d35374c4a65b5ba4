// The whole reckoning of a profile's feed, step by step as it would be done on paper: what to key in first, then where it comes from.
import type { Chance, FeedReckoning } from '../../calc/feed.ts'
import type { FeedCombination, FeedEstimators, SharedPart } from '../../calc/feed-combine.ts'
import { lackingOf, lackingText } from '../../model/lacking.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { type Block, items, lines, type Page, type Passage, pageText } from '../../report/page.ts'
import { carriesOf, sharedBy } from './carries-words.ts'
import { type FeedFacts, feedOf, resultOf } from './facts.ts'
import { type FeedAdvice, feedAdvice } from './next.ts'
import { type NextPrint, nextPrintOf } from './next-print.ts'
import { checksPassage, MOST_WORKED, workingPassage } from './reckoning-check.ts'
import { asWritten, checksByNumber, Lengths, percent, plainPercent, standard } from './reckoning-words.ts'
import { picksText, rowsOf } from './rows.ts'
import { isExpectation, measuredElsewhere, verdictOf } from './verdict.ts'
import { chanceText, keysIn, verdictSentences } from './verdict-words.ts'
import { feedChangeOf, feedDueOf } from './watch.ts'
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
  const next = nextPrintOf(facts)
  const passages: Passage[] = [{ heading: 'In short', blocks: [items(...settleFirst(notRead), ...shortly(facts, next))] }]
  if (facts.evidence.length > 0) {
    passages.push(checksPassage(setup, facts))
    for (const evidence of facts.counted.slice(-MOST_WORKED)) {
      const result = resultOf(facts, evidence)
      if (result?.use === 'included') passages.push(workingPassage(setup, evidence, result))
    }
  }
  if (facts.counted.some(({ carries }) => carries.length > 0)) passages.push(carriesPassage(facts))
  if (reckoning?.combined) passages.push(togetherPassage(facts, reckoning, reckoning.combined))
  if (reckoning?.fine) passages.push(finePassage(setup, reckoning.fine))
  if (reckoning?.wanted && reckoning.keyIn) passages.push(keyInPassage(setup, facts, reckoning))
  if (reckoning?.proof) passages.push(tolerancePassage(setup, facts, reckoning, next))
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

/** The result, and what to do about it, the thing to do first; `next` says what gains most, where someone reckoned it. */
export function shortly(facts: FeedFacts, next?: NextPrint): readonly (string | undefined)[] {
  const { reckoning } = facts
  const { wanted } = reckoning ?? {}
  const advice = feedAdvice(facts)
  if (!wanted || !advice)
    return [nothingToReckon(facts), ...(verdictOf(facts).word === 'unknown' ? ['Unknown: nothing usable was measured.'] : [])]
  return [
    ...doFirst(facts, advice, next),
    `The correction ${isExpectation(facts) ? 'to expect' : 'asked for'} is ${percent(wanted.correction)} ${plusMinus(wanted.U)}, by ${sourceText(reckoning!)}. ${INTERVAL}`,
  ]
}

/**
 * The thing to do, first. A doubtful number is mended before it is used: nothing is said of what may stay or is to be keyed in by what proves nothing of
 * today, and after an old or doubtful series only behind that.
 */
function doFirst(facts: FeedFacts, advice: FeedAdvice, next: NextPrint | undefined): readonly (string | undefined)[] {
  const { word, doubtful } = verdictOf(facts)
  const [verdict, ...wayOut] = verdictSentences(facts, next)
  const rest = whatToDo(facts, advice)
  if (word !== 'doubtful') return [...rest, verdict, ...wayOut]
  if (doubtful === 'unsettled') return [...wayOut, verdict]
  if (isExpectation(facts)) return [...wayOut, verdict, ...(measuredElsewhere(facts) ? [] : rest)]
  // A check that stands apart pulls the number: what it asks for then is not to be keyed in.
  if (doubtful === 'suspect') return [verdict, ...(advice.machine === 'key-in' ? [] : rest)]
  const atMachine = advice.machine === 'key-in' || advice.machine === 'impossible'
  if (atMachine && doubtful !== 'stale') return [...rest, verdict, ...wayOut]
  // Keying in what is asked for is the way out: then it is not said that the other number may stay.
  return [...wayOut, verdict, ...(doubtful === 'read-back' || (advice.machine === 'stay' && keysIn(facts)) ? [] : rest)]
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
  const expected = isExpectation(facts)
  if (machine === 'impossible') return [`Nothing may be keyed in: ${keyIn!.reason}.`, howItPrints(facts)]
  if (entry === 'percent') {
    if (expected && machine !== 'key-in')
      return [leaveUntilThen(`the correction in the profile, ${has},`, machine), howItPrints(facts)]
    if (machine === 'done')
      return [`Nothing to change: the correction in the profile, ${has}, is the one asked for, to the step of the printer.`]
    if (machine === 'stay')
      return [`Nothing needs to change: the correction in the profile, ${has}, may stay.`, howItPrints(facts)]
    return [expected ? `To be expected: ${keyInText(facts)}.` : `Key in ${keyInText(facts)}.`, howItPrints(facts)]
  }
  const holds = held?.ok ? heldText(facts, held.value) : ''
  const lines =
    machine === 'key-in'
      ? [
          `${expected ? 'To be expected:' : 'Key in'} ${keyInText(facts)} as the measured length: the machine has ${holds}, and then runs with ${correctionText(facts, keyIn!.correction)}.`,
        ]
      : expected
        ? [leaveUntilThen(`what the machine has, ${holds},`, machine)]
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
  if (write !== undefined && !expected)
    lines.push(`The profile is to have ${correctionText(facts, write)}${has === undefined ? '' : `; it has ${has}`}.`)
  return lines
}

/** Of a number that nothing proves today: it is not said to be right, nor that it may stay. */
const leaveUntilThen = (what: string, machine: 'done' | 'stay'): string =>
  `Leave ${what} as it is until then: it is ${machine === 'done' ? 'what' : 'near what'} the checks lead to expect, and nothing proves it.`

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

/** What brings the checks to today's settings, law by law. */
function carriesPassage(facts: FeedFacts): Passage {
  const rows = carriesOf(facts).map(({ text, carry, ids }) => [
    text,
    `${percent(carry.shift)}, standard uncertainty ${standard(carry.u)}`,
    sharedBy(ids),
  ])
  return {
    heading: 'From the settings of then to those of now',
    blocks: [
      lines(
        'Both ends are reckoned with the same unknowns: low with low, typical with typical, high with high. One law errs alike for all checks that it carries,',
        'so more of them do not make it surer.',
      ),
      { kind: 'table', header: ['what changed', 'adds to the correction', ''], rows },
    ],
  }
}

function togetherPassage(facts: FeedFacts, { suspects, without, estimators }: FeedReckoning, combined: FeedCombination): Passage {
  const { n, prints, correction, uReading, uScatter, uLots, uDrift, systematic, u, k, U, scatter } = combined
  const strips = prints < n ? `, of ${prints} print${prints === 1 ? '' : 's'}` : ''
  const rows: (readonly string[])[] = [
    ['weighted mean', percent(correction), n > 1 ? `${checksText(n)}${strips}` : checksText(n)],
  ]
  const row = (name: string, value: number, why: string): void => {
    if (value > 1e-9) rows.push([name, standard(value), `standard uncertainty, ${why}`])
  }
  row('readings', uReading, n > 1 ? 'falls with the number of checks' : 'of the one there is')
  row('scatter of the feed', uScatter, scatterWords(facts, combined))
  row('lots', uLots, 'how far lots of this stock differ')
  row('age', uDrift, 'how far a feed wanders with time (typical, from memory)')
  for (const part of systematic) row(shared(part), part.u, 'shared by the checks: more of them do not lessen it')
  rows.push(['standard uncertainty', standard(u), 'of all together'])
  rows.push(['95 % interval', plusMinus(U), `${k.toFixed(2)} times that`])
  const blocks: Block[] = [
    { kind: 'table', header: ['', '', ''], rows },
    lines(
      `From print to print the feed scatters by about ${standard(scatter.expected)} (${standard(scatter.low)} to ${standard(scatter.high)}), standard deviation: not estimated and plugged in, but reckoned at every size it may have.`,
    ),
  ]
  if (suspects.length > 0)
    blocks.push(
      lines(
        `Suspect: ${checksByNumber(suspects)}. Only a person leaves a check out, with skip and a reason.`,
        without && `Without: ${percent(without.correction)} ${plusMinus(without.U)} from ${checksText(without.n)}.`,
      ),
    )
  if (estimators && n > 1) blocks.push(estimatorsTable(estimators))
  const said = facts.lot === undefined ? 'they say' : `the checks say of lot ${facts.lot}`
  return { heading: `What ${said} together`, blocks }
}

/** Where what is known of the scatter comes from. */
const scatterWords = ({ stated }: FeedFacts, { prints }: FeedCombination): string =>
  stated
    ? "from print to print, by the checks and the printer's document"
    : prints > 1
      ? 'from print to print, by the checks and what is typical (from memory)'
      : 'from print to print, as is typical (from memory): one print tells nothing of it'

function estimatorsTable({ throughOrigin, meanOfRatios, derSimonianLaird, mandelPaule }: FeedEstimators): Block {
  const effects = (name: string, one: FeedEstimators['mandelPaule']): (readonly string[])[] =>
    one ? [[name, percent(one.correction), `${standard(one.u)}, with a scatter of ${standard(one.scatter)} plugged in`]] : []
  return {
    kind: 'table',
    header: ['other ways to put them together', 'gives', 'standard uncertainty'],
    rows: [
      ['line through the origin', percent(throughOrigin), ''],
      ['mean of the ratios', percent(meanOfRatios), ''],
      ...effects('random effects, DerSimonian and Laird', derSimonianLaird),
      ...effects('random effects, Mandel and Paule', mandelPaule),
    ],
  }
}

const CAUSES: Readonly<Record<SharedPart['cause'], string>> = {
  reading: 'readings',
  'limit-of-error': 'limit of error',
  'rule-error': 'known error',
  'rule-temperature': 'temperature of the rules',
  'web-temperature': 'temperature of the web',
  'web-expansion': 'expansion of the web',
  humidity: 'humidity',
  'moisture-expansion': 'growth of the web with humidity',
  tension: 'stretch of the web under tension',
  carry: 'other settings then',
}

const shared = ({ cause, of }: SharedPart): string => (of === undefined ? CAUSES[cause] : `${CAUSES[cause]} (${of})`)

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
  const heading = isExpectation(facts) ? 'What would be keyed in' : 'What to key in'
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

function tolerancePassage(setup: Setup, facts: FeedFacts, { proof }: FeedReckoning, next: NextPrint | undefined): Passage {
  const { goal, set, keyedIn, best } = proof!
  const { tolerance, entry, applied, held } = facts
  const from = setup.shop.tolerance.length.place ? "The shop's" : 'The usual'
  const has =
    entry === 'measured-length' ? held?.ok && correctionText(facts, held.value.correction) : applied && asWritten(applied.value)
  const row = (name: string, chance: Chance | undefined): (readonly string[])[] =>
    chance ? [[name, chanceText(chance.print), chanceText(chance.mean)]] : []
  const key = keyInText(facts)
  const rows = [
    ...row(`with ${has || 'what is set'}, as it runs`, set),
    ...(set && keyedIn && set.print === keyedIn.print ? [] : row(`with ${key ?? 'the number asked for'} keyed in`, keyedIn)),
  ]
  return {
    heading: 'Is the tolerance kept',
    blocks: [
      lines(
        `${from} length tolerance is ${plainPercent(tolerance)}, ${perLength(setup, tolerance)}, and ${chanceText(goal)} of prints are to keep it.`,
        ...verdictSentences(facts, next),
      ),
      { kind: 'table', header: ['', 'of prints', 'of the mean of many'], rows },
      lines(
        `If the mean were known perfectly, ${chanceText(best)} of prints would keep it: the rest is the scatter of the feed.`,
      ),
    ],
  }
}

function agePassage({ newest, recheckDays, lot, setup }: FeedFacts, today: string): Passage {
  const { check, age = 0, index } = newest!
  const date = check.date!.value
  const days = `${age} day${age === 1 ? '' : 's'}`
  const due = feedDueOf(setup)
  const change = feedChangeOf(setup)
  return {
    heading: 'Age and lot',
    blocks: [
      lines(
        `The newest check is check ${index + 1} of ${date}, ${age === 0 ? 'made today' : `${days} before ${today}`}. The shop trusts a check for ${recheckDays} days.`,
        due
          ? `The next one is due on ${due.date}${due.by === 'risk' ? ': by then a feed may have wandered so far that fewer prints keep the tolerance than are asked for (typical, from memory)' : ''}.`
          : 'The next one is due now.',
        change &&
          `Since some day between ${change.after} and ${change.by} the checks ask for ${percent(change.shift)} more (${plusMinus(change.U)}).`,
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
