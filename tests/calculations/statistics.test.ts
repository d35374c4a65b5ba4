// Means of plain readings and of estimates that share errors.
import fc from 'fast-check'
import { sampleStandardDeviation } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { sampleOf, weightedMean } from '../../server/src/calc/statistics.ts'
import { must, numbersIn, refusal } from './must.ts'

type Estimate = Parameters<typeof weightedMean>[0]['estimates'][number]
const meanOf = (...estimates: Estimate[]) => must(weightedMean({ estimates }))

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

describe('weighted mean', () => {
  // Percent; by hand from w = 1/u², chi² and Birge's ratio.
  it('of three independent estimates', () => {
    const m = meanOf({ value: 0.5, u: 0.02 }, { value: 0.47, u: 0.02 }, { value: 0.58, u: 0.06 })
    expect(m.value).toBeCloseTo(0.49, 12)
    expect(m.uInternal).toBeCloseTo(0.013765, 6)
    expect(m.chi2).toBeCloseTo(3.5, 10)
    expect(m.birge).toBeCloseTo(1.32288, 5)
    expect(m.uExternal).toBeCloseTo(0.018209, 6)
    expect(m.u).toBe(m.uExternal)
    expect(m.weights[2]! / m.weights[0]!).toBeCloseTo(1 / 9, 12)
  })

  it('of one estimate is that estimate', () => {
    expect(meanOf({ value: 3, u: 2 })).toMatchObject({
      value: 3,
      u: 2,
      weights: [1],
      chi2: 0,
      birge: undefined,
      nuExternal: Number.POSITIVE_INFINITY,
    })
  })

  // As in the GUM's example to 5.2.2 (from memory), ten resistors calibrated against one standard. Their common part does not fall with √n.
  it('divides the own part by √n, and the common part by nothing', () => {
    const ten = Array.from({ length: 10 }, () => ({ value: 1, u: 0.1, common: [{ cause: 'standard', u: 0.3 }], group: 'a' }))
    const m = meanOf(...ten)
    expect(m.uInternal).toBeCloseTo(0.1 / Math.sqrt(10), 12)
    expect(m.uCommon).toBeCloseTo(0.3, 12)
    expect(m.u).toBeGreaterThan(0.3)
    const [one] = ten
    expect(m.u).toBeLessThan(meanOf(one!).u)
  })

  it('does not let many readings with one rule outvote a better rule', () => {
    const poor = Array.from({ length: 50 }, () => ({ value: 1, u: 0.1, common: [{ cause: 'tape', u: 1 }], group: 'tape' }))
    const good = { value: 0, u: 0.1, common: [{ cause: 'rule', u: 0.1 }], group: 'rule' }
    const m = meanOf(...poor, good)
    expect(m.weights[50]).toBeGreaterThan(0.97)
    expect(m.chi2 / 50).toBeLessThan(1)
  })

  it('lets opposite errors of one cause cancel', () => {
    const m = meanOf(
      { value: 1, u: 0.1, common: [{ cause: 'web', u: 0.5 }] },
      { value: 1, u: 0.1, common: [{ cause: 'web', u: -0.5 }] },
    )
    expect(m.uCommon).toBeCloseTo(0, 12)
  })

  it('takes two rules at odds as scatter of two, not of all their readings', () => {
    const with20 = (value: number, group: string) =>
      Array.from({ length: 20 }, (_, i) => ({ value: value + 1e-3 * (i % 2), u: 1e-3, group }))
    const m = meanOf(...with20(0, 'a'), ...with20(1, 'b'))
    expect(m.uExternal).toBeCloseTo(0.5, 2)
    expect(m.nuExternal).toBeCloseTo(1, 2)
  })

  // GUM 5.2.2 as matrices: V = diag(u²) + Σ c·cᵀ over the causes. A weighted sum has the variance aᵀVa, so a residual, which is one too, has it exactly;
  // the weights are 1/u² within each group, and 1/variance of the groups' means between them.
  it('has the variances of the covariance matrix, for each estimate and for each group', () => {
    const causes = ['rule', 'web']
    const shared = (rule: number, web: number) => [
      { cause: 'rule', u: rule },
      { cause: 'web', u: web },
    ]
    const estimates = [
      { value: 1, u: 0.1, common: shared(0.05, 0.02), group: 'a' },
      { value: 2.2, u: 0.2, common: shared(0.07, -0.03), group: 'b' },
      { value: 1.1, u: 0.15, common: [{ cause: 'rule', u: 0.06 }], group: 'a' },
      { value: 2, u: 0.12, common: [{ cause: 'web', u: 0.08 }], group: 'b' },
      { value: 1.7, u: 0.3 },
    ]
    const groups = [[0, 2], [1, 3], [4]]
    const n = estimates.length
    const c = (cause: string) => estimates.map((e) => e.common?.find((part) => part.cause === cause)?.u ?? 0)
    const own = (a: readonly number[]) => a.reduce((sum, ai, i) => sum + (ai * estimates[i]!.u) ** 2, 0)
    const left = (a: readonly number[], cause: string) => a.reduce((sum, ai, i) => sum + ai * c(cause)[i]!, 0)
    const variance = (a: readonly number[]) => own(a) + causes.reduce((sum, cause) => sum + left(a, cause) ** 2, 0)
    const unit = (i: number) => Array.from({ length: n }, (_, j) => Number(i === j))
    const normal = (a: readonly number[]) => a.map((ai) => ai / a.reduce((sum, aj) => sum + aj))
    const inGroup = groups.map((members) => normal(estimates.map((_, i) => (members.includes(i) ? 1 / variance(unit(i)) : 0))))
    const groupWeights = normal(inGroup.map((a) => 1 / variance(a)))
    const weights = estimates.map((_, i) => inGroup.reduce((sum, a, g) => sum + groupWeights[g]! * a[i]!, 0))
    const mean = weights.reduce((sum, w, i) => sum + w * estimates[i]!.value, 0)

    // Of a residual: its own part is its own, and of what is shared only what the mean does not take along.
    const residuals = (of: readonly (readonly number[])[]) =>
      of.map((a) => {
        const difference = a.reduce((sum, ai, i) => sum + ai * (estimates[i]!.value - mean), 0)
        const notCancelling = causes.reduce((sum, cause) => sum + (left(a, cause) - left(weights, cause)) ** 2, 0)
        return { residual: difference, u: Math.sqrt(own(a) + notCancelling) }
      })
    const excess = (of: readonly (readonly number[])[], shares: readonly number[]) => {
      const all = residuals(of)
      const birge2 = all.reduce((sum, r) => sum + (r.residual / r.u) ** 2, 0) / (all.length - 1)
      return { nu: all.length - 1, variance: (birge2 - 1) * all.reduce((sum, r, i) => sum + (shares[i]! * r.u) ** 2, 0) }
    }
    const single = estimates.map((_, i) => unit(i))
    const [ofEach, ofGroups] = [excess(single, weights), excess(inGroup, groupWeights)]
    expect(ofGroups.variance).toBeGreaterThan(ofEach.variance)

    const m = meanOf(...estimates)
    const close = (value: number) => expect.closeTo(value, 12)
    expect(m.weights).toEqual(weights.map(close))
    expect(m.value).toBeCloseTo(mean, 12)
    expect(m.uInternal ** 2).toBeCloseTo(own(weights), 12)
    expect(m.common).toEqual(causes.map((cause) => ({ cause, u: close(Math.abs(left(weights, cause))) })))
    expect(m.residuals).toEqual(
      residuals(single).map(({ residual, u }) => ({ residual: close(residual), u: close(u), z: close(residual / u) })),
    )
    expect(m.uExternal ** 2).toBeCloseTo(own(weights) + ofGroups.variance, 12)
    expect(m.u ** 2).toBeCloseTo(variance(weights) + ofGroups.variance, 12)
    // Welch and Satterthwaite: all the variance squared, over the excess squared by its degrees of freedom.
    expect(m.nuExternal).toBeCloseTo((own(weights) + ofGroups.variance) ** 2 / (ofGroups.variance ** 2 / ofGroups.nu), 9)

    // Without groups the scatter is that of the estimates alone.
    const alone = meanOf(...estimates.map(({ group: _, ...estimate }) => estimate))
    expect(alone.u ** 2).toBeGreaterThan(variance(alone.weights))
    expect(alone.nuExternal).toBeGreaterThan(n - 1)
  })

  it('refuses what is no estimate, and says what is wrong', () => {
    const problem = (estimate: object) =>
      refusal(
        weightedMean({
          estimates: [
            { value: 1, u: 1 },
            { value: 1, u: 1, ...estimate },
          ],
        }),
      )
    expect(refusal(weightedMean({ estimates: [] })).reason).toContain('at least one')
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(problem({ value }).reason).toContain('the value of an estimate')
      expect(problem({ u: value }).reason).toContain('own uncertainty')
      expect(problem({ common: [{ cause: 'a', u: value }] }).reason).toContain('shared uncertainty')
    }
    for (const u of [0, -1]) expect(problem({ u }).reason).toContain('own uncertainty')
    expect(
      problem({
        common: [
          { cause: 'a', u: 0 },
          { cause: 'b', u: Number.NaN },
        ],
      }).reason,
    ).toContain('shared uncertainty')
    expect(problem({ value: 1e308, u: 1e308 }).reason).toContain('too large or too small')
  })

  it('keeps its value between the least and the greatest, its weights at a sum of 1, and never shrinks below the claim', () => {
    const estimate = fc.record({
      value: fc.double({ min: -1, max: 1, noNaN: true }),
      u: fc.double({ min: 1e-6, max: 1, noNaN: true }),
      common: fc.array(fc.record({ cause: fc.constantFrom('a', 'b'), u: fc.double({ min: -1, max: 1, noNaN: true }) }), {
        maxLength: 2,
      }),
      group: fc.constantFrom('p', 'q', undefined),
    })
    fc.assert(
      fc.property(fc.array(estimate, { minLength: 1, maxLength: 12 }), (estimates) => {
        const m = meanOf(...estimates)
        const values = estimates.map((e) => e.value)
        expect(m.value).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9)
        expect(m.value).toBeLessThanOrEqual(Math.max(...values) + 1e-9)
        expect(m.weights.reduce((a, b) => a + b)).toBeCloseTo(1, 9)
        expect(Math.min(...m.weights)).toBeGreaterThanOrEqual(0)
        expect(m.uExternal).toBeGreaterThanOrEqual(m.uInternal)
        expect(m.u).toBeGreaterThanOrEqual(m.uCommon)
        expect(numbersIn(m).some(Number.isNaN)).toBe(false)
      }),
    )
  })

  it('refuses or answers, whatever it is given', () => {
    const estimate = fc.record({
      value: fc.double(),
      u: fc.double(),
      common: fc.array(fc.record({ cause: fc.constant('a'), u: fc.double() }), { maxLength: 1 }),
    })
    fc.assert(
      fc.property(fc.array(estimate, { maxLength: 4 }), (estimates) => {
        const result = weightedMean({ estimates })
        if (result.ok) expect(numbersIn(result.value).some(Number.isNaN)).toBe(false)
        else expect(result.problem.input).toBe('estimates')
      }),
      { numRuns: 1000 },
    )
  })
})
