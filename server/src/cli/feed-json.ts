// The reckoning of a feed for programs: percent, millimetres and days, with null where a number is not known. The help of `rollbook feed`
// documents the keys.

import { carryText } from '../areas/feed/doubt-words.ts'
import type { FeedEvidence } from '../areas/feed/evidence.ts'
import { type FeedFacts, feedOf, resultOf } from '../areas/feed/facts.ts'
import { heldThen, heldThenSentences } from '../areas/feed/held-then.ts'
import { feedAdvice } from '../areas/feed/next.ts'
import { type NextPrint, nextPrintOf } from '../areas/feed/next-print.ts'
import { nextPrintSentences } from '../areas/feed/next-print-words.ts'
import { whyOut } from '../areas/feed/reckoning-check.ts'
import { COVERAGE } from '../areas/feed/reckoning-words.ts'
import { verdictOf } from '../areas/feed/verdict.ts'
import { verdictSentences } from '../areas/feed/verdict-words.ts'
import { feedDueOf } from '../areas/feed/watch.ts'
import { disagreementText, K95, keyInText } from '../areas/feed/words.ts'
import type { Chance, FeedReckoning } from '../calc/feed.ts'
import type { FeedCombination } from '../calc/feed-combine.ts'
import type { Commit } from '../host/revisions.ts'
import type { Setup } from '../model/setup.ts'
import { fromSi } from '../quantities/convert.ts'
import { VERSION } from '../version.ts'

/** `commit`: that of which the documents are, where they are not today's. */
export function feedJson(setup: Setup, file: string, notChecked: readonly string[], commit?: Commit): object {
  const facts = feedOf(setup)
  const { reckoning, problem } = facts
  const next = nextPrintOf(facts)
  return {
    version: VERSION,
    file,
    profile: setup.own.profile?.value ?? null,
    date: setup.today,
    ...(commit && { at: atThen(facts, commit) }),
    correction: reckoning?.wanted ? correction(reckoning, reckoning.wanted) : null,
    keyIn: reckoning?.keyIn ? keyIn(facts, reckoning.keyIn) : null,
    inProfile: inProfile(facts),
    checks: facts.evidence.map((e) => check(facts, e)),
    suspects: (reckoning?.checks ?? []).flatMap(({ id, suspect }) =>
      suspect === undefined ? [] : [{ check: numberOf(id), probability: clean(suspect) }],
    ),
    withoutSuspects: reckoning?.without ? interval(reckoning.without) : null,
    fine: reckoning?.fine ? fine(reckoning.fine) : null,
    rounding: rounding(facts),
    tolerance: tolerance(facts),
    verdict: verdict(facts, next),
    advice: next ? advice(facts, next) : null,
    evidence: {
      newestCheck: facts.newest?.check.date?.value ?? null,
      ageDays: facts.newest?.age ?? null,
      recheckDays: facts.recheckDays,
      stale: facts.stale,
      due: feedDueOf(setup)?.date ?? null,
      dueBy: feedDueOf(setup)?.by ?? null,
      lot: facts.lot ?? null,
    },
    problem: problem?.reason ?? (reckoning?.fine?.use === 'disagrees' ? disagreementText(facts) : null),
    notChecked,
  }
}

function atThen(facts: FeedFacts, { id, day, subject }: Commit): object {
  const then = heldThen(facts)
  return {
    commit: id,
    committed: day,
    subject,
    machine: then
      ? { percent: inPercent(then.correction), by: then.by, print: clean(then.chance?.print), mean: clean(then.chance?.mean) }
      : null,
    text: heldThenSentences(facts).join(' '),
  }
}

function correction({ combined, fine }: FeedReckoning, wanted: NonNullable<FeedReckoning['wanted']>): object {
  return {
    ...interval(wanted),
    checks: combined?.n ?? 0,
    prints: combined?.prints ?? 0,
    scatterPercent: inPercent(combined?.scatter.expected),
    finePicks: fine?.use === 'used',
  }
}

function interval({ correction, u, U, k }: Pick<FeedCombination, 'correction' | 'u' | 'U' | 'k'>): object {
  return {
    percent: inPercent(correction),
    uncertaintyPercent: inPercent(U),
    standardUncertaintyPercent: inPercent(u),
    k: clean(k),
    coverage: COVERAGE,
  }
}

function keyIn(facts: FeedFacts, { entry, value, correction, reason }: NonNullable<FeedReckoning['keyIn']>): object {
  const percent = entry === 'percent'
  const { held, lengthUnit } = facts
  return {
    value: value === undefined ? null : percent ? inPercent(value) : clean(fromSi(value, lengthUnit)),
    unit: percent ? '%' : lengthUnit.id,
    text: keyInText(facts) ?? null,
    entry,
    needed: value === undefined ? null : feedAdvice(facts)?.machine === 'key-in',
    correctionPercent: value === undefined ? null : inPercent(correction),
    machinePercent: held?.ok ? inPercent(held.value.correction) : null,
    reason: reason ?? null,
  }
}

