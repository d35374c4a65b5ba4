// From the correction wanted to what is keyed in: the fine picks, the printer's step and range, and printers that are told a measured length.
import { type CalcProblem, firstProblem, type Outcome } from '../base/outcome.ts'
import { correctionProblem } from './feed-check.ts'
import { sampleOf } from './statistics.ts'
import { expand } from './uncertainty.ts'

/** Picks from a fine pattern: for each row, how many steps longer (positive) or shorter the advance of a pass should be. */
export interface FinePicks {
  readonly picks: readonly number[]
  /** Advance one step stands for, m. */
  readonly step: number
  /** Nominal advance of a pass, m. */
  readonly advancePerPass: number
  /** The correction keyed in when the pattern was printed. */
  readonly applied: number
  /** What each row is called, by where it lies: as many as there are picks. */
  readonly rows?: readonly string[] | undefined
  /** How many patches a row of the pattern has; picks count from the middle one. */
  readonly patches?: number | undefined
  /** Why the picks say nothing of the mode that is printed in, in one plain sentence: they refine the advance of their own. */
  readonly otherMode?: string | undefined
  /** Whether a check that counts was made after the pattern was printed. */
  readonly older?: boolean | undefined
}

/**
 * What becomes of fine picks: `beyond`: one is not on the pattern. `other-mode`: they belong to another mode, or may. `uneven`: the rows differ by
 * more than feed can do. `last-patch`: the best one may lie beyond the pattern. `stale`: printed at another correction. `disagrees`: with the ruler.
 */
export type FineUse = 'used' | 'stale' | 'unusable' | 'beyond' | 'other-mode' | 'uneven' | 'last-patch' | 'disagrees'

export interface FineResult {
  readonly use: FineUse
  /** One plain sentence where the picks are not used. */
  readonly reason?: string
  readonly problem?: CalcProblem
  readonly n: number
  readonly meanPick: number
  /** meanPick · step / advancePerPass. */
  readonly contribution: number
  /** applied + contribution: exact, because a step lengthens the nominal advance that the correction multiplies. */
  readonly correction: number
  /** Standard uncertainty of the contribution: the scatter of the picks or their step, whichever is larger. */
  readonly u: number
  readonly nu: number
  /** Its expanded uncertainty. */
  readonly U: number
}

/**
 * What the fine picks ask for. They belong to the correction they were printed with (`fine.applied`), so they are stale unless that is, to within
 * `step` (fraction, the printer's), the correction the checks give (`checked`), or the printer (`inPrinter`) holds the correction they were
 * printed with or the one they led to. With nothing to compare with they are used. Picks of today's correction must agree with the checks: the
 * difference is to be within the expanded uncertainties of both, taken together (the E_n number of ISO 13528, with its limit of 1; from memory). Where it is
 * not, the picks are stale if a check came after them, and else ruler and picks disagree.
 *
 * A pick in the last patch of a row says only "at least": the best one may lie beyond the pattern. Rows that differ by more than two patches show
 * skew or uneven tension, which no feed correction mends (common practice).
 * The step is resolution and scatter contains it, so the larger of s/√n and 1/√12 of a step counts, not both (GUM F.2.2.1, 4.2.3).
 */
