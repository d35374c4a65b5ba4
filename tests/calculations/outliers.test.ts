// Outlier tests against the NIST handbook's worked cases and printed critical values, and against the ways people get them wrong.
import fc from 'fast-check'
import { mean, sampleStandardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { rosner } from '../../server/src/calc/outliers.ts'
import { must, numbersIn, refusal } from './must.ts'

/** Grubbs' test is Rosner's for a single outlier. */
const grubbs = (input: Omit<Parameters<typeof rosner>[0], 'most'>) => {
  const { steps, count } = must(rosner({ ...input, most: 1 }))
  return { ...steps[0]!, suspect: count > 0 }
}
/** It hangs on the number of values only. */
const critical = (n: number, significance = 0.05) =>
  grubbs({ values: Array.from({ length: n }, (_, i) => i), significance }).critical

// Two-sided critical values, 5 % and 1 %; agree with the LibreTexts table to 3 decimals where that is not misprinted, and with ASTM E178 to 2.
const table: [number, number, number][] = [
  [3, 1.1543, 1.1547],
  [4, 1.4813, 1.4962],
  [5, 1.715, 1.7637],
  [6, 1.8871, 1.9728],
  [7, 2.02, 2.1391],
  [8, 2.1266, 2.2744],
  [9, 2.215, 2.3868],
  [10, 2.29, 2.4821],
  [11, 2.3547, 2.5641],
  [12, 2.4116, 2.6357],
  [13, 2.462, 2.699],
  [14, 2.5073, 2.7554],
  [15, 2.5483, 2.8061],
  [16, 2.5857, 2.8521],
  [18, 2.6516, 2.9325],
  [20, 2.7082, 3.0008],
  [25, 2.8217, 3.1353],
  [30, 2.9085, 3.2361],
  [50, 3.1282, 3.4825],
  [100, 3.3841, 3.754],
]

// NIST/SEMATECH e-Handbook 1.3.5.17.1 (Tietjen & Moore 1972).
const tietjenMoore = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]

describe('Grubbs', () => {
  it.each(table)('has the printed critical value for %d values', (n, at5, at1) => {
    // Printed to 4 decimals; at n = 4 the value is 1.48125, half-way between two of them.
    expect(Math.abs(critical(n) - at5)).toBeLessThan(0.0000501)
    expect(Math.abs(critical(n, 0.01) - at1)).toBeLessThan(0.0000501)
  })

  it('names 245.57 in the handbook case, with G = 2.468765', () => {
    const found = grubbs({ values: tietjenMoore })
    expect(found).toMatchObject({ index: 7, suspect: true })
    expect(found.statistic).toBeCloseTo(2.468765, 5)
    // simple-statistics: mean 206.43375 and s 15.85256, the suspect counted in.
    expect(found.statistic).toBeCloseTo((245.57 - mean(tietjenMoore)) / sampleStandardDeviation(tietjenMoore), 10)
  })

  // The one-sided value for n = 8 is 2.0317: right only for who chose the side before looking.
  it('asks the two-sided question', () => {
    expect(critical(8)).toBeCloseTo(2.1266, 4)
    expect(critical(8, 0.1)).toBeCloseTo(2.0317, 4)
  })

  // A printed table has 2.202 for n = 7 (5 %) and 2.755 for n = 15 (1 %), where t gives 2.020 and 2.806.
  it('computes what printed tables misprint', () => {
    expect(critical(7)).toBeCloseTo(2.02, 3)
    expect(critical(15, 0.01)).toBeCloseTo(2.806, 3)
  })

  // Leaving the suspect out of s would give G = 1.2 / 0.0816 = 14.7, beyond the largest G there can be, 1.789.
  it('counts the suspect in mean and s', () => {
    const found = grubbs({ values: [1000.2, 1000.3, 1000.1, 1000.2, 1001.4], significance: 0.01 })
    expect(found.statistic).toBeCloseTo(1.77353, 5)
    expect(found).toMatchObject({ index: 4, suspect: true })
    expect(found.critical).toBeCloseTo(1.7637, 4)
  })

  // Whole numbers just below a power of two, so that nothing is rounded but in the test itself.
  it('loses no digits far from zero', () => {
    const values = [0, 1, 2, 3, 10]
    const far = grubbs({ values: values.map((v) => 2 ** 30 - v) })
    expect(Math.abs(far.statistic / grubbs({ values }).statistic - 1)).toBeLessThan(1e-13)
  })

  it('finds nothing in values that are all the same', () => {
    const found = grubbs({ values: [0.1 + 0.2, 0.3, 0.3, 0.3], significance: 0.05 })
    expect(found).toMatchObject({ statistic: 0, suspect: false })
  })

  it('refuses fewer than three values, and what is no number', () => {
    expect(refusal(rosner({ values: [1, 2], most: 1 })).input).toBe('values')
    expect(refusal(rosner({ values: [1, 2, Number.NaN], most: 1 })).input).toBe('values')
    expect(refusal(rosner({ values: [1, 2, 3], uncertainties: [1, 1], most: 1 })).input).toBe('uncertainties')
    expect(refusal(rosner({ values: [1, 2, 3], uncertainties: [1, 1, 0], most: 1 })).input).toBe('uncertainties')
  })
})

