// The mean of values whose scatter is not known: reckoned at every size that the scatter may have, and averaged. No degrees of freedom, no estimate that may
// come out as zero, and one value is no special case.
import { type CalcProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { type MixtureParts, mixtureHalfWidth, weightedInterval } from './normal-mixture.ts'
import { focusedNodes } from './scatter-focus.ts'
import { type Layout, layoutOf, type ScatterValue } from './scatter-model.ts'
import {
  gridNodes,
  nodeAt,
  placeOf,
  type ScatterNode,
  type ScatterUnknown,
  type StatedScatter,
  statedLogWeight,
} from './scatter-nodes.ts'
import { type Solver, solverOf, type VarianceParts } from './scatter-solver.ts'
import { suspicions } from './scatter-suspicion.ts'

export interface ScatterInput {
  readonly values: readonly ScatterValue[]
  /** The lot that the mean is asked for; left out, one that none of the values is of. It matters only where values name lots. */
  readonly lotNow?: string | undefined
  /** What is known of the scatter from print to print, and of that from lot to lot. */
  readonly repeatability?: StatedScatter | undefined
  readonly lotSpread?: StatedScatter | undefined
  /** Other nodes than those chosen by what is unknown; stated scatters weigh them all the same. */
  readonly nodes?: readonly ScatterNode[] | undefined
  /** Coverage of U; 0.95 unless given. */
  readonly coverage?: number | undefined
}

/** Standard uncertainties; the root of their sum of squares is u of the mean. */
export interface ScatterBudget {
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
  /** Scatter from print to print, to be expected and with its 95 % interval. */
  readonly tau: { readonly expected: number; readonly low: number; readonly high: number }
  readonly budget: ScatterBudget
  readonly unknown: readonly ScatterUnknown[]
  readonly parts: MixtureParts
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
  const reckoned = reckonNodes(input)
  if (!reckoned) return tooLarge
  const { layout, p, mean, variance, tau, unknown } = reckoned
  const value = p.reduce((sum, w, k) => sum + w * mean[k]!, 0)
  const within = p.reduce((sum, w, k) => sum + w * variance[k]!, 0)
  const spread = p.reduce((sum, w, k) => sum + w * (mean[k]! - value) ** 2, 0)
  const u = Math.sqrt(within + spread)
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
    suspicion: reckoned.suspicion && inOrder(layout, reckoned.suspicion),
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

/** What the values can tell something of. */
function unknownOf(layout: Layout): ScatterUnknown[] {
  const unknown: ScatterUnknown[] = ['tau']
  if (layout.dayCount > 0) unknown.push('rho')
  if (layout.lotsDiffer) unknown.push('omega')
  if (layout.ages.at(-1)! > 0) unknown.push('q')
  return unknown
}

interface Reckoned {
  readonly layout: Layout
  readonly unknown: readonly ScatterUnknown[]
  readonly p: number[]
  readonly mean: number[]
  readonly variance: number[]
  readonly tau: number[]
  readonly weights: Float64Array
  readonly suspicion: Float64Array | undefined
  readonly budget: VarianceParts
}

/** Below this share of the heaviest node (e⁻³⁰) a node counts for nothing. */
const NEGLIGIBLE = 30

function reckonNodes(input: ScatterInput): Reckoned | undefined {
  const layout = layoutOf(input.values, input.lotNow)
  const solver = solverOf(layout)
  const unknown = unknownOf(layout)
  const { n, start, entry } = layout
  const nodes = nodesFor(input, unknown, solver)
  const suspects = n > 2 ? suspicions(n) : undefined
  const logs = nodes.map((node) => {
    const log = priorOf(input, unknown, node) + solver.likelihood(node)
    suspects?.add(log, solver)
    return log
  })
  const most = logs.reduce((largest, log) => Math.max(largest, log), Number.NEGATIVE_INFINITY)
  if (!Number.isFinite(most)) return undefined
  const kept = nodes.flatMap((node, k) => (logs[k]! > most - NEGLIGIBLE ? [{ node, p: Math.exp(logs[k]! - most) }] : []))
  const total = kept.reduce((sum, { p }) => sum + p, 0)
  const weights = new Float64Array(n)
  const atNode = new Float64Array(n)
  const budget: VarianceParts = {
    readings: 0,
    scatter: 0,
    days: 0,
    lots: 0,
    drift: 0,
    shared: new Float64Array(layout.causes.length),
  }
  const mean: number[] = []
  const variance: number[] = []
  for (const { node, p } of kept) {
    solver.weights(node, atNode)
    let m = 0
    for (let j = 0; j < n; j++) {
      m += atNode[j]! * entry[start[j + 1]! - 1]!
      weights[j]! += (p / total) * atNode[j]!
    }
    mean.push(m)
    variance.push(solver.variance(node, atNode, budget, p / total))
  }
  return {
    layout,
    unknown,
    p: kept.map(({ p }) => p / total),
    mean,
    variance,
    tau: kept.map(({ node }) => node.tau),
    weights,
    suspicion: suspects?.result(),
    budget,
  }
}

/** Logarithm of a node's prior weight, what is stated included. */
const priorOf = ({ repeatability, lotSpread }: ScatterInput, unknown: readonly ScatterUnknown[], node: ScatterNode): number =>
  node.logWeight +
  statedLogWeight(repeatability, node.tau) +
  (unknown.includes('omega') ? statedLogWeight(lotSpread, node.omega) : 0)

/** From rows to the order in which the values were given. */
function inOrder({ order }: Layout, rows: Float64Array): number[] {
  const result = Array<number>(rows.length).fill(0)
  order.forEach((i, j) => {
    result[i] = rows[j]!
  })
  return result
}

/** Up to this many values the prior's grids hold; beyond, and with more than this stated, the nodes must stand closer than they do. */
const FEW = { values: 8, known: 30, alone: 100 }
/** Points that keep U within 1.5 % (root mean square) of 16,384 from the prior, for 1 to 60 values with everything unknown; a blunder among them too. */
const POINTS = { focused: 96, plain: 32 }

/** The nodes given; else a grid, where one unknown or two are known little of; else points where the values say that it counts. */
function nodesFor(input: ScatterInput, unknown: readonly ScatterUnknown[], solver: Solver): readonly ScatterNode[] {
  const { values, nodes, repeatability, lotSpread } = input
  if (nodes) return nodes
  const known = values.length + (repeatability?.freedom ?? 0) + (lotSpread?.freedom ?? 0)
  const grid = unknown.length === 1 ? known <= FEW.alone : values.length <= FEW.values && known <= FEW.known
  const nodesOfGrid = grid ? gridNodes(unknown) : undefined
  if (nodesOfGrid) return nodesOfGrid
  const within = (size: number): number => Math.max(-3, Math.min(3, placeOf(size)))
  const start = unknown.map((name) =>
    name === 'tau' && repeatability ? within(repeatability.value) : name === 'omega' && lotSpread ? within(lotSpread.value) : 0,
  )
  return focusedNodes(unknown, POINTS, start, (z) => {
    const node = nodeAt(unknown, z)
    return priorOf(input, unknown, node) + solver.likelihood(node) - 0.5 * z.reduce((sum, one) => sum + one * one, 0)
  })
}
