// The feed in numbers: each check with what it asks for, the reckoning of them together, and what to key in.

import { code, escapeMarkdown, table } from '../../base/markdown.ts'
import type { Numbers, NumbersSection } from '../../features/numbers.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { advanceOf } from '../advance/advance.ts'
import { carryText, eventText } from './doubt-words.ts'
import { feedDriftOf } from './drift.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, feedOf, resultOf } from './facts.ts'
import { feedAdvice } from './next.ts'
import { picksText, rowsOf, rowText } from './rows.ts'
import { isExpectation, measuredElsewhere, verdictOf } from './verdict.ts'
import { missingFirst, verdictSentences } from './verdict-words.ts'
import {
  checksText,
  correctionText,
  driftSentence,
  heldText,
  keyInText,
  longOrShort,
  perLength,
  plusMinus,
  plusMinusOfOne,
} from './words.ts'

/** Half a micrometre, or as much per metre: nobody measures it. */
const NOTHING = 5e-7

/** Checks shown in a hover, the newest ones. */
const SHOWN = 6

export const hover: NumbersSection = {
  paths: ['feed'],
  render(setup, path) {
    const facts = feedOf(setup)
    if (path[1] === 'checks' && typeof path[2] === 'number')
      return oneCheck(
        facts,
        facts.evidence.find((e) => e.check.$.node === itemNode(setup, path[2] as number)),
      )
    if (path[1] === 'fine') return fineNumbers(setup, facts, path[2] === 'picks' ? path[3] : undefined)
    return reckoning(setup, facts)
  },
}

const itemNode = (setup: Setup, index: number): unknown => {
  const list = setup.own.feed?.checks?.$.node
  return list?.kind === 'seq' ? list.items[index] : undefined
}

function reckoning(setup: Setup, facts: FeedFacts): Numbers | undefined {
  const { reckoning: r, problem, evidence } = facts
  if (problem) return { verdict: `The correction cannot be reckoned: ${escapeMarkdown(problem.reason)}.` }
  if (!r) return evidence.length ? { verdict: 'None of the checks can be reckoned with yet.' } : undefined
  const lines = [verdictSentences(facts).map(escapeMarkdown).join(' ')]
  if (evidence.length) lines.unshift(checksTable(facts))
  if (r.combined) {
    const { combined: c } = r
    const asks = isExpectation(facts) ? 'would ask' : `ask${c.n === 1 ? 's' : ''}`
    lines.push(
      `${checksText(c.n)} ${asks} for ${code(correctionText(facts, c.correction))} ${plusMinus(c.U)} (± is the 95 % interval). From print to print the feed scatters by about ${formatSi(c.scatter.expected, 'relative', { unit: '%', digits: 1 })}.`,
    )
  }
  if (r.fine && r.fine.use !== 'disagrees') lines.push(fineSentence(setup, r.fine))
  lines.push(...howItRuns(setup, facts))
  return { verdict: keyInFirst(facts), told: lines }
}

/** The thing to do at the machine. */
function keyInFirst(facts: FeedFacts): string {
  const { reckoning: r, entry, setup } = facts
  if (r?.fine?.use === 'disagrees') return 'Key in nothing.'
  const advice = feedAdvice(facts)
  if (!r?.keyIn || !advice) return 'There is nothing to key in yet.'
  const { doubtful } = verdictOf(facts)
  if (doubtful === 'unsettled') return 'Settle the merge first, and key in nothing before.'
  if (doubtful === 'not-read') return missingFirst(facts)
  if (measuredElsewhere(facts)) return 'Print again, and key in nothing before.'
  const told = entry === 'measured-length'
  if (advice.machine === 'impossible') return `Nothing may be keyed in: ${escapeMarkdown(r.keyIn.reason ?? '')}.`
  if (advice.machine === 'key-in') {
    const { applied } = facts
    const error = r.agreement?.lengthError ?? 0
    const why =
      applied && Math.abs(error) >= NOTHING
        ? `: with ${correctionText(facts, applied.value.si)} prints come out ${longOrShort(setup, error)}`
        : ''
    const asks = facts.expected ? 'Print the pattern; to be expected is' : 'Key in'
    return `${asks} ${keyInText(facts)}${told ? ' as the measured length' : ''}${why}.`
  }
  const what = told ? 'what the machine has' : 'what is set'
  if (facts.expected)
    return `Print the pattern, and key in nothing before: ${what} is ${advice.machine === 'done' ? '' : 'near '}what the checks lead to expect.`
  return `Key in nothing: ${what} ${advice.machine === 'done' ? 'is the number asked for, to the step' : 'may stay'}.`
}

