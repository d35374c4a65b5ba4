// The whole reckoning of a feed correction: checks to implied corrections, these to one correction with its uncertainty, suspects named,
// fine picks added, what to key in, and how probable it is that a print comes out true. Everything the command line prints step by step is in the result.
import { type CalcProblem, firstProblem, type Outcome, ok } from '../base/outcome.ts'
import { correctionProblem, type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from './feed-check.ts'
import {
  type Combined,
  carried,
  combineChecks,
  estimatorsOf,
  type FeedCombination,
  type FeedEstimators,
  type FeedScatter,
  type UsableCheck,
} from './feed-combine.ts'
import { gainLimits } from './feed-gain.ts'
import { type FinePicks, type FineResult, finePicks, type KeyIn, type KeyInRules, keyIn } from './feed-key-in.ts'
import { bestProbability, probabilityWithin } from './feed-verdict.ts'

export interface FeedInput extends KeyInRules {
  readonly checks: readonly FeedCheckInput[]
  /** What is known of the scatter beside the checks. */
  readonly scatter?: FeedScatter | undefined
  /** Share of prints that may be out of tolerance before a number no longer counts as good: 0.05 unless given. */
  readonly risk?: number | undefined
  /** The correction that the profile sets. */
  readonly applied?: number | undefined
  /** Temperature at which printed lengths count, degC. */
  readonly referenceTemperature: number
  /** Length tolerance of the shop, fraction. */
  readonly tolerance?: number | undefined
  /** Coverage of the expanded uncertainty, 0.95 unless given. */
  readonly coverage?: number | undefined
  /** Significance of the outlier test, 0.05 unless given. */
  readonly significance?: number | undefined
  readonly fine?: FinePicks | undefined
}

export interface FeedCheckResult {
  readonly id: string
  readonly use: 'included' | 'skipped' | 'unusable'
  /** Why it is not included, in one plain sentence. */
  readonly reason?: string
  /** For an unusable check, the input at fault. */
  readonly problem?: CalcProblem
  /** Undefined for an unusable check. */
  readonly implied?: ImpliedCorrection
  /** The correction it asks for under today's conditions; that of `implied` where nothing carries it. */
  readonly now?: number
  /** Share in the combined correction, 0 where not included. */
  readonly weight: number
  /** What it asks for today minus the combined correction. */
  readonly residual?: number
  /**
   * Set where the check is so far from what all others predict that fewer than one series in twenty would show such a check by chance: how many of a hundred
   * such series would, as a fraction. It stays included.
   */
  readonly suspect?: number
}

/** A correction beside the one wanted. */
interface FeedAgreement {
  /** Correction − wanted. */
  readonly difference: number
  /** Length error of printing with it, metres per metre; positive prints long. */
  readonly lengthError: number
  /** Whether the difference is within U; where picks ask for the number, within what they and the checks leave open together. */
  readonly withinU: boolean
  /** Whether it is just what `keyIn` would make of it: for a printer that is told a length, to within half a step of that. */
  readonly asKeyedIn: boolean
  /**
   * Whether it may stay, since to change it would be to follow noise: the difference is within what is not known of the number asked for (by the
   * picks where these ask, which see less than a ruler does), its length error within the tolerance, and keying the other in would not make good what
   * is not good enough now.
   */
  readonly mayStay: boolean
  /** How probable it is that prints made with it come out true; undefined without a check or without a tolerance. */
  readonly chance: Chance | undefined
}

/** Probabilities of a length within the tolerance: of a print made now, its own scatter included, and of the mean of many. */
export interface Chance {
  readonly print: number
  readonly mean: number
}

export interface FeedReckoning {
  /** In the order given. */
  readonly checks: readonly FeedCheckResult[]
  /** Undefined where no check is included. */
  readonly combined: FeedCombination | undefined
  /** Ids of suspected checks, most extreme first. They remain in `combined`: only a person leaves a check out, by saying why. */
  readonly suspects: readonly string[]
  /** What `combined` would be if the suspects were skipped; undefined where there are none. */
  readonly without: FeedCombination | undefined
  readonly estimators: FeedEstimators | undefined
  readonly fine: FineResult | undefined
  /** The correction to aim at, fine picks counted in where they are current; undefined where there is neither check nor pick, or the two disagree. */
  readonly wanted: { readonly correction: number; readonly u: number; readonly k: number; readonly U: number } | undefined
  readonly keyIn: KeyIn | undefined
  /** How the correction that the profile sets compares; undefined where `applied` is not given. */
  readonly agreement: FeedAgreement | undefined
  /** How the one that the printer holds compares; undefined where that is not known, or not needed because a percentage is keyed in. */
  readonly machine: FeedAgreement | undefined
  /** The shop's tolerance as a decision (JCGM 106:2012, 7 and 8); undefined without a check or without a tolerance. */
  readonly proof:
    | {
        /** The probability that is asked for: 1 − risk. */
        readonly goal: number
        /** With what is set: by the machine where that is known to hold a correction of its own, else by the profile. */
        readonly set: Chance | undefined
        /** With `keyIn` keyed in; undefined where nothing may be. */
        readonly keyedIn: Chance | undefined
        /** Of a print, if the mean were known perfectly and set: below the goal the machine scatters too much for the tolerance. */
        readonly best: number
      }
    | undefined
}

/**
 * Reckons a feed correction from checks and fine picks. Fractions, metres and degC in and out.
 *
 * Checks are brought to today's conditions by their carries and combined as gains (length per commanded length), in which readings are linear. How far the feed
 * scatters from print to print, from day to day, from lot to lot and with time is not estimated and plugged in but integrated over. Errors that checks share (the
 * rule's limit, temperatures, expansion, tension, a carry) are never divided by √n. A check that all others together predict badly is named and stays in. One that
 * cannot be reckoned is reported as unusable, with the input at fault, and the others are still combined.
 *
 * Fine picks count where they were printed within one step of the checks' correction and agree with the checks; the correction wanted is then the
 * one they were printed with plus their contribution, so that reckoning again never adds them twice. Where they disagree none is wanted.
 * Refuses when there is neither check nor pick, and when the shop's or the printer's own numbers are at fault, naming them.
 */
export function reckonFeed(input: FeedInput): Outcome<FeedReckoning> {
  const problem = inputProblem(input)
  if (problem) return { ok: false, problem }
  const { coverage = 0.95, significance = 0.05, referenceTemperature } = input
  const implied = input.checks.map((check) => impliedCorrection({ check, referenceTemperature }))
  const included: UsableCheck[] = []
  input.checks.forEach((check, index) => {
    const outcome = implied[index]!
    if (!outcome.ok || check.skipped !== undefined) return
    included.push({ check, index, implied: outcome.value, now: carried(outcome.value, check) })
  })
  const together = combined(included, input, coverage, significance)
  const combination = together?.combination
  const suspects = together?.suspects ?? new Map<number, number>()
  const rest = included.filter(({ index }) => !suspects.has(index))
  const fine =
    input.fine &&
    finePicks({ fine: input.fine, checked: combination, inPrinter: inPrinter(input), step: stepOf(input), coverage })
  const wanted = wantedOf(combination, fine)
  const key = wanted && keyIn({ wanted: wanted.correction, rules: input })
  const chanceOf = (correction: number | undefined): Chance | undefined =>
    correction === undefined || !combination || input.tolerance === undefined
      ? undefined
      : chanceAt(combination, correction, input.tolerance)
  const goal = 1 - (input.risk ?? 0.05)
  const keyedIn = key?.value === undefined ? undefined : chanceOf(key.correction)
  const judge = (correction: number | undefined): FeedAgreement | undefined =>
    correction === undefined || !wanted || !key
      ? undefined
      : agreementOf(correction, { input, wanted, ruler: combination, key, fine, goal, keyedIn, chance: chanceOf(correction) })
  const agreement = judge(input.applied)
  const machine = judge(input.held?.ok ? input.held.value : undefined)
  const set = input.entry === 'percent' ? agreement : machine
  const best = combination && input.tolerance !== undefined ? bestProbability(combination.mixture, input.tolerance) : undefined
  let next = 0
  const checks = input.checks.map((check, i): FeedCheckResult => {
    const one = included[next]
    if (one?.index !== i) return leftOut(check, implied[i]!, combination)
    const weight = together?.weights[next++] ?? 0
    const result = {
      id: check.id,
      use: 'included' as const,
      implied: one.implied,
      now: one.now,
      weight,
      residual: one.now - (combination?.correction ?? 0),
    }
    const suspect = suspects.get(i)
    return suspect === undefined ? result : { ...result, suspect }
  })
  return ok({
    checks,
    combined: combination,
    suspects: [...suspects.keys()].map((index) => input.checks[index]!.id),
    without: suspects.size > 0 ? combined(rest, input, coverage, significance)?.combination : undefined,
    estimators: estimatorsOf(included),
    fine,
    wanted,
    keyIn: key,
    agreement,
    machine,
    proof: best?.ok ? { goal, set: set?.chance, keyedIn, best: best.value } : undefined,
  })
}

function combined(
  included: readonly UsableCheck[],
  { scatter = {} }: FeedInput,
  coverage: number,
  significance: number,
): Combined | undefined {
  const together = included.length === 0 ? undefined : combineChecks(included, scatter, coverage, significance)
  return together?.ok ? together.value : undefined
}

/** How probable it is that prints made at `correction` come out within the tolerance: one is (1 + correction) · gain as long as it is meant to be. */
export function chanceAt({ mixture }: FeedCombination, correction: number, tolerance: number): Chance | undefined {
  const limits = gainLimits({ set: correction, tolerance })
  if (!limits.ok) return undefined
  const { low, high } = limits.value
  const print = probabilityWithin(mixture, low, high, { of: 'print' })
  const mean = probabilityWithin(mixture, low, high, { of: 'mean' })
  return print.ok && mean.ok ? { print: print.value, mean: mean.value } : undefined
}

function leftOut(
  check: FeedCheckInput,
  implied: Outcome<ImpliedCorrection>,
  combination: FeedCombination | undefined,
): FeedCheckResult {
  const { id, skipped = '' } = check
  if (!implied.ok) return { id, use: 'unusable', reason: implied.problem.reason, problem: implied.problem, weight: 0 }
  const now = carried(implied.value, check)
  const result = { id, use: 'skipped' as const, reason: skipped, implied: implied.value, now, weight: 0 }
  return combination ? { ...result, residual: now - combination.correction } : result
}

/** The picks contain no check: where they are used, what is not known of the number is theirs (GUM 5.1). What lengths it makes, the checks say. */
function wantedOf(combination: FeedCombination | undefined, fine: FineResult | undefined): FeedReckoning['wanted'] {
  // Where ruler and picks disagree the cause is elsewhere, and neither number is offered.
  if (fine?.use === 'disagrees') return undefined
  const from = fine?.use === 'used' ? fine : combination
  return from && { correction: from.correction, u: from.u, U: from.U, k: from.u > 0 ? from.U / from.u : 0 }
}

/** The correction in the printer: for one that is told a length the one it is known to hold, else the profile's. */
const inPrinter = ({ entry, held, applied }: FeedInput): number | undefined =>
  entry === 'measured-length' && held?.ok ? held.value : applied

interface Beside {
  readonly input: FeedInput
  readonly wanted: NonNullable<FeedReckoning['wanted']>
  /** What the checks say, where picks ask for the number. */
  readonly ruler: FeedCombination | undefined
  readonly key: KeyIn
  readonly fine: FineResult | undefined
  readonly goal: number
  readonly keyedIn: Chance | undefined
  readonly chance: Chance | undefined
}

function agreementOf(correction: number, beside: Beside): FeedAgreement {
  const { input, wanted, ruler, key, fine, goal, keyedIn, chance } = beside
  const difference = correction - wanted.correction
  // Corrections of keyed-in lengths lie on no grid of their own: how a profile writes them says no more than half a step.
  const same = input.entry === 'percent' ? 1e-9 : (stepOf(input) / 2) * (1 + 1e-6)
  const lengthError = (1 + correction) / (1 + wanted.correction) - 1
  const gains = keyedIn !== undefined && chance !== undefined && keyedIn.print >= goal && chance.print < goal
  return {
    difference,
    lengthError,
    withinU: Math.abs(difference) <= Math.hypot(wanted.U, fine?.use === 'used' ? (ruler?.U ?? 0) : 0),
    asKeyedIn: key.value !== undefined && Math.abs(correction - key.correction) < same,
    mayStay:
      Math.abs(difference) <= (fine?.use === 'used' ? fine.U : wanted.U) &&
      (input.tolerance === undefined || Math.abs(lengthError) <= input.tolerance) &&
      !gains,
    chance,
  }
}

/** The printer's step as a fraction; a hundredth of a percent where the printer does not say (common practice). */
const stepOf = ({ step, lengthStep, patternLength }: FeedInput): number =>
  step ?? (lengthStep !== undefined && patternLength !== undefined ? lengthStep / patternLength : 1e-4)

function inputProblem(input: FeedInput): CalcProblem | undefined {
  const { checks, fine, referenceTemperature, tolerance, coverage, significance, risk, applied, held, step, lengthStep, range } =
    input
  const within = (name: string, value: number | undefined, low: number, high: number, what: string): CalcProblem | undefined =>
    value === undefined || (value >= low && value <= high) ? undefined : { input: name, reason: what }
  if (checks.length === 0 && !fine) return { input: 'checks', reason: 'there is no feed check and no fine pick to reckon with' }
  const above = {
    ...(tolerance !== undefined && { tolerance }),
    ...(step !== undefined && { step }),
    ...(lengthStep !== undefined && { lengthStep }),
  }
  return (
    firstProblem({ referenceTemperature, ...above }, Object.keys(above)) ??
    within('referenceTemperature', referenceTemperature, -60, 100, 'a shop works between -60 and 100 °C') ??
    within('coverage', coverage, 0.5, 1 - 1e-9, 'the coverage probability lies between 50 % and 100 %') ??
    within('risk', risk, 1e-9, 0.5, 'the risk lies between 0 and 50 %') ??
    within('significance', significance, 1e-9, 0.5, 'the significance lies between 0 and 50 %') ??
    within('step', step, 1e-9, 0.1, 'the step of a feed correction lies above zero and below 10 %') ??
    within('lengthStep', lengthStep, 1e-9, 0.1, 'the step of a measured length lies above zero and below 100 mm') ??
    within('patternLength', input.patternLength, 1e-3, 1e3, 'a pattern is between 1 mm and 1 km long') ??
    (applied === undefined ? undefined : correctionProblem('applied', applied)) ??
    (held?.ok ? correctionProblem('held', held.value) : undefined) ??
    (range && (correctionProblem('range', range[0]) ?? correctionProblem('range', range[1]))) ??
    (range && range[0] > range[1]
      ? { input: 'range', reason: 'the range of the correction ends below where it begins' }
      : undefined)
  )
}
