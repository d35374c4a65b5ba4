// The answer to a complaint: published numbers of JCGM 106 and of the product of two normals, a mixture against plain integration, and what must never be decided.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { judgeClaim, type Mixture } from '../../server/src/calc/claim.ts'
import { runs } from '../support/counts.ts'
import { must } from './must.ts'

const one = (mean: number, s: number): Mixture => ({ p: [1], mean: [mean], s: [s] })

describe('published', () => {
  // JCGM 106:2012, 7.4, example: 13.6 with u 1.8 between 12.5 and 16.3 conforms with 66 %.
  test('the measurement alone: JCGM 106, 7.4', () => {
    const told = must(judgeClaim({ known: undefined, measured: { value: 13.6, u: 1.8 }, low: 12.5, high: 16.3, risk: 0.05 }))
    expect(told.within).toBeCloseTo(0.6626, 4)
    expect([told.measuredWithin, told.knownWithin, told.decision]).toEqual([told.within, undefined, 'open'])
  })
  // Course notes of ISyE 6420 (areding.github.io/6420-pymc, unit 4, "Jeremy's IQ"): N(110, 120) before, 98 with variance 80, N(102.8, 48) after.
  test('a normal times a normal', () => {
    const told = must(
      judgeClaim({ known: one(110, Math.sqrt(120)), measured: { value: 98, u: Math.sqrt(80) }, low: 0, high: 102.8, risk: 0.05 }),
    )
    expect(told.mean).toBeCloseTo(102.8, 10)
    expect(told.s! ** 2).toBeCloseTo(48, 10)
    expect(told.within).toBeCloseTo(0.5, 10)
  })
  // J. O. Berger, Statistical Decision Theory and Bayesian Analysis, 2nd ed., 4.2 (from memory): N(100, 225) before, 115 with variance 100: N(110.39, 69.23).
  test('a normal times a normal, another', () => {
    const told = must(judgeClaim({ known: one(100, 15), measured: { value: 115, u: 10 }, low: 0, high: 200, risk: 0.05 }))
    expect(told.mean).toBeCloseTo(110.39, 1)
    expect(told.s! ** 2).toBeCloseTo(69.23, 2)
  })
})

describe('the decision', () => {
  const decide = (value: number, known?: Mixture, u = 0.1): string =>
    must(judgeClaim({ known, measured: { value, u }, low: -1, high: 1, risk: 0.05 })).decision
  // The guard band of a risk of 5 % at one limit is 1.645 u (JCGM 106:2012, 8.3.2).
  test('is guarded either way', () => {
    expect([decide(0.83), decide(0.84), decide(1.16), decide(1.17)]).toEqual(['within', 'open', 'open', 'out'])
    expect([decide(-0.83), decide(-0.84), decide(-1.16), decide(-1.17)]).toEqual(['within', 'open', 'open', 'out'])
  })
  test('knowledge tips what a measurement leaves open', () => {
    expect([decide(0.9), decide(0.9, one(0.6, 0.2)), decide(1.1, one(1.3, 0.1))]).toEqual(['open', 'within', 'out'])
  })
  test('what contradicts is never decided', () => {
    const told = must(judgeClaim({ known: one(0, 0.1), measured: { value: 0.6, u: 0.1 }, low: -1, high: 1, risk: 0.05 }))
    // Each says that it was good, and so does their product; and one of the two is wrong.
    expect([told.knownWithin! > 0.99, told.measuredWithin! > 0.99, told.within! > 0.99]).toEqual([true, true, true])
    // 0.6 is 4.243 standard deviations of 0.1·√2: 2.2e-5 to both sides, by tables of the normal distribution.
    expect(told.surprise).toBeCloseTo(2.2e-5, 6)
    expect(told.decision).toBe('open')
    expect(
      must(judgeClaim({ known: one(0, 1e-6), measured: { value: 5, u: 1e-6 }, low: -1, high: 1, risk: 0.05 })).decision,
    ).toBe('open')
  })
  test('of nothing nothing is said', () => {
    const told = must(judgeClaim({ known: undefined, measured: undefined, low: -1, high: 1, risk: 0.05 }))
    expect([told.within, told.both, told.decision]).toEqual([undefined, undefined, 'open'])
  })
  test('refuses', () => {
    const input = { known: one(0, 1), measured: { value: 0, u: 1 }, low: -1, high: 1, risk: 0.05 }
    for (const wrong of [
      { measured: { value: Number.NaN, u: 1 } },
      { measured: { value: 0, u: 0 } },
      { low: 1 },
      { risk: 0 },
      { risk: 0.6 },
      { known: one(0, 0) },
      { known: { p: [], mean: [], s: [] } },
    ])
      expect(judgeClaim({ ...input, ...wrong }).ok, JSON.stringify(wrong)).toBe(false)
  })
})

test('a mixture is what plain integration of prior times likelihood gives', () => {
  const part = fc.record({
    p: fc.double({ min: 0.1, max: 1, noNaN: true }),
    mean: fc.double({ min: -2, max: 2, noNaN: true }),
    s: fc.double({ min: 0.2, max: 1.5, noNaN: true }),
  })
  fc.assert(
    fc.property(
      fc.array(part, { minLength: 1, maxLength: 4 }),
      fc.double({ min: -2, max: 2, noNaN: true }),
      fc.double({ min: 0.2, max: 1, noNaN: true }),
      (parts, value, u) => {
        const total = parts.reduce((sum, { p }) => sum + p, 0)
        const known = { p: parts.map(({ p }) => p / total), mean: parts.map(({ mean }) => mean), s: parts.map(({ s }) => s) }
        const told = must(judgeClaim({ known, measured: { value, u }, low: -0.7, high: 0.9, risk: 0.05 }))
        const density = (x: number): number =>
          parts.reduce((sum, { p, mean, s }) => sum + (p / s) * Math.exp(-0.5 * ((x - mean) / s) ** 2), 0) *
          Math.exp(-0.5 * ((x - value) / u) ** 2)
        let [all, inside, first] = [0, 0, 0]
        const step = 0.002
        for (let x = -9 + step / 2; x < 9; x += step) {
          const d = density(x)
          all += d
          first += d * x
          if (x > -0.7 && x < 0.9) inside += d
        }
        expect(told.within).toBeCloseTo(inside / all, 4)
        expect(told.mean).toBeCloseTo(first / all, 6)
      },
    ),
    { numRuns: runs(25), seed: 106 },
  )
})
