// Student's t against printed tables and against two libraries.
import tQuantile from '@stdlib/stats-base-dists-t-quantile'
import fc from 'fast-check'
import jstat from 'jstat'
import { gamma } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { coverageFactor, upperQuantile } from '../../server/src/calc/student-t.ts'
import { must, refusal } from './must.ts'

/** The quantile by the symmetry of the distribution. */
const t = (probability: number, nu: number) =>
  probability < 0.5 ? -upperQuantile(probability, nu) : upperQuantile(1 - probability, nu)
const k = (nu: number, coverage?: number) => must(coverageFactor(coverage === undefined ? { nu } : { nu, coverage }))
const infinite = Number.POSITIVE_INFINITY

// NIST/SEMATECH e-Handbook 1.3.6.7.2 and GUM Table G.2: two-sided coverage 95 %, 95.45 %, 99 %.
const table: [number, number, number, number][] = [
  [1, 12.706, 13.968, 63.657],
  [2, 4.303, 4.527, 9.925],
  [3, 3.182, 3.307, 5.841],
  [4, 2.776, 2.869, 4.604],
  [5, 2.571, 2.649, 4.032],
  [6, 2.447, 2.517, 3.707],
  [7, 2.365, 2.429, 3.499],
  [8, 2.306, 2.366, 3.355],
  [9, 2.262, 2.32, 3.25],
  [10, 2.228, 2.284, 3.169],
  [16, 2.12, 2.169, 2.921],
  [20, 2.086, 2.133, 2.845],
  [30, 2.042, 2.087, 2.75],
  [50, 2.009, 2.051, 2.678],
  [100, 1.984, 2.025, 2.626],
  [infinite, 1.96, 2.0, 2.576],
]

describe('coverage factor', () => {
  it.each(table)('agrees with the printed table at nu = %d', (nu, at95, at9545, at99) => {
    expect(k(nu)).toBeCloseTo(at95, 3)
    // The 95.45 % column is the two-sigma coverage of the normal distribution, 0.954499736…
    expect(Math.abs(k(nu, 0.954499736103642) - at9545)).toBeLessThan(0.0006)
    expect(k(nu, 0.99)).toBeCloseTo(at99, 3)
  })

  // GUM Table G.2 as used in H.1: nu = 16.
  it('gives 2.12 and 2.92 at 16 degrees of freedom', () => {
    expect(k(16).toFixed(2)).toBe('2.12')
    expect(k(16, 0.99).toFixed(2)).toBe('2.92')
  })

  // The misuse: k = 2 after three repeats. GUM Table G.2, nu = 2: 4.30.
  it('is 4.30 after three repeats, not 2', () => expect(k(2).toFixed(2)).toBe('4.30'))

  it('refuses what is no coverage and no degrees of freedom, naming the input', () => {
    for (const coverage of [0, 1, -1, 2, Number.NaN, infinite])
      expect(refusal(coverageFactor({ nu: 3, coverage })).input).toBe('coverage')
    for (const nu of [0, 0.99, -1, Number.NaN, -infinite]) expect(refusal(coverageFactor({ nu })).input).toBe('nu')
  })
})

