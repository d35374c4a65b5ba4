// The average over the nodes of a scatter that is not known: which nodes, how much each weighs, and what the mean is at each.
import { focusedNodes } from './scatter-focus.ts'
import { inOrder, type Layout, layoutOf, type ScatterValue } from './scatter-model.ts'
import {
  gridNodes,
  nodeAt,
  placeOf,
  type ScatterNode,
  type ScatterUnknown,
  type StatedScatter,
  statedLogWeight,
} from './scatter-nodes.ts'
import { type Solver, solverOf } from './scatter-solver.ts'
import { suspicions } from './scatter-suspicion.ts'
import { type VarianceParts, varianceOf } from './scatter-variance.ts'

export interface ScatterInput {
  readonly values: readonly ScatterValue[]
  /** The lot that the mean is asked for; left out, one that none of the values is of. It matters only where values name lots. */
  readonly lotNow?: string | undefined
  /** What is known of the scatter from print to print, and of that from lot to lot. */
  readonly repeatability?: StatedScatter | undefined
  readonly lotSpread?: StatedScatter | undefined
  /** Other nodes than those chosen by what is unknown; stated scatters weigh them all the same. */
  readonly nodes?: readonly ScatterNode[] | undefined
  /** `false` leaves out how suspect each value is, which is a third of the work. */
  readonly suspicion?: boolean | undefined
  /** Coverage of U; 0.95 unless given. */
  readonly coverage?: number | undefined
}

/** What the values can tell something of. */
export function unknownOf(layout: Layout): ScatterUnknown[] {
  const unknown: ScatterUnknown[] = ['tau']
  if (layout.dayCount > 0) unknown.push('rho')
  if (layout.lotsDiffer) unknown.push('omega')
  if (layout.ages.at(-1)! > 0) unknown.push('q')
  return unknown
}

interface Average {
  readonly layout: Layout
  readonly unknown: readonly ScatterUnknown[]
  /** Nodes that count for anything, and of each its weight (sum 1), the mean less the layout's origin, and its variance. */
  readonly nodes: readonly ScatterNode[]
  readonly p: number[]
  readonly mean: number[]
  readonly variance: number[]
  /** By row of the layout, as is `suspicion`, which one value alone has none of. */
  readonly weights: Float64Array
  readonly suspicion: Float64Array | undefined
  readonly budget: VarianceParts
}

/** Below this share of the heaviest node (e⁻³⁰) a node counts for nothing. */
const NEGLIGIBLE = 30

interface Judged {
  readonly layout: Layout
  readonly solver: Solver
  readonly unknown: readonly ScatterUnknown[]
  readonly nodes: readonly ScatterNode[]
  /** Logarithm of each node's prior times likelihood. */
  readonly logs: readonly number[]
  readonly suspicion: Float64Array | undefined
  /** The weights of the rows at each node, where they are at hand before it is known which nodes count. */
  readonly weights: readonly Float64Array[] | undefined
}

/** How probable each node is, and how suspect each row; the weights too where they are wanted and cost no second solution. */
function judged(input: ScatterInput, wanted?: 'weights'): Judged {
  const layout = layoutOf(input.values, input.lotNow)
  const solver = solverOf(layout)
  const unknown = unknownOf(layout)
  const nodes = nodesFor(input, unknown, solver)
  const suspects = layout.n > 1 && input.suspicion !== false ? suspicions(layout.n) : undefined
  const weights = wanted && layout.even ? nodes.map(() => new Float64Array(layout.n)) : undefined
  const logs = nodes.map((node, k) => {
    const log = priorOf(input, unknown, node) + solver.likelihood(node)
    suspects?.add(log, solver)
    if (weights) solver.weightsHere(weights[k]!)
    return log
  })
  return { layout, solver, unknown, nodes, logs, suspicion: suspects?.result(), weights }
}

/** How suspect each value is, in their order, without the mean: two thirds of the work. Undefined for fewer than three, of which none can be named. */
export function suspicionOver(input: ScatterInput): readonly number[] | undefined {
  if (input.values.length < 3) return undefined
  const { layout, suspicion } = judged(input)
  return suspicion && inOrder(layout, suspicion)
}

/** Reckons the values at all nodes; undefined where they are too large or too small for it. */
export function averageOver(input: ScatterInput): Average | undefined {
  const { layout, solver, unknown, nodes, logs, suspicion, weights: atNodes } = judged(input, 'weights')
  const { n, start, entry } = layout
  const most = logs.reduce((largest, log) => Math.max(largest, log), Number.NEGATIVE_INFINITY)
  if (!Number.isFinite(most)) return undefined
  const kept = nodes.flatMap((node, k) => (logs[k]! > most - NEGLIGIBLE ? [{ node, k, p: Math.exp(logs[k]! - most) }] : []))
  const total = kept.reduce((sum, { p }) => sum + p, 0)
  const weights = new Float64Array(n)
  const own = new Float64Array(n)
  const budget: VarianceParts = {
    readings: 0,
    scatter: 0,
    days: 0,
    lots: 0,
    drift: 0,
    shared: new Float64Array(layout.causes.length),
  }
  const varianceAt = varianceOf(layout)
  const mean: number[] = []
  const variance: number[] = []
  for (const { node, k, p } of kept) {
    const atNode = atNodes?.[k] ?? own
    if (!atNodes) solver.weights(node, own)
    let m = 0
    for (let j = 0; j < n; j++) {
      m += atNode[j]! * entry[start[j + 1]! - 1]!
      weights[j]! += (p / total) * atNode[j]!
    }
    mean.push(m)
    variance.push(varianceAt(node, atNode, budget, p / total))
  }
  return {
    layout,
    unknown,
    p: kept.map(({ p }) => p / total),
    mean,
    variance,
    nodes: kept.map(({ node }) => node),
    weights,
    suspicion,
    budget,
  }
}

/** Logarithm of a node's prior weight, what is stated included. */
const priorOf = ({ repeatability, lotSpread }: ScatterInput, unknown: readonly ScatterUnknown[], node: ScatterNode): number =>
  node.logWeight +
  statedLogWeight(repeatability, node.tau) +
  (unknown.includes('omega') ? statedLogWeight(lotSpread, node.omega) : 0)

/** Up to this many values the prior's grids hold; beyond, and with more than this stated, the nodes must stand closer than they do. */
const FEW = { values: 8, known: 30, alone: 100 }
/**
 * Points that keep U within some 2 % (root mean square) of very many, for 1 to 60 values; more where everything is unknown of a few, which leaves most of the
 * prior open.
 */
const POINTS = { focused: 96, plain: 32 }
const OPEN_POINTS = { focused: 160, plain: 96 }

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
  return focusedNodes(unknown, unknown.length > 3 && values.length <= FEW.values ? OPEN_POINTS : POINTS, start, (z) => {
    const node = nodeAt(unknown, z)
    return priorOf(input, unknown, node) + solver.likelihood(node) - 0.5 * z.reduce((sum, one) => sum + one * one, 0)
  })
}
