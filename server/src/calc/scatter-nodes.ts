// What may be unknown of how a printer's feed scatters, as a list of weighted guesses: scatter from print to print, the share of it that prints of one
// day have in common, the spread between lots, and the drift. Nothing is estimated and plugged in; everything is reckoned at each guess and averaged.
import { normalCdf, normalQuantile } from './normal.ts'

/** One guess, a node of the average over all of them. Fractions of length. */
export interface ScatterNode {
  /** Standard deviation from print to print. */
  readonly tau: number
  /** Share of tau² that prints of one day and state have in common, 0 to below 1. */
  readonly rho: number
  /** Standard deviation from lot to lot. */
  readonly omega: number
  /** Drift as a random walk: standard deviation per square root of a day. */
  readonly q: number
  /** Logarithm of the prior weight of the node, up to a constant. */
  readonly logWeight: number
}

/** The unknowns, in the order in which they take the bases of the Halton points. */
export type ScatterUnknown = 'tau' | 'rho' | 'omega' | 'q'

/** A standard deviation written down with the degrees of freedom behind it. A fraction of length. */
export interface StatedScatter {
  readonly value: number
  readonly freedom: number
}

/** Log-normal with the middle and the width of log-uniform 0.005 to 0.1 % (from memory); without a hard end, so that a worse printer is not ruled out. */
const SCATTER = { middle: Math.sqrt(0.005e-2 * 0.1e-2), width: 0.87 }
/** Per square root of a day; from memory. */
const DRIFT = { middle: 0.0025e-2, width: 0.7 }
const DAY_SHARES = [0, 0.2, 0.4, 0.6, 0.8]
const MOST_DAY_SHARE = 0.8

const scatterAt = (z: number): number => SCATTER.middle * Math.exp(SCATTER.width * z)
/** Where a scatter stands in the prior, in standard deviations of its logarithm. */
export const placeOf = (scatter: number): number => Math.log(scatter / SCATTER.middle) / SCATTER.width

/** A node at the places `z`, one for each unknown, in standard deviations of the prior; the day's share by its probability. */
export function nodeAt(unknown: readonly ScatterUnknown[], z: ArrayLike<number>, logWeight = 0): ScatterNode {
  const at = (name: ScatterUnknown): number | undefined => z[unknown.indexOf(name)]
  const [rho, omega, q] = [at('rho'), at('omega'), at('q')]
  return {
    tau: scatterAt(z[0]!),
    rho: rho === undefined ? 0 : MOST_DAY_SHARE * normalCdf(rho),
    omega: omega === undefined ? 0 : scatterAt(omega),
    q: q === undefined ? 0 : DRIFT.middle * Math.exp(DRIFT.width * q),
    logWeight,
  }
}

/** z from -4 to 4. */
const places = (step: number): readonly number[] => {
  const half = Math.round(4 / step)
  return Array.from({ length: 2 * half + 1 }, (_, i) => (i - half) * step)
}

const grids = new Map<string, readonly ScatterNode[]>()

/** Nodes on a grid: tau alone in 41 steps, tau and the day's share in 41 x 5, tau and the lots' spread in 21 x 21; undefined for other unknowns. Made once. */
export function gridNodes(unknown: readonly ScatterUnknown[]): readonly ScatterNode[] | undefined {
  const key = unknown.join()
  let nodes = grids.get(key)
  if (!nodes) {
    if (key === 'tau') nodes = places(0.2).map((z) => nodeAt(unknown, [z], -0.5 * z * z))
    else if (key === 'tau,rho')
      nodes = places(0.2).flatMap((z) => DAY_SHARES.map((rho) => ({ ...nodeAt(['tau'], [z], -0.5 * z * z), rho })))
    else if (key === 'tau,omega')
      nodes = places(0.4).flatMap((a) => places(0.4).map((b) => nodeAt(unknown, [a, b], -0.5 * (a * a + b * b))))
    else return undefined
    grids.set(key, nodes)
  }
  return nodes
}

const BASES = [2, 3, 5, 7]

/** The points 1 to `count` of Halton's sequence in the unit cube, one row of `dimensions` numbers each. Source: J. H. Halton, Numer. Math. 2 (1960) 84. */
const haltonPoints = (count: number, dimensions: number): number[][] =>
  Array.from({ length: count }, (_, i) => BASES.slice(0, dimensions).map((base) => radicalInverse(i + 1, base)))

function radicalInverse(index: number, base: number): number {
  let sum = 0
  for (let i = index, f = 1 / base; i > 0; i = Math.floor(i / base), f /= base) sum += f * (i % base)
  return sum
}

/** Nodes of equal weight, drawn from the prior. */
export const haltonNodes = (unknown: readonly ScatterUnknown[], count: number): ScatterNode[] =>
  haltonPoints(count, unknown.length).map((point) => nodeAt(unknown, point.map(normalQuantile)))

const madePoints = new Map<string, readonly (readonly number[])[]>()

/**
 * An even number of points for a standard normal distribution in each of the dimensions: half of them Halton's through the inverse normal, the others their
 * mirror images, since so few would otherwise lean to one side. Made once.
 */
export function balancedPoints(count: number, dimensions: number): readonly (readonly number[])[] {
  const key = `${count},${dimensions}`
  let points = madePoints.get(key)
  if (!points) {
    points = haltonPoints(count / 2, dimensions).flatMap((point) => {
      const z = point.map(normalQuantile)
      return [z, z.map((one) => -one)]
    })
    madePoints.set(key, points)
  }
  return points
}

/** Logarithm of what a stated standard deviation says of a guess `size`: that of its chi-squared density, up to a constant. */
export const statedLogWeight = (stated: StatedScatter | undefined, size: number): number =>
  stated ? -stated.freedom * (Math.log(size) + stated.value ** 2 / (2 * size * size)) : 0