describe('quantile', () => {
  const freedoms = [
    1, 1.0001, 1.2, 1.5, 1.9, 2, 2.1, 2.5, 3, 3.7, 4.999, 5, 6, 7, 8, 10.3, 12, 16.76, 20, 25, 34, 38, 39.9, 40, 41, 50, 70, 100,
    150, 200, 333.3, 700, 1499, 2000, 2999, 3000, 3100, 5000, 1e4, 1e5, 1e9,
  ]
  const tails = [
    0.49, 0.45, 0.4, 0.3, 0.26, 0.24, 0.2, 0.15, 0.1, 0.08, 0.075, 0.07, 0.05, 0.025, 0.01, 0.005, 1e-3, 1e-4, 1e-5, 1e-6, 1e-8,
    1e-9, 1e-10, 2e-11, 1e-11, 1e-12, 1e-13, 1e-14, 1e-15,
  ]

  // @stdlib/stats-base-dists-t-quantile, itself within 1e-12 of SciPy, by the lower tail, which loses no digits.
  it('agrees with @stdlib to 4e-13, and to 5e-15 from 10,000 degrees on, from the middle far into the tail', () => {
    for (const nu of freedoms)
      for (const q of tails) {
        expect(Math.abs(upperQuantile(q, nu) / -tQuantile(q, nu) - 1), `q ${q}, nu ${nu}`).toBeLessThan(nu < 1e4 ? 4e-13 : 5e-15)
      }
  })

  it('is as good beyond the tails that the expansion is good for', () =>
    expect(Math.abs(upperQuantile(1e-18, 3000) / -tQuantile(1e-18, 3000) - 1)).toBeLessThan(4e-13))

  // So far out only the leading term is left of the density: P(T > t) = c·nu^((nu - 1)/2)/t^nu, with c = Γ((nu + 1)/2)/(√(nu·π)·Γ(nu/2)); Γ by mathjs.
  it.each([1.2, 1.5, 3, 4.5])('falls as a power of t where nothing else is left of the tail, at nu = %d', (nu) => {
    const c = gamma((nu + 1) / 2) / (Math.sqrt(nu * Math.PI) * gamma(nu / 2))
    const expected = Math.exp((Math.log(c) + ((nu - 1) / 2) * Math.log(nu) + 150 * Math.LN10) / nu)
    expect(Math.abs(upperQuantile(1e-150, nu) / expected - 1)).toBeLessThan(1e-12)
  })

  // jstat studentt.inv, good to about 6e-8 where nu is moderate.
  it('agrees with jstat within what jstat is good for', () => {
    for (const nu of [1, 2, 3.7, 10.3, 34, 100])
      for (const p of [0.9, 0.975, 0.995]) expect(Math.abs(t(p, nu) - jstat.studentt.inv(p, nu))).toBeLessThan(1e-6)
  })

  // Refined at 40 digits with mpmath's incomplete beta function.
  it.each([
    [0.99995, 1.0001, 6360.747535358213],
    [0.975, 1500, 1.9615467538950182],
    [0.975, 2999, 1.9607553192053149],
    [0.999999999, 3000, 6.0163361370062685],
    [0.5000001, 1, 3.1415926519363007e-7],
  ])('p = %d, nu = %d', (p, nu, expected) => expect(Math.abs(t(p, nu) / expected - 1)).toBeLessThan(1e-13))

  // What was looked up is kept by its degrees of freedom: a quantile that is asked for as degrees of freedom is none of them.
  it('of as many degrees of freedom as a quantile just found', () => {
    const nu = upperQuantile(0.031, 3)
    expect(Math.abs(upperQuantile(0.031, nu) / -tQuantile(0.031, nu) - 1)).toBeLessThan(4e-13)
    expect(upperQuantile(0.031, 3)).toBe(nu)
  })

  it('is zero at a half and goes over into the normal distribution', () => {
    expect([t(0.5, 3), t(0.5, 1), t(0.5, 1e4)]).toEqual([0, 0, 0])
    expect(t(0.975, infinite)).toBeCloseTo(1.9599639845400545, 14)
  })

  it('falls with degrees of freedom, rises with probability, and never leaves the numbers', () => {
    const tail = fc.double({ min: 1e-12, max: 0.49, noNaN: true })
    const freedom = fc.double({ min: 1, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(tail, freedom, fc.double({ min: 1.01, max: 10, noNaN: true }), (q, nu, factor) => {
        const here = upperQuantile(q, nu)
        expect(upperQuantile(q, nu * factor)).toBeLessThanOrEqual(here * (1 + 1e-13))
        expect(upperQuantile(q / factor, nu)).toBeGreaterThan(here)
      }),
    )
    fc.assert(fc.property(fc.double(), fc.double(), (q, nu) => !Number.isNaN(upperQuantile(q, nu))))
    expect(upperQuantile(Number.MIN_VALUE, 1.5)).toBeGreaterThan(1e200)
    expect([upperQuantile(-1, 3), upperQuantile(0.05, -1), upperQuantile(0.7, 3), upperQuantile(Number.NaN, 3)]).toEqual([
      upperQuantile(Number.MIN_VALUE, 3),
      upperQuantile(0.05, 1),
      0,
      0,
    ])
  })
})
