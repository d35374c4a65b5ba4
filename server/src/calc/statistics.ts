// Means: of plain readings, and of estimates which share errors, where an error common to several never shrinks with their number.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

interface Sample {
  readonly n: number
  readonly mean: number
  /** Standard deviation with n − 1, in the unit of the values. */
  readonly sd: number
}

/**
 * Mean and standard deviation (n − 1) of at least two finite values, in their own unit; two passes, so that a large mean loses no digits.
 * Source: GUM 4.2.1, 4.2.2. Refuses fewer than two values and values that are not finite.
 */
export function sampleOf({ values }: { values: readonly number[] }): Outcome<Sample> {
  if (values.length < 2) return refuse('values', 'a standard deviation needs at least two values')
  if (!values.every(Number.isFinite)) return refuse('values', 'one of the values is not a finite number')
  const n = values.length
  const scale = values.reduce((largest, v) => Math.max(largest, Math.abs(v)), 0) || 1
  const rough = values.reduce((sum, v) => sum + v / scale, 0) / n
  const mean = rough + values.reduce((sum, v) => sum + (v / scale - rough), 0) / n
  const squares = values.reduce((sum, v) => sum + (v / scale - mean) ** 2, 0)
  const sd = scale * Math.sqrt(squares / (n - 1))
  return Number.isFinite(sd) ? ok({ n, mean: scale * mean, sd }) : refuse('values', 'the values are too large to compute with')
}

/** An error which every estimate that names its cause shares. Signed: opposite signs pull the estimates apart. */
export interface CommonPart {
  readonly cause: string
  /** Standard uncertainty, signed, in the unit of the estimates. */
  readonly u: number
}

interface Estimate {
  readonly value: number
  /** Standard uncertainty of the part that is this estimate's own, above zero, in the unit of the value. */
  readonly u: number
  /** The parts that are shared; none where left out. */
  readonly common?: readonly CommonPart[]
  /** Estimates made with the same instrument: they are averaged among themselves first. Without one, an estimate stands alone. */
  readonly group?: string | undefined
}

export interface Residual {
  /** Value minus weighted mean. */
  readonly residual: number
  /** Standard uncertainty the residual should have: the estimate's own part, and what of the shared parts does not cancel. */
  readonly u: number
  /** residual / u. */
  readonly z: number
}

export interface WeightedMean {
  readonly value: number
  /** Share of each estimate in the mean, in their order; the sum is 1 and none is negative. */
  readonly weights: readonly number[]
  /** Internal uncertainty: the estimates' own parts, which fall with their number. */
  readonly uInternal: number
  /** uInternal enlarged by what the scatter shows beyond it; equal to it where the estimates agree as well as they claim to. */
  readonly uExternal: number
  /** Degrees of freedom behind the enlargement; infinite where there is none. */
  readonly nuExternal: number
  /** What each shared cause leaves in the mean, zero or more; never divided by √n. */
  readonly common: readonly CommonPart[]
  /** Root sum of squares of the shared causes. */
  readonly uCommon: number
  /** √(uExternal² + uCommon²). */
  readonly u: number
  /** Sum of z²; about n − 1 where the estimates agree as well as they claim to. */
  readonly chi2: number
  /** √(chi2/(n − 1)), the Birge ratio; undefined for one estimate. */
  readonly birge: number | undefined
  readonly residuals: readonly Residual[]
}

/**
 * Weighted mean of estimates, with the errors they share carried through as fully correlated.
 *
 * Within a group the weights are 1/u² of the whole uncertainty, and so they are between the groups' means: many readings with one rule do not
 * outvote a better rule. Weights are never negative, which full generalized least squares cannot promise when shared parts differ in size.
 * The variance is that of these weights exactly: Σ w²u² plus, for each cause, (Σ w·u_cause)². Scatter beyond the claim enlarges uInternal by the
 * Birge ratio, among estimates or among groups, whichever adds more; agreement better than the claim does not shrink it.
 * With no shared part and no group this is the textbook weighted mean. Source: GUM 5.2.2 (correlated inputs), 4.3; R. T. Birge, Phys. Rev. 40 (1932) 207.
 * Refuses an empty list, values that are not finite, and an own uncertainty of zero or below.
 */
