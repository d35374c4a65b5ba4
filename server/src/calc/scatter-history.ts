// What a history says of a scatter: that of a printer from print to print, from all profiles on it, or that of a stock from lot to lot.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { weightedInterval } from './normal-mixture.ts'
import { unknownOf } from './scatter-average.ts'
import { layoutOf, type ScatterValue } from './scatter-model.ts'
import { balancedPoints, gridNodes, nodeAt, placeOf, type ScatterNode, type StatedScatter } from './scatter-nodes.ts'
import { solverOf } from './scatter-solver.ts'

export interface ScatterHistory {
  /** The scatter to be expected of one more profile, and its 95 % interval; fractions of length. */
  readonly expected: number
  readonly low: number
  readonly high: number
  /** The same as a document states it; undefined where the history says too little for one degree of freedom. */
  readonly stated: StatedScatter | undefined
  /** The sizes it was reckoned at, with the logarithm of what prior and history together say of each. */
  readonly nodes: readonly ScatterNode[]
}

interface HistoryInput {
  /** Of each profile the prints that can be compared; what a person left out, and suspects, are not among them. */
  readonly profiles: readonly (readonly ScatterValue[])[]
  /** Which scatter is asked for: from print to print, or from lot to lot. */
  readonly of: 'print' | 'lot'
}

/** How far profiles differ, and lots to come from those that were, as a standard deviation of the logarithm of their scatter; from memory. */
const UNLIKE = 0.3
/** Points over which the other unknowns of a profile are averaged at each size. */
const POINTS = 32

/**
 * The scatter of one more profile, by the history of others. Of each profile the restricted likelihood at 41 sizes of the scatter, averaged over what else is
 * unknown of it (days, lots, a drift) and smoothed over the logarithm, since profiles differ (of lots not: they are the stock's, whoever measures them); their product with the prior, smoothed once more. A profile of three prints
 * weighs as three prints: there are no degrees of freedom to carry. What is stated is where
 * the history alone is highest, and as many degrees of freedom as bend it so there: never more than five, since profiles differ.
 * Fractions of length. Valid for near-normal errors. Source: D. A. Harville (1977), restricted likelihood; A. Gelman et al., Bayesian Data Analysis, 3rd ed., 4.1 (normal approximation at the mode),
 * 5.4.
 * Refuses values that are no numbers, and a history in which no profile has two prints (of lots: two lots).
 */
export function scatterHistory({ profiles, of }: HistoryInput): Outcome<ScatterHistory> {
  if (
    profiles.some((values) => values.some(({ value, u }) => !Number.isFinite(value) || !(u >= 0 && u < Number.POSITIVE_INFINITY)))
  )
    return refuse('profiles', 'one of the values is not a finite number')
  const telling = profiles.filter((values) => tells(values, of))
  if (telling.length === 0)
    return refuse('profiles', `a scatter needs two ${of === 'print' ? 'prints' : 'lots'} of one profile at least`)
  const grid = gridNodes(['tau'])!
  const smooth = smoother(grid)
  let said = grid.map(() => 0)
  for (const values of telling) {
    const found = likelihoods(values, of, grid)
    const one = of === 'print' ? smooth(found) : found
    said = said.map((log, k) => log + one[k]!)
  }
  const pooled = smooth(said.map((log, k) => log + grid[k]!.logWeight))
  const most = pooled.reduce((largest, log) => Math.max(largest, log), Number.NEGATIVE_INFINITY)
  if (!Number.isFinite(most)) return refuse('profiles', 'the values are too large or too small to compute with')
  const nodes = grid.map((node, k) => ({ ...node, logWeight: pooled[k]! - most }))
  const p = pooled.map((log) => Math.exp(log - most))
  const total = p.reduce((sum, one) => sum + one, 0)
  const interval = weightedInterval(
    p.map((one) => one / total),
    grid.map(({ tau }) => tau),
  )
  return ok({ ...interval, stated: statedOf(smooth(said), grid), nodes })
}

/** Whether a profile says anything: two prints, or prints of two lots. */
const tells = (values: readonly ScatterValue[], of: HistoryInput['of']): boolean =>
  of === 'print' ? values.length > 1 : new Set(values.map(({ lot }) => lot)).size > 1

/** Logarithm of the restricted likelihood of one profile at each size, averaged over what else is unknown. */
function likelihoods(values: readonly ScatterValue[], of: HistoryInput['of'], grid: readonly ScatterNode[]): number[] {
  // Of the newest lot: what is asked for now makes no difference to how the values lie.
  const layout = layoutOf(values, values.at(-1)?.lot)
  const solver = solverOf(layout)
  const unknown = unknownOf(layout)
  const at = unknown.indexOf(of === 'print' ? 'tau' : 'omega')
  const others = unknown.length > 1 ? balancedPoints(POINTS, unknown.length - 1) : [[]]
  return grid.map(({ tau }) => {
    const size = placeOf(tau)
    return logMean(others.map((point) => solver.likelihood(nodeAt(unknown, [...point.slice(0, at), size, ...point.slice(at)]))))
  })
}

function logMean(logs: readonly number[]): number {
  const most = logs.reduce((largest, log) => Math.max(largest, log), Number.NEGATIVE_INFINITY)
  if (!Number.isFinite(most)) return most
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0) / logs.length)
}

/** Means over neighbouring sizes, by a normal distribution of their logarithm. Takes and gives logarithms of what is smoothed. */
function smoother(grid: readonly ScatterNode[]): (logs: readonly number[]) => number[] {
  const bells = grid.map(({ tau }) => {
    const bell = grid.map((other) => Math.exp(-0.5 * (Math.log(tau / other.tau) / UNLIKE) ** 2))
    const total = bell.reduce((sum, b) => sum + b, 0)
    return bell.map((b) => b / total)
  })
  return (logs) => {
    const most = logs.reduce((largest, log) => Math.max(largest, log), Number.NEGATIVE_INFINITY)
    const sizes = logs.map((log) => Math.exp(log - most))
    return bells.map((bell) => most + Math.log(bell.reduce((sum, b, k) => sum + b * sizes[k]!, 0)))
  }
}

/**
 * With x = ln tau, a statement adds -f·(x + s²/(2·tau²)), which is highest at tau = s and bends there by 2·f. Undefined where the history is highest at an end:
 * then the prints differ by less than their readings can tell, or by more than any printer does.
 */
function statedOf(logs: readonly number[], grid: readonly ScatterNode[]): StatedScatter | undefined {
  const k = logs.reduce((best, log, at) => (log > logs[best]! ? at : best), 0)
  if (k === 0 || k === logs.length - 1) return undefined
  const step = Math.log(grid[k + 1]!.tau / grid[k]!.tau)
  const bend = (2 * logs[k]! - logs[k - 1]! - logs[k + 1]!) / (step * step)
  const freedom = Math.floor(bend / 2)
  if (!(freedom >= 1)) return undefined
  return { value: grid[k]!.tau * Math.exp((logs[k + 1]! - logs[k - 1]!) / (2 * step) / bend), freedom }
}
