// The whole reckoning of a feed correction: checks to implied corrections, these to one correction with its uncertainty, suspects named,
// fine picks added, and what to key in. Everything the command line prints step by step is in the result.
import { type CalcProblem, firstProblem, type Outcome, ok } from '../base/outcome.ts'
import { correctionProblem, type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from './feed-check.ts'
import {
  combination,
  estimatorsOf,
  type FeedCombination,
  type FeedEstimators,
  meanGain,
  type Suspicion,
  suspectsAmong,
  type UsableCheck,
} from './feed-combine.ts'
import { type FinePicks, type FineResult, finePicks, type KeyIn, type KeyInRules, keyIn } from './feed-key-in.ts'
import { type RequiredPattern, requiredPattern } from './measurement.ts'
import { combine, expand } from './uncertainty.ts'

export interface FeedInput extends KeyInRules {
  readonly checks: readonly FeedCheckInput[]
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
  /** Share in the combined correction, 0 where not included. */
  readonly weight: number
  /** Implied minus combined correction. */
  readonly residual?: number
  /** Residual in units of the uncertainty it should have; included checks only. */
  readonly z?: number
  /** Set where the outlier test suspects the check: its distance in standard deviations, and what that should not exceed. It stays included. */
  readonly suspect?: Suspicion
}

/** A correction beside the one wanted. */
interface FeedAgreement {
  /** Correction − wanted. */
  readonly difference: number
  /** Length error of printing with it, metres per metre; positive prints long. */
  readonly lengthError: number
  /** Whether the difference is within U. */
  readonly withinU: boolean
  /** Whether it is just what `keyIn` would make of it: for a printer that is told a length, to within half a step of that. */
  readonly asKeyedIn: boolean
  /**
   * Whether it may stay, since to change it would be to follow noise: the difference is within what is not known of the number asked for (by the
   * picks where these ask, which see less than a ruler does), and its length error within the tolerance.
   */
  readonly mayStay: boolean
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
  readonly wanted:
    | { readonly correction: number; readonly u: number; readonly nu: number; readonly k: number; readonly U: number }
    | undefined
  readonly keyIn: KeyIn | undefined
  /** How the correction that the profile sets compares; undefined where `applied` is not given. */
  readonly agreement: FeedAgreement | undefined
  /** How the one that the printer holds compares; undefined where that is not known, or not needed because a percentage is keyed in. */
  readonly machine: FeedAgreement | undefined
  /**
   * The shop's tolerance, by guarded acceptance (JCGM 106:2012, 8.3): proven where the interval of the length error, U on either side, lies inside it.
   * Undefined without a check or without a tolerance.
   */
  readonly proof:
    | {
        /** Whether it is so with `keyIn` keyed in: U and what the rounding leaves. */
        readonly known: boolean
        /** Whether it is so with what is set: by the machine where that is known to hold a correction of its own, else by the profile. */
        readonly proven: boolean
        /** The pattern that would make it known with the instrument of the weightiest check; undefined where rounding or picks leave no room for one. */
        readonly required: RequiredPattern | undefined
      }
    | undefined
}

/**
 * Reckons a feed correction from checks and fine picks. Fractions, metres and degC in and out.
 *
 * Checks are combined as gains (length per commanded length), in which readings are linear: equal readings errors then give the least-squares
 * line through the origin, and long patterns count for more. Errors that checks share (the rule's limit, temperatures, expansion, tension) are
 * carried through as fully correlated and never divided by √n. Suspected outliers (Grubbs for fewer than 15 checks, Rosner from 15 on for up to a
 * tenth of the checks, at least 2 and at most 25) are named and stay in. A check that cannot be reckoned is reported as unusable, with the input at
 * fault, and the others are still combined. Work grows as n·(suspects looked for).
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
    if (outcome.ok && check.skipped === undefined) included.push({ check, index, implied: outcome.value })
  })
  const mean = meanGain(included)
  const combined = mean && combination(mean, included.length, coverage)
  const suspects = mean ? suspectsAmong(included, mean.residuals, significance) : new Map<number, Suspicion>()
  const rest = included.filter(({ index }) => !suspects.has(index))
  const restMean = suspects.size > 0 ? meanGain(rest) : undefined
  const fine =
    input.fine && finePicks({ fine: input.fine, checked: combined, inPrinter: inPrinter(input), step: stepOf(input), coverage })
  const wanted = wantedOf(combined, fine, coverage)
  const key = wanted && keyIn({ wanted: wanted.correction, rules: input })
  const agreement = wanted && key && agreementOf(input.applied, wanted, key, input, fine)
  const machine = wanted && key && input.held?.ok ? agreementOf(input.held.value, wanted, key, input, fine) : undefined
  const set = input.entry === 'percent' ? agreement : machine
  let next = 0
  const checks = input.checks.map((check, i): FeedCheckResult => {
    if (included[next]?.index !== i) return leftOut(check, implied[i]!, combined)
    const weight = mean?.weights[next] ?? 0
    // A longer gain is a smaller correction, so z changes sign.
    const z = 0 - (mean?.residuals[next]?.z ?? 0)
    const one = included[next++]!.implied
    const result = {
      id: check.id,
      use: 'included' as const,
      implied: one,
      weight,
      residual: one.correction - (combined?.correction ?? 0),
      z,
    }
    const suspect = suspects.get(i)
    return suspect ? { ...result, suspect } : result
  })
  return ok({
    checks,
    combined,
    suspects: [...suspects.keys()].map((index) => input.checks[index]!.id),
    without: restMean && combination(restMean, rest.length, coverage),
    estimators: estimatorsOf(included),
    fine,
    wanted,
    keyIn: key,
    agreement,
    machine,
    proof: mean && wanted && key && proofOf(input, wanted, key, set, fine, heaviest(included, mean.weights), coverage),
  })
}

function leftOut(
  check: FeedCheckInput,
  implied: Outcome<ImpliedCorrection>,
  combined: FeedCombination | undefined,
): FeedCheckResult {
  const { id, skipped = '' } = check
  if (!implied.ok) return { id, use: 'unusable', reason: implied.problem.reason, problem: implied.problem, weight: 0 }
  const result = { id, use: 'skipped' as const, reason: skipped, implied: implied.value, weight: 0 }
  return combined ? { ...result, residual: implied.value.correction - combined.correction } : result
}

function wantedOf(
  combined: FeedCombination | undefined,
  fine: FineResult | undefined,
  coverage: number,
): FeedReckoning['wanted'] {
  // Where ruler and picks disagree the cause is elsewhere, and neither number is offered.
  if (fine?.use === 'disagrees') return undefined
  const picked = fine?.use === 'used' ? fine : undefined
  if (!picked)
    return combined && { correction: combined.correction, u: combined.u, nu: combined.nu, k: combined.k, U: combined.U }
  const contributions = [{ name: 'picks', u: picked.u, nu: picked.nu }]
  if (combined) contributions.push({ name: 'checks', u: combined.u, nu: combined.nuEffective })
  const total = combine({ contributions })
  const expanded = total.ok ? expand({ u: total.value.u, nu: total.value.nu, coverage }) : total
  return total.ok && expanded.ok
    ? { correction: picked.correction, u: total.value.u, nu: total.value.nu, ...expanded.value }
    : undefined
}

/** The correction in the printer: for one that is told a length the one it is known to hold, else the profile's. */
const inPrinter = ({ entry, held, applied }: FeedInput): number | undefined =>
  entry === 'measured-length' && held?.ok ? held.value : applied

function agreementOf(
  correction: number | undefined,
  wanted: NonNullable<FeedReckoning['wanted']>,
  key: KeyIn,
  input: FeedInput,
  fine: FineResult | undefined,
): FeedAgreement | undefined {
  if (correction === undefined) return undefined
  const difference = correction - wanted.correction
  // Corrections of keyed-in lengths lie on no grid of their own: how a profile writes them says no more than half a step.
  const same = input.entry === 'percent' ? 1e-9 : (stepOf(input) / 2) * (1 + 1e-6)
  const lengthError = (1 + correction) / (1 + wanted.correction) - 1
  const withinU = Math.abs(difference) <= wanted.U
  return {
    difference,
    lengthError,
    withinU,
    asKeyedIn: key.value !== undefined && Math.abs(correction - key.correction) < same,
    mayStay:
      Math.abs(difference) <= (fine?.use === 'used' ? fine.U : wanted.U) &&
      (input.tolerance === undefined || Math.abs(lengthError) <= input.tolerance),
  }
}

function heaviest(included: readonly UsableCheck[], weights: readonly number[]): FeedCheckInput | undefined {
  let at = 0
  weights.forEach((weight, i) => {
    if (weight > weights[at]!) at = i
  })
  return included[at]?.check
}

/** The verdict on what is set, and the pattern it takes. What rounding and picks leave is off the tolerance before a ruler is asked. */
function proofOf(
  { tolerance, referenceTemperature }: FeedInput,
  { U, correction }: NonNullable<FeedReckoning['wanted']>,
  key: KeyIn,
  set: FeedAgreement | undefined,
  fine: FineResult | undefined,
  measurement: FeedCheckInput | undefined,
  coverage: number,
): FeedReckoning['proof'] {
  if (tolerance === undefined || !measurement) return undefined
  const left = Math.abs(key.left)
  const picks = fine?.use === 'used' ? fine.U : 0
  // U is of the correction, and a pattern is asked for by the share of its length: u(c) = (1 + c) · u(L)/L.
  const forRuler = Math.sqrt(Math.max(0, tolerance - left) ** 2 - picks ** 2) / (1 + correction)
  const required =
    forRuler > 0 ? requiredPattern({ measurement, referenceTemperature, tolerance: forRuler, coverage }) : undefined
  return {
    known: U + left <= tolerance,
    proven: set !== undefined && U + Math.abs(set.lengthError) <= tolerance,
    required: required?.ok ? required.value : undefined,
  }
}

/** The printer's step as a fraction; a hundredth of a percent where the printer does not say (common practice). */
const stepOf = ({ step, lengthStep, patternLength }: FeedInput): number =>
  step ?? (lengthStep !== undefined && patternLength !== undefined ? lengthStep / patternLength : 1e-4)

function inputProblem(input: FeedInput): CalcProblem | undefined {
  const { checks, fine, referenceTemperature, tolerance, coverage, significance, applied, held, step, lengthStep, range } = input
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
