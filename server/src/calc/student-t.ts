// Student's t distribution: its quantiles for real degrees of freedom, and the coverage factor of a two-sided interval.
// Our own, because the libraries that agree with the tables to 1e-12 weigh more than the rest of the server's arithmetic together.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { normalUpperQuantile } from './normal.ts'

/**
 * Coverage factor k of a two-sided interval estimate ± k·u, where u has `nu` degrees of freedom: the t quantile at (1 + coverage)/2.
 *
 * `coverage` is a fraction, 0.95 unless given; `nu` real, 1 to infinity. With 3 repeats (nu = 2) k is 4.30, not 2.
 * Source: GUM (JCGM 100:2008) 6.3.3 and Table G.2. Refuses coverage outside ]0, 1[ and nu below 1.
 */
export function coverageFactor({ nu, coverage = 0.95 }: { nu: number; coverage?: number }): Outcome<number> {
  if (!(coverage > 0 && coverage < 1)) return refuse('coverage', 'the coverage probability lies between 0 and 1, both excluded')
  if (!(nu >= 1)) return refuse('nu', 'degrees of freedom must be 1 or more')
  return ok(upperQuantile((1 - coverage) / 2, nu))
}

const cache = new Map<number, Map<number, number>>()
let cached = 0
const cacheLimit = 4096

/**
 * The t which is exceeded with probability `tail` (at most a half), for callers inside calc that have checked their input already.
 * Out of domain it stays a number and errs to the wide side: nu below 1 counts as 1, a tail outside ]0, 0.5] as the nearest end.
 */
export function upperQuantile(tail: number, nu: number): number {
  const q = Math.max(tail, Number.MIN_VALUE)
  const freedom = Math.max(nu, 1)
  if (!(q < 0.5)) return 0
  let byFreedom = cache.get(q)
  const known = byFreedom?.get(freedom)
  if (known !== undefined) return known
  if (cached >= cacheLimit) {
    cache.clear()
    cached = 0
  }
  if (!byFreedom) {
    byFreedom = new Map()
    cache.set(q, byFreedom)
  }
  const t = solve(q, freedom)
  byFreedom.set(freedom, t)
  cached++
  return t
}

/** Degrees of freedom from which the expansion in 1/nu is good to 1e-13 for every tail in use (z below 8). */
const manyDegrees = 3000

function solve(q: number, nu: number): number {
  if (nu === 1) return q > 0.25 ? Math.tan(Math.PI * (0.5 - q)) : 1 / Math.tan(Math.PI * q)
  if (nu === 2) return ((1 - 2 * q) * Math.SQRT2) / Math.sqrt(4 * q * (1 - q))
  const z = normalUpperQuantile(q)
  if (nu >= manyDegrees && z < 8) return expansion(z, nu)
  const gamma = gammaRatio(nu / 2) / Math.sqrt(nu * Math.PI)
  const start = nu < 5 ? powerLaw(q, nu, gamma) : expansion(z, nu)
  return newton(q, nu, gamma, start)
}

/** Newton's steps on logarithms: the log of either probability is concave in log t, so the steps close in from one side and cannot run away. */
function newton(q: number, nu: number, gamma: number, start: number): number {
  const central = q > 0.25
  const target = Math.log(central ? 1 - 2 * q : 2 * q)
  let u = Math.log(start)
  for (let i = 0; i < 60; i++) {
    const t = Math.exp(u)
    const density = gamma * Math.exp((-(nu + 1) / 2) * Math.log1p((t * t) / nu))
    const p = central ? inside(t, nu, density) : outside(t, nu, density)
    const slope = (2 * t * density) / p
    const step = central ? (target - Math.log(p)) / slope : (Math.log(p) - target) / slope
    if (!Number.isFinite(step)) break
    u += Math.max(-2, Math.min(2, step))
    if (Math.abs(step) < 1e-15) break
  }
  return Math.exp(u)
}

/** P(|T| < t), by a series that settles soon near the middle. */
function inside(t: number, nu: number, density: number): number {
  const y = (t * t) / (nu + t * t)
  let term = 1
  let sum = 1
  for (let n = 0; n < 2000 && term > sum * 1e-17; n++) {
    term *= (y * ((nu + 1) / 2 + n)) / (1.5 + n)
    sum += term
  }
  return 2 * t * density * sum
}

/** P(|T| > t): what the middle leaves, or in the tail the continued fraction of the incomplete beta function. */
function outside(t: number, nu: number, density: number): number {
  const a = nu / 2
  const x = nu / (nu + t * t)
  if (x >= (a + 1) / (a + 2.5)) return 1 - inside(t, nu, density)
  // x^a·(1-x)^½ / (a·B(a,½)), written with the density so that nothing overflows.
  return ((2 * t * density) / nu) * betaFraction(x, a, 0.5)
}

/** Continued fraction of the incomplete beta function (DLMF 8.17.22) by the method of Lentz; below (a + 1)/(a + b + 2) no denominator comes near zero. */
function betaFraction(x: number, a: number, b: number): number {
  let c = 1
  let d = 1 / (1 - ((a + b) * x) / (a + 1))
  let h = d
  for (let m = 1; m < 2000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / (1 + even * d)
    c = 1 + even / c
    h *= d * c
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / (1 + odd * d)
    c = 1 + odd / c
    h *= d * c
    if (Math.abs(d * c - 1) < 1e-16) break
  }
  return h
}

/** Γ(a + ½)/Γ(a): the asymptotic series beyond 20, brought down by recurrence, so that large a loses no digits. */
function gammaRatio(a: number): number {
  let factor = 1
  let x = a
  while (x < 20) {
    factor *= x / (x + 0.5)
    x += 1
  }
  const r = 1 / (x * x)
  return factor * Math.sqrt(x) * Math.exp((-1 / 8 + r * (1 / 192 + r * (-1 / 640 + r * (17 / 14336 - (r * 31) / 18432)))) / x)
}

/** Cornish-Fisher expansion of the t quantile about the normal one (Abramowitz & Stegun 26.7.5, one term more). */
function expansion(z: number, nu: number): number {
  const s = z * z
  const g1 = (s + 1) / 4
  const g2 = ((5 * s + 16) * s + 3) / 96
  const g3 = (((3 * s + 19) * s + 17) * s - 15) / 384
  const g4 = ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / 92160
  return z * (1 + (g1 + (g2 + (g3 + g4 / nu) / nu) / nu) / nu)
}

/** The far tail of t is a power law, and its quantile a good start where few degrees of freedom make the tail heavy. */
const powerLaw = (q: number, nu: number, gamma: number): number =>
  Math.max(0.5, Math.exp((Math.log(gamma / q) + ((nu - 1) / 2) * Math.log(nu)) / nu))
