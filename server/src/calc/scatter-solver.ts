// One node of the scatter mixture: likelihood, weights and leave-one-out predictions of values laid out by scatter-model.ts, in one of two ways that agree.
import { DenseSolver } from './scatter-dense.ts'
import type { Layout } from './scatter-model.ts'
import type { ScatterNode } from './scatter-nodes.ts'
import { SparseSolver } from './scatter-sparse.ts'

export interface Solver {
  /** Logarithm of the restricted likelihood at a node, up to a constant. `leaveOneOut` speaks of the node given last to this. */
  likelihood(node: ScatterNode): number
  /** Of each row: its distance from what all others predict, and the standard deviation of that distance. */
  leaveOneOut(distance: Float64Array, deviation: Float64Array): void
  /** Weights of the rows, none negative, sum 1. */
  weights(node: ScatterNode, weights: Float64Array): void
  /** The same of the node given last to `likelihood`, where the layout is `even`: nothing is factored anew. */
  weightsHere(weights: Float64Array): void
}

/** Up to this many values their covariance matrix is the quicker way. */
const DENSE = 24

export const solverOf = (layout: Layout): Solver => (layout.n <= DENSE ? new DenseSolver(layout) : new SparseSolver(layout))