export function weightedMean({ estimates }: { estimates: readonly Estimate[] }): Outcome<WeightedMean> {
  const problem = faultIn(estimates)
  if (problem) return refuse('estimates', problem)
  const shared = sharedParts(estimates)
  const groups = groupsOf(estimates)
  const { weights, groupWeights } = weightsOf(estimates, shared, groups)
  const origin = estimates[0]!.value
  let value = 0
  let own = 0
  for (let i = 0; i < weights.length; i++) {
    const { value: v, u } = estimates[i]!
    value += weights[i]! * (v - origin)
    own += (weights[i]! * u) ** 2
  }
  value += origin
  const inMean = leftBy(shared, weights)
  const residuals = residualsOf(estimates, shared, value, inMean)
  const chi2 = residuals.reduce((sum, r) => sum + r.z * r.z, 0)
  const severalTold = groups.length > 1 && groups.length < estimates.length
  const scatter = largerExcess(
    excess(residuals, weights),
    severalTold
      ? excess(groupResiduals({ estimates, shared, groups, weights, groupWeights }, value, inMean), groupWeights)
      : nothing,
  )
  const uCommon = Math.sqrt(squaresOf(inMean))
  const result: WeightedMean = {
    value,
    weights,
    uInternal: Math.sqrt(own),
    uExternal: Math.sqrt(own + scatter.variance),
    nuExternal: freedom(own, scatter),
    common: shared.causes.map((cause, c) => ({ cause, u: Math.abs(inMean[c]!) })),
    uCommon,
    u: Math.hypot(Math.sqrt(own + scatter.variance), uCommon),
    chi2,
    birge: estimates.length > 1 ? Math.sqrt(chi2 / (estimates.length - 1)) : undefined,
    residuals,
  }
  return Number.isFinite(value) && Number.isFinite(result.u) && Number.isFinite(chi2) && result.uInternal > 0
    ? ok(result)
    : refuse('estimates', 'the estimates are too large or too small to compute with')
}

function faultIn(estimates: readonly Estimate[]): string | undefined {
  if (estimates.length === 0) return 'a mean needs at least one estimate'
  for (const { value, u, common } of estimates) {
    if (!Number.isFinite(value)) return 'the value of an estimate is not a finite number'
    if (!(u > 0 && u < Number.POSITIVE_INFINITY)) return 'the own uncertainty of an estimate must be above zero, and finite'
    if (common?.some((part) => !Number.isFinite(part.u))) return 'a shared uncertainty of an estimate is not a finite number'
  }
  return undefined
}

/** The shared parts of all estimates in one row, causes numbered: those of estimate i stand from start[i] to start[i + 1]. */
interface SharedParts {
  readonly causes: readonly string[]
  readonly start: Int32Array
  readonly cause: Int32Array
  readonly u: Float64Array
}

function sharedParts(estimates: readonly Estimate[]): SharedParts {
  const count = estimates.reduce((sum, { common }) => sum + (common?.length ?? 0), 0)
  const start = new Int32Array(estimates.length + 1)
  const cause = new Int32Array(count)
  const u = new Float64Array(count)
  const numbers = new Map<string, number>()
  let at = 0
  for (let i = 0; i < estimates.length; i++) {
    for (const part of estimates[i]!.common ?? []) {
      let number = numbers.get(part.cause)
      if (number === undefined) {
        number = numbers.size
        numbers.set(part.cause, number)
      }
      cause[at] = number
      u[at++] = part.u
    }
    start[i + 1] = at
  }
  return { causes: [...numbers.keys()], start, cause, u }
}

/** Positions of the estimates of each group; one without a group is a group of its own. */
function groupsOf(estimates: readonly Estimate[]): number[][] {
  const named = new Map<string, number[]>()
  const groups: number[][] = []
  for (let i = 0; i < estimates.length; i++) {
    const { group } = estimates[i]!
    const known = group === undefined ? undefined : named.get(group)
    if (known) known.push(i)
    else {
      const fresh = [i]
      groups.push(fresh)
      if (group !== undefined) named.set(group, fresh)
    }
  }
  return groups
}

/** Weights of all estimates, by their whole uncertainty within a group and by that of the group's mean between the groups. */
function weightsOf(
  estimates: readonly Estimate[],
  shared: SharedParts,
  groups: readonly number[][],
): { weights: number[]; groupWeights: number[] } {
  const weights = estimates.map(({ u }, i) => {
    let square = u * u
    for (let p = shared.start[i]!; p < shared.start[i + 1]!; p++) square += shared.u[p]! ** 2
    return 1 / square
  })
  const inGroup = new Float64Array(shared.causes.length)
  const precision = groups.map((members) => {
    let sum = 0
    for (const i of members) sum += weights[i]!
    let square = 0
    for (const i of members) {
      weights[i]! /= sum
      square += (weights[i]! * estimates[i]!.u) ** 2
      for (let p = shared.start[i]!; p < shared.start[i + 1]!; p++) inGroup[shared.cause[p]!]! += weights[i]! * shared.u[p]!
    }
    forCausesOf(members, shared, (c) => {
      square += inGroup[c]! ** 2
      inGroup[c] = 0
    })
    return 1 / square
  })
  const all = precision.reduce((sum, p) => sum + p, 0)
  const groupWeights = precision.map((p) => p / all)
  groups.forEach((members, g) => {
    for (const i of members) weights[i]! *= groupWeights[g]!
  })
  return { weights, groupWeights }
}