describe('Grubbs with an uncertainty for each value', () => {
  const readings = [1000.2, 1000.3, 1000.1, 1000.2, 1001.4]

  it('is the plain test where the scatter exceeds equal uncertainties', () => {
    const plain = grubbs({ values: readings })
    const weighted = grubbs({ values: readings, uncertainties: readings.map(() => 0.01) })
    expect(weighted.statistic).toBeCloseTo(plain.statistic, 12)
    expect(weighted.index).toBe(plain.index)
  })

  it('suspects nothing that agrees within what it claims', () => {
    const weighted = grubbs({ values: readings, uncertainties: readings.map(() => 1) })
    expect(weighted.suspect).toBe(false)
    expect(weighted.statistic).toBeLessThan(1.5)
  })

  it('leaves a value out of account whose uncertainty is beyond all the others', () => {
    const found = grubbs({ values: [1, 1.1, 0.9, 1.05, 50], uncertainties: [0.1, 0.1, 0.1, 0.1, 1e200] })
    expect(Number.isFinite(found.statistic)).toBe(true)
    expect(found.suspect).toBe(false)
  })

  it('forgives a value of large uncertainty what it would not forgive the others', () => {
    const values = [0.5, 0.502, 0.498, 0.501, 0.499, 0.5, 0.503, 0.6]
    expect(grubbs({ values }).suspect).toBe(true)
    expect(grubbs({ values, uncertainties: [...Array(7).fill(0.002), 0.06] }).suspect).toBe(false)
  })

  // The statistic is that of a residual of the weighted mean divided by its own standard deviation: here computed from the textbook formulas.
  it('studentizes with the leverage of each value', () => {
    const values = [1, 2, 4, 9]
    const u = [1, 2, 0.5, 1]
    const w = u.map((ui) => 1 / ui ** 2)
    const total = w.reduce((a, b) => a + b)
    const m = values.reduce((sum, v, i) => sum + v * w[i]!, 0) / total
    const s = Math.sqrt(values.reduce((sum, v, i) => sum + w[i]! * (v - m) ** 2, 0) / 3)
    const r = values.map((v, i) => (Math.sqrt(w[i]!) * Math.abs(v - m)) / (s * Math.sqrt(1 - w[i]! / total)))
    const found = grubbs({ values, uncertainties: u })
    expect(found.statistic).toBeCloseTo(Math.max(...r) * Math.sqrt(3 / 4), 12)
    expect(found.index).toBe(r.indexOf(Math.max(...r)))
  })
})

// NIST/SEMATECH e-Handbook 1.3.5.17.3 (Rosner 1983): data and the table the handbook prints, to 6 decimals.
describe('Rosner', () => {
  const data = [
    -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.7, 1.76, 1.77, 1.81,
    1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.4, 2.47, 2.54, 2.62, 2.64, 2.9, 2.92,
    2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68, 4.3, 4.64, 5.34, 5.42, 6.01,
  ]
  const expected: [number, number, number][] = [
    [3.118906, 3.158794, 6.01],
    [2.942973, 3.15143, 5.42],
    [3.179424, 3.14389, 5.34],
    [2.810181, 3.136165, 4.64],
    [2.81558, 3.128247, -0.25],
    [2.848172, 3.120128, 4.3],
    [2.279327, 3.111796, 3.68],
    [2.310366, 3.103243, 3.59],
    [2.101581, 3.094456, 0.68],
    [2.067178, 3.085425, 3.3],
  ]
  const found = must(rosner({ values: data, most: 10 }))

  it.each(expected.map((row, i) => [i, ...row] as const))('step %d', (i, statistic, lambda, removed) => {
    const step = found.steps[i]!
    expect(step.statistic).toBeCloseTo(statistic, 5)
    expect(step.critical).toBeCloseTo(lambda, 5)
    expect(data[step.index]).toBe(removed)
  })

  // Neither of the first two steps is significant: repeating Grubbs stops at once and finds none.
  it('finds the three that hide one another, which repeating Grubbs does not', () => {
    expect(found.count).toBe(3)
    expect(found.suspects.map((i) => data[i])).toEqual([6.01, 5.42, 5.34])
    expect(grubbs({ values: data }).suspect).toBe(false)
  })

  it('finds the same with equal uncertainties below the scatter, in any order and unit', () => {
    const shuffled = data.map((_, i) => data[(i * 17) % data.length]! * 1e-4)
    const again = must(rosner({ values: shuffled, uncertainties: shuffled.map(() => 1e-6), most: 10 }))
    expect(again.suspects.map((i) => shuffled[i]! * 1e4)).toEqual([6.01, 5.42, 5.34].map((v) => expect.closeTo(v, 10)))
  })

  it('never gives NaN, and refuses or answers whatever it is given', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double(), fc.double()), { maxLength: 12 }),
        fc.integer({ min: -1, max: 5 }),
        (pairs, most) => {
          const values = pairs.map(([v]) => v)
          for (const uncertainties of [undefined, pairs.map(([, u]) => u)]) {
            const result = rosner(uncertainties ? { values, uncertainties, most } : { values, most })
            if (result.ok) expect(numbersIn(result.value).every(Number.isFinite)).toBe(true)
          }
        },
      ),
      { numRuns: 500 },
    )
  })
})
