// The mean of values whose scatter is not known: reckoned at every size that the scatter may have, and averaged. No degrees of freedom, no estimate that may
// come out as zero, and one value is no special case.
import { type CalcProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { type MixtureParts, mixtureHalfWidth, weightedInterval } from './normal-mixture.ts'
import { averageOver, type ScatterInput } from './scatter-average.ts'
import { inOrder } from './scatter-model.ts'
import type { ScatterNode, ScatterUnknown } from './scatter-nodes.ts'

/** Standard uncertainties; the root of their sum of squares is u of the mean. */
interface ScatterBudget {
  /** Each value's own part. */
  readonly readings: number
  /** What each print has for itself of the scatter. */
  readonly scatter: number
  /** What prints of one day have in common. */
  readonly days: number
  readonly lots: number
  readonly drift: number
  /** What each shared cause leaves in the mean; never divided by √n. */
  readonly shared: readonly { readonly cause: string; readonly u: number }[]
  /** That the weights hang on a scatter which is not known. */
  readonly spread: number
}

export interface ScatterMixture {
  readonly n: number
  readonly value: number
  /** Standard uncertainty of the value, for what is asked for: the mean, today, of the lot in question. */
  readonly u: number
  /** Expanded uncertainty: the value lies within ± U with the coverage asked for. */
  readonly U: number
  /** U/u: told, not looked up. */
  readonly k: number
  /** Share of each value in the mean, in their order; none negative, sum 1. */
  readonly weights: readonly number[]
  /**
   * n times the probability that a value lies so far from what all others predict, in their order; below 0.05 it is suspect. Of two values neither can be
   * named: undefined for fewer than three.
   */
  readonly suspicion: readonly number[] | undefined
  /** Of two values the probability that they lie so far apart; below 0.05 they disagree, and neither is the one to blame. Undefined for other numbers. */
  readonly disagreement: number | undefined
  /** Scatter from print to print, to be expected and with its 95 % interval. */
  readonly tau: { readonly expected: number; readonly low: number; readonly high: number }
  readonly budget: ScatterBudget
  readonly unknown: readonly ScatterUnknown[]
  readonly parts: MixtureParts
  /** The nodes of the parts, in the same order. */
  readonly nodes: readonly ScatterNode[]
}

/**
 * Mean of values with own and shared uncertainties whose common scatter (from print to print, of days, of lots, and a drift) is unknown, integrated over
 * that scatter: at each node the generalized least-squares mean, weighted by the node's prior and its restricted likelihood. Fractions of length in and out;
 * ages in days. Unknown are, beside tau, only what the values can tell: the share of a day where two were printed on one, the lots where they differ from
 * each other or from the lot asked for, the drift where any is older than today.
 *
 * Weights take each shared cause at the smallest size that a value has of it, which keeps them from going negative where one rule measured several
 * lengths; the variance is that of these weights in the whole covariance. Shared causes are never divided by √n. U is found from the mixture itself.
 * Valid for near-normal errors. For one value without a stated repeatability the coverage of 95 % is that over printers of the typical range (from memory).
 * Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed., 5.4 (the mixture over tau); D. A. Harville (1977), restricted likelihood; GUM 5.2.2.
 * Refuses no values, numbers that are not finite, a negative uncertainty or age, a stated scatter or freedom of zero or below, and a coverage outside ]0, 1[.
 */
export function scatterMixture(input: ScatterInput): Outcome<ScatterMixture> {
  const problem = faultIn(input)
  if (problem) return { ok: false, problem }
  const { values, coverage = 0.95 } = input
  const reckoned = averageOver(input)
  if (!reckoned) return tooLarge
  const { layout, p, mean, variance, nodes, unknown } = reckoned
  const value = p.reduce((sum, w, k) => sum + w * mean[k]!, 0)
  const within = p.reduce((sum, w, k) => sum + w * variance[k]!, 0)
  const spread = p.reduce((sum, w, k) => sum + w * (mean[k]! - value) ** 2, 0)
  const u = Math.sqrt(within + spread)
  const tau = nodes.map((node) => node.tau)
  const parts: MixtureParts = { p, mean: mean.map((m) => m + layout.origin), u: variance.map(Math.sqrt), tau }
  const U = mixtureHalfWidth(parts, value + layout.origin, u, coverage)
  const { readings, scatter, days, lots, drift, shared } = reckoned.budget
  const result: ScatterMixture = {
    n: values.length,
    value: value + layout.origin,
    u,
    U,
    k: U / u,
    weights: inOrder(layout, reckoned.weights),
    suspicion: reckoned.suspicion && values.length > 2 ? inOrder(layout, reckoned.suspicion) : undefined,
    disagreement: values.length === 2 ? reckoned.suspicion && reckoned.suspicion[0]! / 2 : undefined,
    tau: weightedInterval(p, tau),
    budget: {
      readings: Math.sqrt(readings),
      scatter: Math.sqrt(scatter),
      days: Math.sqrt(days),
      lots: Math.sqrt(lots),
      drift: Math.sqrt(drift),
      shared: layout.causes.map((cause, c) => ({ cause, u: Math.sqrt(shared[c]!) })),
      spread: Math.sqrt(spread),
    },
    unknown,
    parts,
    nodes,
  }
  return Number.isFinite(result.value) && Number.isFinite(U) && u > 0 ? ok(result) : tooLarge
}

const tooLarge = refuse('values', 'the values are too large or too small to compute with')

function faultIn({ values, repeatability, lotSpread, nodes, coverage = 0.95 }: ScatterInput): CalcProblem | undefined {
  const fault = (input: string, reason: string): CalcProblem => ({ input, reason })
  if (values.length === 0) return fault('values', 'a mean needs at least one value')
  for (const { value, u, shared, age = 0 } of values) {
    if (!Number.isFinite(value)) return fault('values', 'one of the values is not a finite number')
    if (!(u >= 0 && u < Number.POSITIVE_INFINITY))
      return fault('values', "a value's own uncertainty must be zero or more, and finite")
    if (shared?.some((part) => !Number.isFinite(part.u))) return fault('values', 'a shared uncertainty is not a finite number')
    if (!(age >= 0 && age < Number.POSITIVE_INFINITY)) return fault('values', 'an age must be zero or more, and finite')
  }
  for (const [name, stated] of Object.entries({ repeatability, lotSpread }))
    if (stated && !(isSize(stated.value) && isSize(stated.freedom)))
      return fault(name, 'a stated scatter and its degrees of freedom must be above zero, and finite')
  if (nodes?.length === 0) return fault('nodes', 'an average needs at least one node')
  if (!(coverage > 0 && coverage < 1)) return fault('coverage', 'the coverage probability lies between 0 and 1, both excluded')
  return undefined
}

const isSize = (value: number): boolean => value > 0 && value < Number.POSITIVE_INFINITY
