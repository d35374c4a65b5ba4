// Nodes where they count: with many values, or a scatter stated with many degrees of freedom, most of the prior says nothing any more.
import { balancedPoints, nodeAt, type ScatterNode, type ScatterUnknown } from './scatter-nodes.ts'

/** What is asked of a place: the logarithm of prior and likelihood there. Places in standard deviations of the prior, one for each unknown. */
type LogPosterior = (z: Float64Array) => number

/** How much wider than the curvature at the top says the nodes are spread: tails are heavier than a bell's. */
const WIDER = 1.5

/**
 * Nodes from Halton's points: `focused` of them from a normal distribution about the posterior's top, by its curvature there and half as wide again, and
 * `plain` of them from the prior, which reach what the values' own outliers would hide. Each is weighted by the prior over the density of all of them, so
 * that the average is still the one over the prior. Source: importance sampling at the Laplace approximation (A. Gelman et al., Bayesian Data Analysis,
 * 3rd ed., 10.4, 13.3), with the weights of E. Veach and L. J. Guibas, SIGGRAPH 95, 419 (balance heuristic).
 */
export function focusedNodes(
  unknown: readonly ScatterUnknown[],
  { focused, plain }: { readonly focused: number; readonly plain: number },
  start: readonly number[],
  logPosterior: LogPosterior,
): ScatterNode[] {
  const top = Float64Array.from(start)
  const width = climb(top, logPosterior)
  const d = top.length
  const root = rootOfCovariance(top, width, logPosterior).map((one) => WIDER * one)
  let size = 1
  for (let a = 0; a < d; a++) size *= root[a * d + a]!
  const node = (z: readonly number[], x: readonly number[]): ScatterNode => {
    const [ofPrior, ofFocus] = [-0.5 * squares(z), -0.5 * squares(x)]
    const most = Math.max(ofPrior, ofFocus)
    const density = plain * Math.exp(ofPrior - most) + (focused / size) * Math.exp(ofFocus - most)
    return nodeAt(unknown, z, ofPrior - most - Math.log(density))
  }
  return [
    ...balancedPoints(focused, d).map((x) => node(outward(root, x, top), x)),
    ...balancedPoints(plain, d).map((z) => node(z, inward(root, z, top))),
  ]
}

const squares = (v: readonly number[]): number => v.reduce((sum, one) => sum + one * one, 0)

/** top + root·x */
const outward = (root: Float64Array, x: readonly number[], top: Float64Array): number[] =>
  x.map((_, a) => x.slice(0, a + 1).reduce((sum, one, b) => sum + root[a * x.length + b]! * one, top[a]!))

/** root⁻¹·(z − top) */
function inward(root: Float64Array, z: readonly number[], top: Float64Array): number[] {
  const x: number[] = []
  z.forEach((one, a) => {
    const rest = x.reduce((sum, known, b) => sum - root[a * z.length + b]! * known, one - top[a]!)
    x.push(rest / root[a * z.length + a]!)
  })
  return x
}

const SWEEPS = 5

/** Moves `z` to the top, one unknown after the other, and tells how wide the top is along each. */
function climb(z: Float64Array, logPosterior: LogPosterior): Float64Array {
  const width = new Float64Array(z.length).fill(0.5)
  let here = logPosterior(z)
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let moved = 0
    for (let a = 0; a < z.length; a++) {
      const at = z[a]!
      const h = Math.max(0.05, 0.7 * width[a]!)
      z[a] = at + h
      const above = logPosterior(z)
      z[a] = at - h
      const below = logPosterior(z)
      const slope = (above - below) / (2 * h)
      const bend = (2 * here - above - below) / (h * h)
      width[a] = bend > 0 ? Math.min(1, 1 / Math.sqrt(bend)) : 1
      const step = Math.max(-1, Math.min(1, slope * width[a]! ** 2))
      z[a] = at + step
      const there = logPosterior(z)
      if (there >= here) {
        here = there
        moved = Math.max(moved, Math.abs(step) / width[a]!)
      } else z[a] = at
    }
    // Nearer than that the top need not be known: the nodes are spread wider than it is.
    if (moved < 0.3) break
  }
  return width
}

/** Lower triangular root of the inverse of the curvature at `z`, row by row. */
function rootOfCovariance(z: Float64Array, width: Float64Array, logPosterior: LogPosterior): Float64Array {
  const d = z.length
  const here = logPosterior(z)
  /** Twice the log posterior at `z` less its values on either side, `h` and `i` away along two of the unknowns. */
  const drop = (a: number, h: number, b = a, i = 0): number => {
    let sum = 2 * here
    for (const side of [1, -1]) {
      const moved = Float64Array.from(z)
      moved[a]! += side * h
      moved[b]! += side * i
      sum -= logPosterior(moved)
    }
    return sum
  }
  const alone = Array.from(width, (h, a) => drop(a, h))
  const curvature = new Float64Array(d * d)
  // The prior alone bends by 1; less than half of that is no bend to trust.
  for (let a = 0; a < d; a++) curvature[a * d + a] = Math.max(0.5, alone[a]! / width[a]! ** 2)
  for (let a = 0; a < d; a++)
    for (let b = 0; b < a; b++) {
      const cross = (drop(a, width[a]!, b, width[b]!) - alone[a]! - alone[b]!) / (2 * width[a]! * width[b]!)
      // Kept within what a covariance of so many allows for sure.
      const most = (0.9 / (d - 1)) * Math.sqrt(curvature[a * d + a]! * curvature[b * d + b]!)
      curvature[a * d + b] = Math.max(-most, Math.min(most, cross))
      curvature[b * d + a] = curvature[a * d + b]!
    }
  return inverseRoot(curvature, d)
}

/** L with L L' = C⁻¹, lower triangular: from C = U U' with U upper triangular, L = U'⁻¹. */
function inverseRoot(matrix: Float64Array, d: number): Float64Array {
  const upper = new Float64Array(d * d)
  for (let c = d - 1; c >= 0; c--)
    for (let r = c; r >= 0; r--) {
      let sum = matrix[r * d + c]!
      for (let i = c + 1; i < d; i++) sum -= upper[r * d + i]! * upper[c * d + i]!
      upper[r * d + c] = r === c ? Math.sqrt(sum) : sum / upper[c * d + c]!
    }
  const root = new Float64Array(d * d)
  for (let c = 0; c < d; c++)
    for (let r = c; r < d; r++) {
      let sum = r === c ? 1 : 0
      for (let i = c; i < r; i++) sum -= upper[i * d + r]! * root[i * d + c]!
      root[r * d + c] = sum / upper[r * d + r]!
    }
  return root
}