export function finePicks({
  fine,
  checked,
  inPrinter,
  step,
  coverage = 0.95,
}: {
  fine: FinePicks
  checked?: { readonly correction: number; readonly U: number } | undefined
  inPrinter?: number | undefined
  step: number
  coverage?: number
}): FineResult {
  const { picks, step: pickStep, advancePerPass, applied, older = false } = fine
  const nothing = { n: picks.length, meanPick: 0, contribution: 0, correction: 0, u: 0, nu: Number.POSITIVE_INFINITY, U: 0 }
  const problem = fineProblem(fine)
  if (problem) return { use: 'unusable', reason: problem.reason, problem, ...nothing }
  const sample = sampleOf({ values: picks })
  const [meanPick, sd] = sample.ok ? [sample.value.mean, sample.value.sd] : [picks[0]!, 0]
  const scatter = sd / Math.sqrt(picks.length)
  const perStep = pickStep / advancePerPass
  const contribution = meanPick * perStep
  const excessive = correctionProblem('picks', applied + contribution)
  const amiss = patternProblem(fine, meanPick)
  if (excessive && !amiss) return { use: 'unusable', reason: excessive.reason, problem: excessive, ...nothing }
  const u = Math.max(scatter, 1 / Math.sqrt(12)) * perStep
  const nu = scatter > 1 / Math.sqrt(12) ? picks.length - 1 : Number.POSITIVE_INFINITY
  const expanded = expand({ u, nu, coverage })
  if (!expanded.ok) return { use: 'unusable', reason: expanded.problem.reason, problem: expanded.problem, ...nothing }
  const result = {
    n: picks.length,
    meanPick,
    contribution,
    correction: applied + contribution,
    u,
    nu,
    U: expanded.value.U,
  }
  const within = (a: number, b: number, most: number) => Math.abs(a - b) <= most * (1 + 1e-9)
  if (amiss) return { ...amiss, ...(amiss.use === 'beyond' ? nothing : result) }
  const ofThePrinter = inPrinter !== undefined && (within(inPrinter, applied, step) || within(inPrinter, result.correction, step))
  const ofTheChecks = checked !== undefined && within(checked.correction, applied, step)
  const today = checked?.correction ?? inPrinter
  const agrees = checked === undefined || within(result.correction, checked.correction, Math.hypot(checked.U, result.U))
  if (today === undefined || ((ofTheChecks || ofThePrinter) && agrees)) return { use: 'used', ...result }
  if (ofTheChecks || (ofThePrinter && !older)) {
    const reason = 'ruler and picks disagree by more than both can be wrong'
    return { use: 'disagrees', reason, ...result }
  }
  const reason = `they were printed at ${signedPercent(applied)}, and today's correction is ${signedPercent(today)}`
  return { use: 'stale', reason, ...result }
}

/** Rows that differ by more patches than this show skew or uneven tension (common practice). */
const MAX_APART = 2

/** The furthest pick of a pattern on either side of its middle. */
export const furthestPick = (patches: number): number => Math.floor(patches / 2)

/** Why picks cannot be what their mean says, by the pattern they were picked on; undefined where they can. */
function patternProblem(
  { picks, rows, patches, otherMode }: FinePicks,
  meanPick: number,
): { use: FineUse; reason: string } | undefined {
  const furthest = patches === undefined ? Number.POSITIVE_INFINITY : furthestPick(patches)
  const beyond = picks.findIndex((pick) => Math.abs(pick) > furthest)
  if (beyond >= 0)
    return {
      use: 'beyond',
      reason: `${signedPick(picks[beyond]!)}${rows ? ` in the ${rows[beyond]} row` : ''} is no patch of the pattern, which goes from -${furthest} to +${furthest}`,
    }
  if (otherMode !== undefined) return { use: 'other-mode', reason: otherMode }
  const [least, most] = [Math.min(...picks), Math.max(...picks)]
  const apart = most - least
  const named = (pick: number): string => `${rows?.[picks.indexOf(pick)]} ${signedPick(pick)}`
  if (apart > MAX_APART)
    return {
      use: 'uneven',
      reason: `the rows differ by ${apart} patches across the web${rows ? ` (${named(least)}, ${named(most)})` : ''}, and that is skew or tension, not feed`,
    }
  const last = picks.flatMap((pick, i) => (Math.abs(pick) >= furthest ? [i] : []))
  if (furthest === 0 || last.length === 0) return undefined
  const more = `at least ${Math.abs(Number(meanPick.toFixed(1)))} patches ${meanPick > 0 ? 'more' : 'less'} feed`
  return {
    use: 'last-patch',
    reason: `a pick in the last patch${rows ? ` (${last.map((i) => rows[i]).join(', ')})` : ''} says only "${more}": the best one may lie beyond the pattern`,
  }
}

const signedPick = (pick: number): string => (pick > 0 ? `+${pick}` : String(pick))

function fineProblem({ picks, step, advancePerPass, applied }: FinePicks): CalcProblem | undefined {
  if (picks.length === 0) return { input: 'picks', reason: 'there are no fine picks' }
  if (!picks.every((pick) => Math.abs(pick) <= 1e6))
    return { input: 'picks', reason: 'one of the fine picks is no number of steps' }
  const problem = firstProblem({ step, advancePerPass }, ['step', 'advancePerPass']) ?? correctionProblem('applied', applied)
  if (problem) return problem
  return step / advancePerPass < 0.5 && step > 1e-9 && advancePerPass < 10
    ? undefined
    : { input: 'step', reason: 'a fine step is a small part of the advance of a pass' }
}