/** Calls `visit` for every shared part of the members; one that has been dealt with must be left as zero, for a cause comes more than once. */
function forCausesOf(members: readonly number[], { start, cause }: SharedParts, visit: (cause: number) => void): void {
  for (const i of members) for (let p = start[i]!; p < start[i + 1]!; p++) visit(cause[p]!)
}

/** What each cause leaves in the mean, signed. */
function leftBy({ causes, start, cause, u }: SharedParts, weights: readonly number[]): Float64Array {
  const left = new Float64Array(causes.length)
  for (let i = 0; i < weights.length; i++) for (let p = start[i]!; p < start[i + 1]!; p++) left[cause[p]!]! += weights[i]! * u[p]!
  return left
}

const squaresOf = (values: Float64Array): number => values.reduce((sum, u) => sum + u * u, 0)

function residualsOf(estimates: readonly Estimate[], shared: SharedParts, mean: number, inMean: Float64Array): Residual[] {
  const elsewhere = squaresOf(inMean)
  return estimates.map(({ value, u }, i) => {
    let square = elsewhere
    for (let p = shared.start[i]!; p < shared.start[i + 1]!; p++) {
      const left = inMean[shared.cause[p]!]!
      square += (shared.u[p]! - left) ** 2 - left ** 2
    }
    return residual(value - mean, u * u, square)
  })
}

const residual = (difference: number, own: number, notCancelling: number): Residual => {
  const u = Math.sqrt(own + Math.max(0, notCancelling))
  return { residual: difference, u, z: difference / u }
}

interface Grouped {
  readonly estimates: readonly Estimate[]
  readonly shared: SharedParts
  readonly groups: readonly number[][]
  readonly weights: readonly number[]
  readonly groupWeights: readonly number[]
}

function groupResiduals(
  { estimates, shared, groups, weights, groupWeights }: Grouped,
  mean: number,
  inMean: Float64Array,
): Residual[] {
  const elsewhere = squaresOf(inMean)
  const inGroup = new Float64Array(shared.causes.length)
  return groups.map((members, g) => {
    let difference = 0
    let own = 0
    for (const i of members) {
      const weight = weights[i]! / groupWeights[g]!
      difference += weight * (estimates[i]!.value - mean)
      own += (weight * estimates[i]!.u) ** 2
      for (let p = shared.start[i]!; p < shared.start[i + 1]!; p++) inGroup[shared.cause[p]!]! += weight * shared.u[p]!
    }
    let square = elsewhere
    forCausesOf(members, shared, (c) => {
      square += inGroup[c]! ** 2 - 2 * inGroup[c]! * inMean[c]!
      inGroup[c] = 0
    })
    return residual(difference, own, square)
  })
}

interface Excess {
  /** Variance of the mean which the scatter shows beyond the claim. */
  readonly variance: number
  readonly nu: number
}

const nothing: Excess = { variance: 0, nu: Number.POSITIVE_INFINITY }

/** (R² − 1) times the variance the weights give to the residuals' own uncertainties: what a Birge ratio R above 1 adds. */
function excess(residuals: readonly Residual[], weights: readonly number[]): Excess {
  const nu = residuals.length - 1
  if (nu < 1) return nothing
  const ratioSquare = residuals.reduce((sum, r) => sum + r.z * r.z, 0) / nu
  if (!(ratioSquare > 1)) return nothing
  const variance = residuals.reduce((sum, r, i) => sum + (weights[i]! * r.u) ** 2, 0)
  return { variance: (ratioSquare - 1) * variance, nu }
}

const largerExcess = (a: Excess, b: Excess): Excess => (b.variance > a.variance ? b : a)

/** Welch and Satterthwaite for a claim held for certain and an excess known from n − 1: from infinite where there is no excess down to n − 1. */
const freedom = (own: number, { variance, nu }: Excess): number => nu * ((own + variance) / variance) ** 2