function howItRuns(setup: Setup, facts: FeedFacts): string[] {
  const { reckoning: r, applied, tolerance, entry, held } = facts
  const advice = feedAdvice(facts)
  if (!r?.keyIn || !advice) return []
  const lines: string[] = []
  const told = entry === 'measured-length'
  if (advice.machine === 'key-in' && Math.abs(r.keyIn.left) >= NOTHING)
    lines.push(`Rounding to the step leaves ${longOrShort(setup, r.keyIn.left)}.`)
  if (told && held?.ok)
    lines.push(
      `The machine has ${heldText(facts, held.value)}${advice.parted ? ', and the profile another number: read it back and write that down under keyed' : ''}.`,
    )
  if (applied && r.agreement) {
    const { lengthError, withinU } = r.agreement
    const verdict =
      Math.abs(lengthError) < NOTHING
        ? 'prints true by the checks'
        : `prints ${longOrShort(setup, lengthError)}, ${withinU ? 'within what the checks can tell' : 'more than the checks allow'}`
    lines.push(`With ${code(correctionText(facts, applied.value.si))} it ${verdict} (tolerance ${perLength(setup, tolerance)}).`)
  }
  const drift = feedDriftOf(setup)
  if (drift) {
    const scatter = `No drift: ${drift.n} checks since ${drift.first} scatter more than they slope.`
    lines.push(drift.drift.real ? driftSentence(setup, drift) : scatter)
  }
  const advance = advanceOf(setup)
  if (advance.ok)
    lines.push(
      `The media advances ${formatSi(advance.value.advance, 'length', { unit: 'mm', digits: 4 })} a pass, so 0.01 % is ${formatSi(advance.value.advance * 1e-4, 'length', { unit: 'µm', digits: 2 })} a pass.`,
    )
  return lines
}

function checksTable(facts: FeedFacts): string {
  const rows = facts.evidence.slice(-SHOWN).map((evidence) => {
    const result = resultOf(facts, evidence)
    const { check } = evidence
    const now = result?.now ?? result?.implied?.correction
    const asks = now === undefined ? '—' : `${correctionText(facts, now)} ${plusMinusOfOne(result!.implied!.u)}`
    const weight = result?.use === 'included' ? `${Math.round(result.weight * 100)} %` : 'not counted'
    const note = result?.suspect === undefined ? '' : ' (apart)'
    return [check.date?.value ?? '—', lengthText(check.commanded), lengthText(check.measured), asks, `${weight}${note}`]
  })
  const more = facts.evidence.length > SHOWN ? `\n\n…and ${facts.evidence.length - SHOWN} earlier ones.` : ''
  return table(['date', 'commanded', 'measured', 'asks for (± 95 %)', 'weight'], rows) + more
}

const lengthText = (field: { readonly place: { readonly node: object } } | undefined): string => {
  const node = field?.place.node as { kind: string; text?: string } | undefined
  return node?.kind === 'scalar' && node.text ? escapeMarkdown(node.text) : '—'
}

