// The scatter of a printer by the history of its profiles, and of a stock by that of its lots, against an independent program, a published case and drawn printers.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { probabilityWithin } from '../../server/src/calc/feed-verdict.ts'
import { normalQuantile } from '../../server/src/calc/normal.ts'
import { scatterHistory } from '../../server/src/calc/scatter-history.ts'
import { scatterMixture } from '../../server/src/calc/scatter-mixture.ts'
import type { ScatterValue } from '../../server/src/calc/scatter-model.ts'
import { runs } from '../support/counts.ts'
import { must, refusal } from './must.ts'

/** A reading by a sensor of 0.01 mm over 1 m, from numbers in percent. */
const sensor = (value: number, more: Partial<ScatterValue> = {}): ScatterValue => ({
  value: value / 100,
  u: 0.001e-2 / Math.sqrt(6),
  shared: [{ cause: 'S', u: 0.015e-2 / Math.sqrt(3) }],
  ...more,
})

const prints = (...profiles: number[][]) =>
  scatterHistory({ profiles: profiles.map((profile) => profile.map((value) => sensor(value))), of: 'print' })
const TWO = [
  [0.1, 0.115, 0.108],
  [-0.05, -0.042, -0.061],
]

describe('of a printer', () => {
  // Worked with numpy and scipy by the independent program that made the series beside this file: one check with a class I rule, half-millimetre steps, 1 m.
  it('makes one check of another profile worth more', () => {
    const { nodes } = must(prints(...TWO))
    const check = { value: 0.15e-2, u: 0.05e-2 / Math.sqrt(6), shared: [{ cause: 'I', u: 0.02e-2 / Math.sqrt(3) }] }
    const known = must(scatterMixture({ values: [check], nodes }))
    expect(known.value * 100).toBeCloseTo(0.15, 5)
    expect(known.u * 100).toBeCloseTo(0.028331, 5)
    expect(known.U * 100).toBeCloseTo(0.055468, 5)
    const within = (T: number) => must(probabilityWithin(known, (0.15 - T) / 100, (0.15 + T) / 100, { of: 'print' }))
    expect(within(0.05)).toBeCloseTo(0.889423, 5)
    expect(within(0.1)).toBeCloseTo(0.99299, 5)
    // As the document would state it: never surer than the history itself.
    const { stated } = must(prints(...TWO))
    expect(must(scatterMixture({ values: [check], repeatability: stated })).U).toBeGreaterThan(known.U)
    expect(must(scatterMixture({ values: [check] })).U).toBeGreaterThan(
      must(scatterMixture({ values: [check], repeatability: stated })).U,
    )
  })

  const draw = (seed: number) => {
    let state = seed
    return () => {
      state = (state * 48271) % 2147483647
      return normalQuantile(state / 2147483647)
    }
  }

  // Drawn printers, whose profiles differ as is assumed: the interval holds the scatter of a further profile.
  it('is as probable as it says', () => {
    const normal = draw(11)
    let [held, series] = [0, 0]
    for (; series < 200; series++) {
      const middle = 0.0223607 * Math.exp(0.87 * normal())
      const tau = () => middle * Math.exp(0.3 * normal())
      const profiles = Array.from({ length: 4 }, () => {
        const own = tau()
        return Array.from({ length: 4 }, () => own * normal())
      })
      const { low, high } = must(prints(...profiles))
      const truth = tau() / 100
      if (truth >= low && truth <= high) held++
    }
    // Three standard deviations of a count of 200 at 95 %.
    expect(held / series).toBeGreaterThan(0.95 - 0.047)
    expect(held / series).toBeLessThan(0.95 + 0.047)
  })

  it('is stated as what was drawn, the surer the more profiles there are, and never as more than five differences', () => {
    const normal = draw(3)
    const found = [3, 6, 12, 40].map((n) => {
      const profiles = Array.from({ length: n }, () => Array.from({ length: 5 }, () => 0.03 * normal()))
      return must(prints(...profiles)).stated!
    })
    for (const { value } of found) expect(Math.abs(Math.log(value / 0.03e-2))).toBeLessThan(0.5)
    expect(Math.abs(Math.log(found.at(-1)!.value / 0.03e-2))).toBeLessThan(0.12)
    const freedom = found.map((one) => one.freedom)
    expect(freedom).toEqual([...freedom].sort((a, b) => a - b))
    expect(freedom.at(-1)).toBeGreaterThanOrEqual(4)
    // A normal of 0.3 in the logarithm bends as much as 1/(2·0.3²) = 5.6 degrees of freedom.
    expect(freedom.at(-1)).toBeLessThanOrEqual(5)
  })

  it('is not stated where the prints differ by less than they can be read', () => {
    expect(must(prints([0.1, 0.1, 0.1], [0.2, 0.2, 0.2])).stated).toBeUndefined()
  })

  it('knows no order of profiles or prints, no level, and nothing by a single print', () => {
    const profile = fc.array(fc.double({ min: -0.2, max: 0.2, noNaN: true }), { minLength: 2, maxLength: 6 })
    fc.assert(
      fc.property(
        fc.array(profile, { minLength: 1, maxLength: 3 }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        (all, by) => {
          const [plain, moved] = [all, [[7], ...all.map((one) => one.map((value) => value + by).reverse()).reverse()]].map((p) =>
            must(prints(...p)),
          )
          expect(moved!.expected / plain!.expected).toBeCloseTo(1, 6)
          expect(moved!.high / plain!.high).toBeCloseTo(1, 6)
          expect(plain!.low).toBeLessThan(plain!.expected)
          expect(plain!.expected).toBeLessThan(plain!.high)
        },
      ),
      { numRuns: runs(60) },
    )
  })

  it('rises with a print that stands apart', () => {
    const calm = must(prints(...TWO)).expected
    expect(must(prints(TWO[0]!, [...TWO[1]!, 0.05])).expected).toBeGreaterThan(2 * calm)
  })
})

describe('of the lots of a stock', () => {
  // GUM (JCGM 100:2008) H.5, Table H.9 (from memory): ten days of five readings, here ten lots of five prints, µV as tenths of a millionth. The analysis of variance gives 42.6 µV
  // between them; what is stated lies where the history is highest once it is smoothed, so near that and not on it.
  const DAYS = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41]
  const SDS = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86]
  const lots = DAYS.flatMap((mean, d) =>
    [-2, -1, 0, 1, 2].map((step) => ({ value: (mean + (step * SDS[d]!) / Math.sqrt(2.5)) * 1e-6, u: 0, lot: `${d}` })),
  )

  it('is found beside the scatter within them', () => {
    const { stated, low, high } = must(scatterHistory({ profiles: [lots], of: 'lot' }))
    expect(stated!.value * 1e6).toBeGreaterThan(42.6 * 0.75)
    expect(stated!.value * 1e6).toBeLessThan(42.6 * 1.25)
    expect(low).toBeLessThan(42.6e-6)
    expect(high).toBeGreaterThan(42.6e-6)
    // And the other way round: of one print to the next, 84.9 µV.
    const within = must(scatterHistory({ profiles: [lots], of: 'print' }))
    expect(Math.abs(Math.log(within.stated!.value / 84.9e-6))).toBeLessThan(0.15)
  })

  it('is nothing that lots which agree would show', () => {
    const same = [0.1, 0.13, 0.08, 0.11, 0.12, 0.09].map((value, i) => sensor(value, { lot: `${i >> 1}` }))
    expect(must(scatterHistory({ profiles: [same], of: 'lot' })).expected).toBeLessThan(0.03e-2)
  })
})

it('refuses a history that says nothing, and what is no number', () => {
  expect(refusal(prints([0.1], [0.2])).input).toBe('profiles')
  expect(refusal(scatterHistory({ profiles: [[sensor(1, { lot: 'a' }), sensor(2, { lot: 'a' })]], of: 'lot' })).reason).toMatch(
    /two lots/,
  )
  expect(refusal(prints([0.1, Number.NaN])).reason).toMatch(/finite/)
  expect(refusal(scatterHistory({ profiles: [[sensor(1), sensor(2, { u: -1 })]], of: 'print' })).input).toBe('profiles')
})
