// Means of plain readings.
import { sampleStandardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { sampleOf } from '../../server/src/calc/statistics.ts'
import { must, refusal } from './must.ts'

describe('sample', () => {
  it('agrees with simple-statistics, also far from zero', () => {
    const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]
    expect(must(sampleOf({ values })).mean).toBeCloseTo(206.43375, 10)
    expect(must(sampleOf({ values })).sd).toBeCloseTo(sampleStandardDeviation(values), 10)
    // NIST StRD NumAcc4 (from memory): mean 10000000.2, standard deviation 0.1.
    const numAcc4 = [10000000.2, ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? 10000000.1 : 10000000.3))]
    expect(must(sampleOf({ values: numAcc4 })).mean).toBe(10000000.2)
    expect(must(sampleOf({ values: numAcc4 })).sd).toBeCloseTo(0.1, 8)
  })

  it('refuses one value, and those whose scatter is no number', () => {
    for (const values of [[1], [-1.7e308, 1.7e308]]) expect(refusal(sampleOf({ values })).input).toBe('values')
  })
})