export interface KeyInRules {
  /** `percent`: the correction is keyed in itself. `measured-length`: the printer is told how long its pattern came out, and reckons. */
  readonly entry: 'percent' | 'measured-length'
  /** The correction that the printer holds now, or why that is not known. A printer that is told a length reckons from it. */
  readonly held?: Outcome<number> | undefined
  /** Step of a keyed-in correction, fraction. */
  readonly step?: number | undefined
  /** Step of a keyed-in length, m. */
  readonly lengthStep?: number | undefined
  /** Least and greatest correction the printer takes. */
  readonly range?: readonly [number, number] | undefined
  /** Length of the pattern the printer believes in, m; needed for `measured-length`. */
  readonly patternLength?: number | undefined
}

export interface KeyIn {
  readonly entry: 'percent' | 'measured-length'
  /** What to key in: a fraction for `percent`, metres for `measured-length`; undefined where there is nothing that may be keyed in. */
  readonly value: number | undefined
  /** Why there is nothing, in one plain sentence. */
  readonly reason?: string
  /** The correction the printer then runs with. */
  readonly correction: number
  /** Length error that is left, (1 + correction)/(1 + wanted) − 1, metres per metre: positive prints long. */
  readonly left: number
}

/**
 * What to key in so that the printer runs with `wanted` (fraction).
 *
 * A printer that is told a measured length M for its pattern P works out c = (1 + held)·P/M − 1 by itself, with the correction it already
 * has. To make that come out at `wanted` it is told M = P·(1 + held)/(1 + wanted), which is what its pattern would measure if checks
 * alone had a say. Where it is not known what the printer holds there is no such length: 0 is a guess like any other. Rounding goes to the nearest step that lies in the range. Nothing outside the range is ever offered.
 */
export function keyIn({ wanted, rules }: { wanted: number; rules: KeyInRules }): KeyIn {
  const { entry, range } = rules
  const none = (reason: string): KeyIn => ({ entry, value: undefined, reason, correction: wanted, left: 0 })
  if (range && (wanted < range[0] - 1e-12 || wanted > range[1] + 1e-12))
    return none(`the correction wanted is ${percent(wanted)}, and the printer takes ${percent(range[0])} to ${percent(range[1])}`)
  const made = entry === 'percent' ? percentEntry(wanted, rules) : lengthEntry(wanted, rules)
  if (typeof made === 'string') return none(made)
  return { entry, ...made, left: (1 + made.correction) / (1 + wanted) - 1 }
}

function percentEntry(wanted: number, { step, range }: KeyInRules): { value: number; correction: number } | string {
  const value = step === undefined ? wanted : stepInside(wanted, step, range)
  return value === undefined
    ? `no whole number of the printer's steps lies between ${percent(range?.[0] ?? 0)} and ${percent(range?.[1] ?? 0)}`
    : { value, correction: value }
}

function lengthEntry(wanted: number, rules: KeyInRules): { value: number; correction: number } | string {
  const { patternLength, held, lengthStep, range } = rules
  if (patternLength === undefined) return 'the printer is told a measured length, and the length of its pattern is not known'
  if (!held?.ok)
    return held?.problem.reason ?? 'the printer reckons from the correction that it holds, and nobody wrote down which that is'
  const reach = patternLength * (1 + held.value)
  // A longer measured length makes a smaller correction, so the ends of the range change places.
  const lengths = range && ([reach / (1 + range[1]), reach / (1 + range[0])] as const)
  const value = lengthStep === undefined ? reach / (1 + wanted) : stepInside(reach / (1 + wanted), lengthStep, lengths)
  if (value === undefined || !(value > 0))
    return 'no measured length that can be keyed in leads to a correction the printer takes'
  return { value, correction: reach / value - 1 }
}

/** The whole number of steps nearest to a value, ties away from zero, moved inward where that lies outside the range. */
function stepInside(value: number, step: number, range: readonly [number, number] | undefined): number | undefined {
  let count = Math.sign(value) * Math.round(Math.abs(value) / step + 1e-9)
  if (range) {
    const [least, most] = [Math.ceil(range[0] / step - 1e-6), Math.floor(range[1] / step + 1e-6)]
    if (least > most) return undefined
    count = Math.min(Math.max(count, least), most)
  }
  // Divided by the steps in a unit where that is whole, so that 12 steps of 0.0001 are 0.0012 and not 0.0012000000000000001.
  const perUnit = Math.round(1 / step)
  return (Math.abs(perUnit * step - 1) < 1e-9 ? count / perUnit : count * step) + 0
}

const percent = (fraction: number): string => `${Number((fraction * 100).toFixed(3))} %`

/** A correction with its sign, as it is written in a profile. */
export const signedPercent = (fraction: number): string => `${fraction > 0 ? '+' : ''}${percent(fraction)}`
