// Uncertainty budgets against the worked examples of the GUM, and against the ways people get them wrong.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as uncertainty from '../../server/src/calc/uncertainty.ts'
import { must, numbersIn, refusal } from './must.ts'

/** GUM 4.3.7, and H.1.3.4 for a temperature that swings between its ends. */
const rectangular = (halfWidth: number) => halfWidth / Math.sqrt(3)
const uShaped = (halfWidth: number) => halfWidth / Math.SQRT2
const combine = (...parts: [number, number?][]) =>
  must(
    uncertainty.combine({
      contributions: parts.map(([u, nu], i) => (nu === undefined ? { name: `part ${i}`, u } : { name: `part ${i}`, u, nu })),
    }),
  )

// GUM (JCGM 100:2008) H.1, end gauge calibration; nanometres.
describe('GUM H.1', () => {
  const ls = 50.000623e6
  const d = combine([5.8, 24], [3.9, 5], [6.7, 8])
  const theta = -0.1
  const dalpha = Math.abs(ls * theta) * rectangular(1e-6)
  const dtheta = ls * 11.5e-6 * rectangular(0.05)
  const length = combine([25, 18], [d.u, d.nuEffective], [dalpha, 50], [dtheta, 2])

  it('gives the parts', () => {
    expect(d.u).toBeCloseTo(9.7, 1)
    expect(d.nuEffective).toBeCloseTo(25.4, 0) // 25.447 unrounded; the GUM prints 25.6 from rounded parts
    expect(dalpha).toBeCloseTo(2.9, 1)
    expect(dtheta).toBeCloseTo(16.6, 0)
    expect(Math.hypot(0.2, uShaped(0.5))).toBeCloseTo(0.41, 2)
    expect(rectangular(2e-6)).toBeCloseTo(1.2e-6, 7)
  })

  it('gives u_c = 32 nm, 16 degrees of freedom after truncation, k = 2.92 and U99 = 93 nm', () => {
    expect(length.u).toBeCloseTo(31.67, 1)
    expect(length.nuEffective).toBeGreaterThan(16)
    expect(length.nu).toBe(16)
    const { k, U } = must(uncertainty.expand({ u: length.u, nu: length.nu, coverage: 0.99 }))
    expect(k.toFixed(2)).toBe('2.92')
    // The GUM multiplies rounded values (32 × 2.92 = 93.4); unrounded it is 92.5.
    expect(Math.abs(U - 93)).toBeLessThan(1)
    expect(U).toBeCloseTo(92.5, 1)
  })

  it('gives 34 nm with the second-order terms', () => {
    const alpha = rectangular(2e-6)
    const temperature = Math.hypot(0.2, uShaped(0.5))
    const second = [ls * rectangular(1e-6) * temperature, ls * alpha * rectangular(0.05)]
    expect(second[0]).toBeCloseTo(11.9, 0)
    expect(second[1]).toBeCloseTo(1.7, 1)
    expect(combine([length.u], [second[0]!], [second[1]!]).u).toBeCloseTo(33.87, 0)
  })
})

// GUM G.4.1, example: relative uncertainties 0.25, 0.57, 0.82 % from 10, 5 and 15 readings.
describe('GUM G.4.1', () => {
  const y = combine([0.25, 9], [0.57, 4], [0.82, 14])

  it('gives 1.03 %, nu = 19, U95 = 2.2 %', () => {
    expect(y.u).toBeCloseTo(1.02947, 5)
    expect(y.nuEffective).toBeCloseTo(18.9987, 3)
    const { k, U } = must(uncertainty.expand({ u: y.u, nu: y.nu }))
    expect(k.toFixed(2)).toBe('2.09')
    expect(U).toBeCloseTo(2.155, 2)
  })

  it('counts 18.9987 as 19, where truncating it blindly would say 18', () => expect(y.nu).toBe(19))
})

describe('combining', () => {
  it('refuses an empty budget and names a bad part', () => {
    expect(refusal(uncertainty.combine({ contributions: [] })).input).toBe('contributions')
    expect(refusal(uncertainty.combine({ contributions: [{ name: 'reading', u: -1 }] })).input).toBe('reading')
    expect(refusal(uncertainty.combine({ contributions: [{ name: 'reading', u: 1, nu: 0 }] })).input).toBe('reading')
  })

  it('leaves infinite freedom infinite, and a budget of zeros zero', () => {
    expect(combine([1], [2]).nu).toBe(Number.POSITIVE_INFINITY)
    // Beyond a thousand million degrees of freedom there is nothing to tell from infinitely many.
    expect([combine([1, 1e9 - 1]).nu, combine([1, 1.001e9]).nu]).toEqual([1e9 - 1, Number.POSITIVE_INFINITY])
    expect(combine([0], [0])).toEqual({ u: 0, nuEffective: Number.POSITIVE_INFINITY, nu: Number.POSITIVE_INFINITY })
  })

  it('is no smaller than its largest part, no larger than the plain sum, and never NaN', () => {
    const parts = fc.array(fc.tuple(fc.double(), fc.double()), { minLength: 1, maxLength: 6 })
    fc.assert(
      fc.property(parts, (list) => {
        const result = uncertainty.combine({ contributions: list.map(([u, nu], i) => ({ name: `${i}`, u, nu })) })
        if (!result.ok) return
        const us = list.map(([u]) => u)
        const { u, nuEffective, nu } = result.value
        expect(numbersIn(result.value).some(Number.isNaN)).toBe(false)
        expect(u).toBeGreaterThanOrEqual(Math.max(...us))
        expect(u).toBeLessThanOrEqual(us.reduce((a, b) => a + b, 0) * (1 + 1e-12))
        expect(nuEffective).toBeGreaterThanOrEqual(Math.min(...list.map(([, n]) => n)) * (1 - 1e-12))
        expect(nu).toBeGreaterThanOrEqual(1)
      }),
    )
  })

  it('expands or refuses, whatever it is given', () => {
    fc.assert(
      fc.property(fc.double(), fc.double(), fc.double(), (u, nu, coverage) => {
        const result = uncertainty.expand({ u, nu, coverage })
        if (result.ok) expect(numbersIn(result.value).some(Number.isNaN)).toBe(false)
      }),
    )
  })
})