function oneCheck(facts: FeedFacts, evidence: FeedEvidence | undefined): Numbers | undefined {
  const result = evidence && resultOf(facts, evidence)
  if (!evidence || !result) return undefined
  const { implied } = result
  if (!implied) return { verdict: `It cannot be reckoned with: ${result.reason}.` }
  const { measured } = implied
  const lines: string[] = []
  const changes = measured.steps
    .filter((s) => Math.abs(s.change) >= NOTHING)
    .map((s) => `${CAUSES[s.cause]} ${formatSi(s.change, 'length', { unit: 'mm', digits: 2, sign: true })}`)
  if (changes.length)
    lines.push(
      `Measured length brought to reference: ${changes.join(', ')} → ${formatSi(measured.length, 'length', { unit: 'mm', digits: 7 })}.`,
    )
  const parts = measured.parts
    .filter((p) => Math.abs(p.u) > 0)
    .map(
      (p) =>
        `${CAUSES[p.cause]}${p.cause === 'web-temperature' && p.kind === 'random' ? ' on that day' : ''} ${formatSi(Math.abs(p.u), 'length', { unit: 'mm', digits: 2 })}${p.assumed ? ' (assumed)' : ''}`,
    )
  lines.push(`Standard uncertainty ${formatSi(measured.u, 'length', { unit: 'mm', digits: 2 })} from ${parts.join(', ')}.`)
  for (const carry of evidence.carries)
    lines.push(`Brought to the settings of now: ${escapeMarkdown(carryText(carry, facts.setup))}.`)
  if (evidence.sameDay) lines.push(`That day ${eventText(evidence.sameDay.what)}: it counts as made after that.`)
  if (result.use === 'included')
    lines.push(
      evidence.doubt
        ? `It proves nothing of today: ${escapeMarkdown(evidence.reason ?? '')}. Its number is the one to expect, and no more.`
        : `Its weight is ${Math.round(result.weight * 100)} %.`,
    )
  else lines.push(`It does not count: ${escapeMarkdown(evidence.reason ?? result.reason ?? '')}.`)
  return {
    verdict: `It came out ${howLong(facts, evidence, measured.length)}, and asks for ${correctionText(facts, implied.correction)} ${plusMinusOfOne(implied.u)} (95 %).`,
    told: [...lines, 'It asks for (1 + applied) · commanded / measured − 1.'],
  }
}

/** Of the length at the reference temperature: "2.2 mm per metre short". */
function howLong({ setup }: FeedFacts, { check }: FeedEvidence, length: number): string {
  const error = length / (check.commanded?.value.si ?? length) - 1
  return Math.abs(error) < NOTHING ? 'true to length' : longOrShort(setup, error)
}

const CAUSES = {
  reading: 'reading',
  'limit-of-error': 'limit of error of the rule',
  'rule-temperature': 'temperature of the rule',
  'web-temperature': 'temperature of the web',
  'web-expansion': 'expansion of the web',
  humidity: 'humidity of the day',
  'moisture-expansion': 'growth of the web with humidity',
  'rule-error': 'known error of the rule',
  tension: 'tension',
} as const

/** `row` is the place of one pick in their list. */
function fineNumbers(setup: Setup, facts: FeedFacts, row: string | number | undefined): Numbers | undefined {
  const fine = facts.reckoning?.fine
  if (fine) {
    const rows = rowsOf(setup, fine.n)
    const own = typeof row === 'number' && rows?.[row] !== undefined ? `The pick of ${rowText(rows, row)}.` : undefined
    return { verdict: own ?? fineSentence(setup, fine), told: [own && fineSentence(setup, fine)] }
  }
  const advance = advanceOf(setup)
  return setup.own.feed?.fine?.picks && !advance.ok
    ? { verdict: `The picks cannot be reckoned with: ${advance.problem.reason}.` }
    : undefined
}

function fineSentence(setup: Setup, fine: NonNullable<NonNullable<FeedFacts['reckoning']>['fine']>): string {
  if (fine.use === 'stale') return `**Print the fine pattern again:** the picks are left out, since ${fine.reason}.`
  if (fine.use !== 'used') return `**Fine picks:** left out, because ${fine.reason}.`
  const picks = setup.own.feed?.fine?.picks?.items.map(({ value }) => value) ?? []
  return `**Fine picks:** they ask for ${formatSi(fine.correction, 'relative', { unit: '%', digits: 3, sign: true })} ${plusMinus(fine.U)}: mean ${fine.meanPick.toFixed(2)} of ${picksText(rowsOf(setup, picks.length), picks)} adds ${formatSi(fine.contribution, 'relative', { unit: '%', digits: 2, sign: true })} to the correction they were printed with.`
}
