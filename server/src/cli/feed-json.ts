// The reckoning of a feed for programs: percent, millimetres and days, with null where a number is not known. The help of `rollbook feed`
// documents the keys.

import type { FeedEvidence } from '../areas/feed/evidence.ts'
import { type FeedFacts, feedOf, resultOf } from '../areas/feed/facts.ts'
import { feedAdvice, isProven } from '../areas/feed/next.ts'
import { whyOut } from '../areas/feed/reckoning-check.ts'
import { COVERAGE } from '../areas/feed/reckoning-words.ts'
import { disagreementText, K95, keyInText } from '../areas/feed/words.ts'
import type { FeedReckoning } from '../calc/feed.ts'
import type { FeedCombination } from '../calc/feed-combine.ts'
import type { Setup } from '../model/setup.ts'
import { fromSi } from '../quantities/convert.ts'
import { VERSION } from '../version.ts'

export function feedJson(setup: Setup, file: string, notChecked: readonly string[]): object {
  const facts = feedOf(setup)
  const { reckoning, problem } = facts
  return {
    version: VERSION,
    file,
    profile: setup.own.profile?.value ?? null,
    date: setup.today,
    correction: reckoning?.wanted ? correction(reckoning, reckoning.wanted) : null,
    keyIn: reckoning?.keyIn ? keyIn(facts, reckoning.keyIn) : null,
    inProfile: inProfile(facts),
    checks: facts.evidence.map((e) => check(facts, e)),
    suspects: (reckoning?.checks ?? []).flatMap(({ id, suspect }) => (suspect ? [{ check: numberOf(id), ...suspect }] : [])),
    withoutSuspects: reckoning?.without ? interval(reckoning.without) : null,
    fine: reckoning?.fine ? fine(reckoning.fine) : null,
    rounding: rounding(facts),
    tolerance: tolerance(facts),
    evidence: {
      newestCheck: facts.newest?.check.date?.value ?? null,
      ageDays: facts.newest?.age ?? null,
      recheckDays: facts.recheckDays,
      stale: facts.stale,
      lot: facts.lot ?? null,
    },
    problem: problem?.reason ?? (reckoning?.fine?.use === 'disagrees' ? disagreementText(facts) : null),
    notChecked,
  }
}

function correction({ combined, fine }: FeedReckoning, wanted: NonNullable<FeedReckoning['wanted']>): object {
  return {
    ...interval(wanted),
    checks: combined?.n ?? 0,
    birgeRatio: clean(combined?.birge),
    finePicks: fine?.use === 'used',
  }
}

function interval({ correction, u, U, k, nu }: Pick<FeedCombination, 'correction' | 'u' | 'U' | 'k' | 'nu'>): object {
  return {
    percent: inPercent(correction),
    uncertaintyPercent: inPercent(U),
    standardUncertaintyPercent: inPercent(u),
    k: clean(k),
    coverage: COVERAGE,
    degreesOfFreedom: clean(nu),
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
  const proof = reckoning?.proof
  return {
    percent: inPercent(tolerance),
    proven: isProven(facts) ?? null,
    provenOnceKeyedIn: proof ? proof.known && !facts.stale : null,
    neededPatternMm: inMm(proof?.required?.length),
    leastUncertaintyPercent: inPercent(proof?.required?.floor),
  }
}

const numberOf = (id: string): number => Number(id.replace(/^check /, ''))

const inPercent = (fraction: number | undefined): number | null => (fraction === undefined ? null : clean(fraction * 100))

const inMm = (metres: number | undefined): number | null => (metres === undefined ? null : clean(metres * 1000))

/** Ten digits are more than any ruler gives; the rest would be binary dust. */
const clean = (value: number | undefined): number | null =>
  value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(10)) + 0