function inProfile({ applied, reckoning }: FeedFacts): object | null {
  if (!applied) return null
  const agreement = reckoning?.agreement
  return {
    percent: inPercent(applied.value.si),
    differencePercent: inPercent(agreement?.difference),
    printsLongMmPerMetre: inMm(agreement?.lengthError),
    withinUncertainty: agreement?.withinU ?? null,
    asKeyedIn: agreement?.asKeyedIn ?? null,
    mayStay: agreement?.mayStay ?? null,
  }
}

function check(facts: FeedFacts, evidence: FeedEvidence): object {
  const { check, index, age } = evidence
  const result = resultOf(facts, evidence)
  const implied = result?.implied
  return {
    check: index + 1,
    date: check.date?.value ?? null,
    ageDays: age ?? null,
    lot: check.lot?.value ?? null,
    instrument: check.with?.value ?? null,
    commandedMm: inMm(check.commanded?.value.si),
    measuredMm: inMm(check.measured?.value.si),
    correctedMm: inMm(implied?.measured.length),
    appliedPercent: inPercent(check.applied?.value.si),
    impliedPercent: inPercent(implied?.correction),
    carriedPercent: inPercent(result?.now),
    under: check.under?.value ?? null,
    samePrint: check['same-print']?.value === true,
    carries: evidence.carries.map((carry) => ({
      law: carry.law,
      shiftPercent: inPercent(carry.shift),
      standardUncertaintyPercent: inPercent(carry.u),
      text: carryText(carry, facts.setup),
    })),
    uncertaintyPercent: inPercent(implied && K95 * implied.u),
    standardUncertaintyPercent: inPercent(implied?.u),
    uncertaintyParts: (implied?.measured.parts ?? []).map(({ cause, kind, assumed, u }) => ({
      cause,
      shared: kind === 'systematic',
      assumed,
      standardUncertaintyPercent: inPercent(Math.abs(u * implied!.perMetre)),
    })),
    weight: clean(result?.weight ?? 0),
    residualPercent: inPercent(result?.residual),
    suspect: result?.suspect !== undefined,
    leftOut: result?.use !== 'included',
    proves: evidence.leftOut === undefined && evidence.doubt === undefined && result?.use === 'included',
    reason: whyOut(facts, evidence) ?? null,
  }
}

function fine({ use, reason, n, meanPick, contribution, u, U }: NonNullable<FeedReckoning['fine']>): object {
  return {
    used: use === 'used',
    use,
    reason: reason ?? null,
    picks: n,
    meanPick: clean(meanPick),
    addsPercent: inPercent(contribution),
    uncertaintyPercent: inPercent(U),
    standardUncertaintyPercent: inPercent(u),
  }
}

function rounding({ step, entry, reckoning, lengthUnit }: FeedFacts): object {
  const keyIn = reckoning?.keyIn
  return {
    step: step === undefined ? null : entry === 'percent' ? inPercent(step) : clean(fromSi(step, lengthUnit)),
    unit: entry === 'percent' ? '%' : lengthUnit.id,
    leavesMmPerMetre: keyIn?.value === undefined ? null : inMm(keyIn.left),
  }
}

function tolerance(facts: FeedFacts): object {
  const { tolerance, reckoning } = facts
  const { goal, best } = reckoning?.proof ?? {}
  return {
    percent: inPercent(tolerance),
    goal: clean(goal),
    best: clean(best),
  }
}

function verdict(facts: FeedFacts, next: NextPrint | undefined): object {
  const { word, doubtful, chance, keyedIn } = verdictOf(facts)
  const of = (one: Chance | undefined): object | null => (one ? { print: clean(one.print), mean: clean(one.mean) } : null)
  return {
    word,
    doubtful: doubtful ?? null,
    asItRuns: of(chance),
    onceKeyedIn: of(keyedIn),
    text: verdictSentences(facts, next).join(' '),
  }
}

function advice(facts: FeedFacts, next: NextPrint): object {
  const { prints, pattern, instrument, chance, poor, reading } = next
  return {
    prints,
    patternMm: inMm(pattern.si),
    instrument,
    chance: clean(chance),
    worthwhile: !poor,
    mostlyReading: reading,
    text: nextPrintSentences(facts, next).join(' '),
  }
}

const numberOf = (id: string): number => Number(id.replace(/^check /, ''))

const inPercent = (fraction: number | undefined): number | null => (fraction === undefined ? null : clean(fraction * 100))

const inMm = (metres: number | undefined): number | null => (metres === undefined ? null : clean(metres * 1000))

/** Ten digits are more than any ruler gives; the rest would be binary dust. */
const clean = (value: number | undefined): number | null =>
  value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(10)) + 0
