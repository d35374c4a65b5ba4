// Means: of plain readings, and of estimates which share errors, where an error common to several never shrinks with their number.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

export interface Sample {
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

export interface Estimate {
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
  const groups = groupsOf(estimates)
  const { weights, groupWeights } = weightsOf(estimates, groups)
  const origin = estimates[0]?.value ?? 0
  let value = origin
  let own = 0
  estimates.forEach((e, i) => {
    value += weights[i]! * (e.value - origin)
    own += (weights[i]! * e.u) ** 2
  })
  const shared = sharedPart(estimates, weights)
  const residuals = residualsOf(estimates, value, shared)
  const chi2 = residuals.reduce((sum, r) => sum + r.z * r.z, 0)
  const scatter = largerExcess(
    excess(residuals, weights),
    groups.length > 1 && groups.length < estimates.length
      ? excess(groupResiduals(estimates, groups, value, shared), groupWeights)
      : nothing,
  )
  const common = [...shared].map(([cause, u]) => ({ cause, u: Math.abs(u) }))
  const commonSquare = common.reduce((sum, part) => sum + part.u ** 2, 0)
  const result: WeightedMean = {
    value,
    weights,
    uInternal: Math.sqrt(own),
    uExternal: Math.sqrt(own + scatter.variance),
    nuExternal: freedom(own, scatter),
    common,
    uCommon: Math.sqrt(commonSquare),
    u: Math.sqrt(own + scatter.variance + commonSquare),
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

/** Positions of the estimates of each group; one without a group is a group of its own. */
function groupsOf(estimates: readonly Estimate[]): number[][] {
  const named = new Map<string, number[]>()
  const groups: number[][] = []
  estimates.forEach(({ group }, i) => {
    const known = group === undefined ? undefined : named.get(group)
    if (known) known.push(i)
    else {
      const fresh = [i]
      groups.push(fresh)
      if (group !== undefined) named.set(group, fresh)
    }
  })
  return groups
}

function weightsOf(estimates: readonly Estimate[], groups: readonly number[][]): { weights: number[]; groupWeights: number[] } {
  const weights = new Array<number>(estimates.length).fill(0)
  const precision = groups.map((members) => {
    let sum = 0
    for (const i of members) {
      const { u, common = [] } = estimates[i]!
      weights[i] = 1 / common.reduce((square, part) => square + part.u * part.u, u * u)
      sum += weights[i]!
    }
    let own = 0
    const shared = new Map<string, number>()
    for (const i of members) {
      weights[i]! /= sum
      own += (weights[i]! * estimates[i]!.u) ** 2
      add(shared, estimates[i]!.common, weights[i]!)
    }
    let square = own
    for (const u of shared.values()) square += u * u
    return 1 / square
  })
  const all = precision.reduce((sum, p) => sum + p, 0)
  const groupWeights = precision.map((p) => p / all)
  groups.forEach((members, g) => {
    for (const i of members) weights[i]! *= groupWeights[g]!
  })
  return { weights, groupWeights }
}

function add(shared: Map<string, number>, parts: readonly CommonPart[] | undefined, weight: number): void {
  if (parts) for (const { cause, u } of parts) shared.set(cause, (shared.get(cause) ?? 0) + weight * u)
}

/** What each cause leaves in the mean, signed. */
function sharedPart(estimates: readonly Estimate[], weights: readonly number[]): Map<string, number> {
  const shared = new Map<string, number>()
  estimates.forEach((e, i) => {
    add(shared, e.common, weights[i]!)
  })
  return shared
}

const squaresOf = (shared: ReadonlyMap<string, number>): number => {
  let sum = 0
  for (const u of shared.values()) sum += u * u
  return sum
}

function residualsOf(estimates: readonly Estimate[], mean: number, shared: ReadonlyMap<string, number>): Residual[] {
  const elsewhere = squaresOf(shared)
  return estimates.map(({ value, u, common }) => {
    let square = elsewhere
    if (common)
      for (const part of common) {
        const inMean = shared.get(part.cause) ?? 0
        square += (part.u - inMean) ** 2 - inMean ** 2
      }
    return residual(value - mean, u * u, square)
  })
}

const residual = (difference: number, own: number, notCancelling: number): Residual => {
  const u = Math.sqrt(own + Math.max(0, notCancelling))
  return { residual: difference, u, z: difference / u }
}

function groupResiduals(
  estimates: readonly Estimate[],
  groups: readonly number[][],
  mean: number,
  shared: ReadonlyMap<string, number>,
): Residual[] {
  const elsewhere = squaresOf(shared)
  return groups.map((members) => {
    const { weights } = weightsOf(
      members.map((i) => estimates[i]!),
      [members.map((_, position) => position)],
    )
    let difference = 0
    let own = 0
    const inGroup = new Map<string, number>()
    members.forEach((i, position) => {
      const weight = weights[position]!
      difference += weight * (estimates[i]!.value - mean)
      own += (weight * estimates[i]!.u) ** 2
      add(inGroup, estimates[i]!.common, weight)
    })
    let square = elsewhere
    for (const [cause, u] of inGroup) {
      const inMean = shared.get(cause) ?? 0
      square += (u - inMean) ** 2 - inMean ** 2
    }
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
const freedom = (own: number, { variance, nu }: Excess): number =>
  variance > 0 ? Math.max(1, nu * ((own + variance) / variance) ** 2) : Number.POSITIVE_INFINITY
