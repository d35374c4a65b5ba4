// The mean of unknown scatter against an independent program, published cases, and the forms that people get wrong.
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bestProbability, probabilityWithin } from '../../server/src/calc/feed-verdict.ts'
import type { ScatterInput } from '../../server/src/calc/scatter-average.ts'
import { DenseSolver } from '../../server/src/calc/scatter-dense.ts'
import { type ScatterMixture, scatterMixture } from '../../server/src/calc/scatter-mixture.ts'
import { layoutOf, type ScatterValue } from '../../server/src/calc/scatter-model.ts'
import { gridNodes, haltonNodes, type ScatterNode } from '../../server/src/calc/scatter-nodes.ts'
import { SparseSolver } from '../../server/src/calc/scatter-sparse.ts'
import { scatterSuspects } from '../../server/src/calc/scatter-suspects.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'

const mixtureOf = (input: ScatterInput): ScatterMixture => must(scatterMixture(input))
const ALL = ['tau', 'rho', 'omega', 'q'] as const
const within = (m: ScatterMixture, low: number, high: number, of: 'print' | 'mean') =>
  must(probabilityWithin(m, low, high, { of }))

/** A value from numbers in percent; `shared` by cause. */
const percent = (
  value: number,
  u: number,
  shared: Record<string, number> = {},
  more: Partial<ScatterValue> = {},
): ScatterValue => ({
  value: value / 100,
  u: u / 100,
  shared: Object.entries(shared).map(([cause, part]) => ({ cause, u: part / 100 })),
  ...more,
})

describe('190 random series', () => {
  /**
   * In percent. Made with numpy 2 and scipy 1.17 (dense inverses, Brent's root) by an independent program: `y` with own uncertainties `r` and shared columns
   * `F`, the mean `c` with u and U (95 %), the weights, the probability of the mean and of a print within ± tolerance of what is `set`, n·p of each value.
   */
  interface Series {
    readonly kind: string
    readonly y: readonly number[]
    readonly r: readonly number[]
    readonly F: readonly (readonly number[])[]
    readonly day?: readonly number[]
    readonly lot?: readonly number[]
    readonly lotnow?: number
    readonly age?: readonly number[]
    readonly repeatability?: { readonly value: number; readonly freedom: number }
    readonly c: number
    readonly u: number
    readonly U: number
    readonly weights: readonly number[]
    readonly tolerance: number
    readonly set: number
    readonly pMean: number
    readonly pPrint: number
    readonly suspicion?: readonly number[]
  }
  const text = readFileSync(new URL('scatter-series.jsonl', import.meta.url), 'utf8')
  const all = text
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Series)

  const NODES: Readonly<Record<string, readonly ScatterNode[]>> = {
    scatter: gridNodes(['tau'])!,
    'repeatability written down': gridNodes(['tau'])!,
    days: gridNodes(['tau', 'rho'])!,
    lots: gridNodes(['tau', 'omega'])!,
    'days, lots, age (Halton 512)': haltonNodes(ALL, 512),
  }

  const inputOf = ({ y, r, F, day, lot, lotnow, age, repeatability, kind }: Series): ScatterInput => ({
    values: y.map((value, i) =>
      percent(value, r[i]!, Object.fromEntries(F[i]!.map((f, c) => [`${c}`, f])), {
        day: day && `${day[i]}`,
        lot: lot && `${lot[i]}`,
        age: age?.[i],
      }),
    ),
    lotNow: lotnow === undefined ? undefined : `${lotnow}`,
    repeatability: repeatability && { value: repeatability.value / 100, freedom: repeatability.freedom },
    nodes: NODES[kind],
  })

  const relative = (found: number, wanted: number) => Math.abs(found / wanted - 1)

  it.each(Object.keys(NODES))('%s: to 1e-6', (kind) => {
    const some = all.filter((series) => series.kind === kind)
    expect(some.length).toBeGreaterThanOrEqual(20)
    const worst = some.map((series) => {
      const m = mixtureOf(inputOf(series))
      const [low, high] = [(series.set - series.tolerance) / 100, (series.set + series.tolerance) / 100]
      expect(m.suspicion !== undefined).toBe(series.suspicion !== undefined)
      return Math.max(
        relative(m.value * 100, series.c),
        relative(m.u * 100, series.u),
        relative(m.U * 100, series.U),
        relative(within(m, low, high, 'mean'), series.pMean),
        relative(within(m, low, high, 'print'), series.pPrint),
        ...m.weights.map((w, i) => Math.abs(w - series.weights[i]!)),
        ...(series.suspicion ?? []).map((s, i) => relative(m.suspicion![i]!, s)),
      )
    })
    expect(Math.max(...worst)).toBeLessThan(1e-6)
  })

  it('are reckoned by the nodes that are chosen for them as by 8,192 points of the prior', () => {
    const everything = all.filter(({ kind }) => kind.startsWith('days, lots'))
    const many = haltonNodes(ALL, 8192)
    const ratios = everything.map((series) => {
      const input = inputOf(series)
      return mixtureOf({ ...input, nodes: undefined }).U / mixtureOf({ ...input, nodes: many, suspicion: false }).U - 1
    })
    expect(Math.sqrt(ratios.reduce((sum, r) => sum + r * r, 0) / ratios.length)).toBeLessThan(0.02)
    for (const series of all.filter(({ kind }) => kind === 'scatter'))
      expect(relative(mixtureOf({ ...inputOf(series), nodes: undefined }).U * 100, series.U)).toBeLessThan(1e-6)
  })
})

// Readings to half a millimetre over 1 m, or with a sensor of 0.01 mm; limits of error of class I and class II rules and of the sensor.
const [HALF_MM, SENSOR_READING] = [0.05 / Math.sqrt(6), 0.001 / Math.sqrt(6)]
const CLASS_I = { I: 0.02 / Math.sqrt(3) }
const CLASS_II = { II: 0.05 / Math.sqrt(3) }
const SENSOR = { S: 0.015 / Math.sqrt(3) }
const sensor = (value: number, more: Partial<ScatterValue> = {}) => percent(value, SENSOR_READING, SENSOR, more)

/** Value, u and U in percent, to 1e-5 of them. */
function expectPercent(m: ScatterMixture, value: number, u: number, U: number): void {
  expect(m.value * 100).toBeCloseTo(value, 5)
  expect(m.u * 100).toBeCloseTo(u, 5)
  expect(m.U * 100).toBeCloseTo(U, 5)
}

// In percent. Worked with numpy and scipy by the independent program; the first three agree with a second one to 6 digits.
describe('worked examples', () => {
  const one = mixtureOf({ values: [percent(0.15, HALF_MM, CLASS_I)] })

  it('one check, class I rule', () => {
    expectPercent(one, 0.15, 0.05293, 0.099022)
    const p = (T: number, of: 'print' | 'mean') => within(one, (0.15 - T) / 100, (0.15 + T) / 100, of)
    expect(p(0.05, 'mean')).toBeCloseTo(0.80106, 5)
    expect(p(0.05, 'print')).toBeCloseTo(0.726942, 5)
    expect(p(0.1, 'mean')).toBeCloseTo(0.951081, 5)
    expect(p(0.1, 'print')).toBeCloseTo(0.910974, 5)
    expect(must(bestProbability(one, 0.05e-2))).toBeCloseTo(0.86323, 5)
    expect(must(bestProbability(one, 0.1e-2))).toBeCloseTo(0.958274, 5)
  })

  it('two with one rule, where an estimated scatter would be zero', () => {
    expectPercent(mixtureOf({ values: [0.15, 0.152].map((y) => percent(y, HALF_MM, CLASS_I)) }), 0.151, 0.028019, 0.053278)
  })

  it('a class II rule and a sensor at odds', () => {
    const m = mixtureOf({
      values: [percent(0.15, HALF_MM, CLASS_II), percent(0.26, HALF_MM, CLASS_II), sensor(0.195), sensor(0.175)],
    })
    expectPercent(m, 0.190883, 0.02617, 0.052636)
    for (const [i, w] of [0.147083, 0.147083, 0.352917, 0.352917].entries()) expect(m.weights[i]).toBeCloseTo(w, 5)
    for (const [i, s] of [0.444039, 0.131893, 3.458231, 2.451125].entries()) expect(m.suspicion![i]).toBeCloseTo(s, 5)
    expect(within(m, 0.08e-2, 0.28e-2, 'mean')).toBeCloseTo(0.995291, 5)
    expect(within(m, 0.08e-2, 0.28e-2, 'print')).toBeCloseTo(0.938077, 5)
  })

  it('one rule at two lengths, with no negative weight', () => {
    const m = mixtureOf({ values: [percent(0.12, 0.0408248, { I: 0.023094 }), percent(0.16, 0.0136083, { I: 0.011547 })] })
    expectPercent(m, 0.151436, 0.033208, 0.064567)
    expect(m.weights[0]).toBeCloseTo(0.214103, 5)
  })

  it('three prints of one day are less sure than three of three days', () => {
    const days = (...names: string[]) => mixtureOf({ values: [0.15, 0.156, 0.147].map((y, i) => sensor(y, { day: names[i] })) })
    expectPercent(days('mon', 'mon', 'mon'), 0.151, 0.017236, 0.033191)
    expectPercent(days('mon', 'tue', 'wed'), 0.151, 0.012258, 0.023475)
    expect(days('mon', 'mon', 'mon').unknown).toEqual(['tau', 'rho'])
  })

  it('a 5 mm misread among four is named', () => {
    const values = [0.1, 0.12, 0.11, 0.612].map((y) => sensor(y))
    const m = mixtureOf({ values })
    expectPercent(m, 0.2355, 0.107287, 0.214991)
    for (const [i, s] of [1.71138, 2.01139, 1.85902, 0.0000291434].entries()) expect(m.suspicion![i]! / s).toBeCloseTo(1, 5)
    expect(must(scatterSuspects({ values }, { first: m })).suspects).toEqual([3])
  })

  it('a lot never measured, and the same with one check of it', () => {
    const lots = [0.1, 0.11, 0.15, 0.16, 0.12, 0.125].map((y, i) => percent(y, SENSOR_READING, {}, { lot: `${i >> 1}` }))
    expectPercent(mixtureOf({ values: lots, lotNow: '3' }), 0.1275, 0.039294, 0.078847)
    const joined = [...lots, percent(0.18, SENSOR_READING, {}, { lot: '3' })]
    expectPercent(mixtureOf({ values: joined, lotNow: '3' }), 0.172619, 0.014873, 0.031573)
  })

  it('days, lots and ages at once', () => {
    const place = (i: number) => ({ day: `${[1, 2, 3, 3][i]}`, lot: `${i >> 1}`, age: [120, 60, 10, 10][i]! })
    const values = [
      percent(0.1, HALF_MM, CLASS_I, place(0)),
      percent(0.13, HALF_MM, CLASS_I, place(1)),
      sensor(0.12, place(2)),
      sensor(0.16, place(3)),
    ]
    expectPercent(mixtureOf({ values, lotNow: '1', nodes: haltonNodes(ALL, 512) }), 0.134355, 0.028112, 0.056549)
    expectPercent(mixtureOf({ values, lotNow: '1', nodes: haltonNodes(ALL, 2048) }), 0.134395, 0.028212, 0.056727)
    const own = mixtureOf({ values, lotNow: '1' })
    expect(own.unknown).toEqual(ALL)
    expect(Math.abs((own.U * 100) / 0.056727 - 1)).toBeLessThan(0.02)
  })
})

describe('the two ways of solving', () => {
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  const value = fc.record({
    value: real(-5e-3, 5e-3),
    u: real(1e-6, 5e-4),
    shared: fc.array(fc.record({ cause: fc.constantFrom('rule', 'tape', 'web'), u: real(-3e-4, 3e-4) }), { maxLength: 3 }),
    day: fc.option(fc.constantFrom('a', 'b', 'c', 'd', 'e'), { nil: undefined }),
    lot: fc.option(fc.constantFrom('x', 'y', 'z'), { nil: undefined }),
    age: fc.option(fc.constantFrom(0, 1, 7, 30, 31, 400), { nil: undefined }),
  })

  /** Ages that go with their days, as they do where people print, or any. */
  const values = fc
    .tuple(fc.array(value, { minLength: 1, maxLength: 30 }), fc.boolean())
    .map(([list, apart]) => (apart ? list : list.map((one) => ({ ...one, age: one.day && 3 * one.day.charCodeAt(0) - 291 }))))

  it('agree, one of them being held against an independent program above', () => {
    fc.assert(
      fc.property(values, fc.constantFrom('x', 'w', undefined), fc.nat(63), (list, lotNow, k) => {
        const layout = layoutOf(list, lotNow)
        const at = haltonNodes(ALL, 64)[k]!
        const [dense, sparse] = [new DenseSolver(layout), new SparseSolver(layout)].map((solver) => {
          const rows = () => new Float64Array(layout.n)
          const [distance, deviation, weights] = [rows(), rows(), rows()]
          const likelihood = solver.likelihood(at)
          if (layout.n > 1) solver.leaveOneOut(distance, deviation)
          solver.weights(at, weights)
          return { likelihood, distance, deviation, weights }
        })
        expect(Math.abs(sparse!.likelihood - dense!.likelihood)).toBeLessThan(1e-7 * (1 + Math.abs(dense!.likelihood)))
        for (let j = 0; j < layout.n; j++) {
          expect(sparse!.weights[j]).toBeCloseTo(dense!.weights[j]!, 9)
          if (layout.n < 2) continue
          expect(sparse!.deviation[j]! / dense!.deviation[j]!).toBeCloseTo(1, 7)
          expect(sparse!.distance[j]! / dense!.deviation[j]!).toBeCloseTo(dense!.distance[j]! / dense!.deviation[j]!, 6)
        }
      }),
      { numRuns: runs(300) },
    )
  })
})

describe('causes of about one size', () => {
  const PARTS = [
    [1, 1, 1, 1, 1, 1],
    [1, 1.0015, 1.0004, 1.0019, 1.0001, 1.001],
    [1, 1.5, 1, 1, 1, 1],
  ] as const
  const layoutWith = (sizes: readonly number[]) =>
    layoutOf(
      sizes.map((size, i) => ({
        value: 1e-5 * ((7 * i) % 5),
        u: 1e-4 + 2e-5 * i,
        shared: [{ cause: 'rule', u: 1.5e-4 * size }, ...(i % 2 ? [{ cause: 'web', u: -8e-5 * size }] : [])],
        age: 10 * i,
      })),
      undefined,
    )

  it.each(PARTS.slice(0, 2))('are weighed from the solution there is: sizes %d, %d, %d ...', (...sizes) => {
    const layout = layoutWith(sizes)
    expect(layout.even).toBe(true)
    for (const at of haltonNodes(ALL, 16))
      for (const solver of [new DenseSolver(layout), new SparseSolver(layout)]) {
        const [here, anew] = [new Float64Array(layout.n), new Float64Array(layout.n)]
        solver.likelihood(at)
        solver.leaveOneOut(new Float64Array(layout.n), new Float64Array(layout.n))
        solver.weightsHere(here)
        solver.weights(at, anew)
        // What is above the smallest size counts as a value's own there, which moves a weight by less than a thousandth.
        for (let j = 0; j < layout.n; j++) expect(Math.abs(here[j]! - anew[j]!)).toBeLessThan(sizes[1] === 1 ? 1e-12 : 1e-3)
      }
  })

  it('and of several sizes by a solution of their own', () => expect(layoutWith(PARTS[2]).even).toBe(false))
})

const node = (tau: number, more: Partial<ScatterNode> = {}): ScatterNode => ({
  tau,
  rho: 0,
  omega: 0,
  q: 0,
  logWeight: 0,
  ...more,
})
const heaviest = ({ parts, nodes }: ScatterMixture): ScatterNode => nodes[parts.p.indexOf(Math.max(...parts.p))]!

describe('published cases', () => {
  // Example 5.5 of A. Gelman et al., Bayesian Data Analysis (data from memory): coaching in eight schools, points. Flat prior on tau, recomputed by quadrature.
  it('eight schools: the scatter that an estimate takes for zero is integrated over', () => {
    const u = [15, 10, 16, 11, 9, 11, 10, 18]
    const values = [28, 8, -3, 7, -1, 1, 18, 12].map((value, i) => ({ value, u: u[i]! }))
    const m = mixtureOf({ values, nodes: Array.from({ length: 6000 }, (_, i) => node(0.025 + 0.05 * i)) })
    expect(m.value).toBeCloseTo(7.932, 3)
    expect(m.u).toBeCloseTo(5.178, 2)
    expect(m.u).toBeGreaterThan(4.0719 * 1.2)
  })

  // GUM (JCGM 100:2008) H.5, Table H.9 (from memory): means of ten days in µV above 10 V and standard deviations of the five readings of each. The readings
  // themselves are not printed; five with that mean and standard deviation stand for them, which is all that the variances know of.
  const DAYS = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41]
  const SDS = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86]
  const readings = DAYS.flatMap((mean, d) =>
    [-2, -1, 0, 1, 2].map((step) => ({ value: mean + (step * SDS[d]!) / Math.sqrt(2.5), u: 0, day: `${d}` })),
  )
  const [sWithin, sBetween] = [84.89, 42.6]
  const both = Math.hypot(sWithin, sBetween)
  const share = (sBetween / both) ** 2

  it('a voltage on ten days: 18 µV, and 13 µV where days are ignored', () => {
    const m = mixtureOf({ values: readings, nodes: [node(both, { rho: share })] })
    expect(m.value).toBeCloseTo(97.1, 10)
    expect(m.u).toBeCloseTo(18.05, 1)
    expect(m.budget.days).toBeCloseTo(sBetween / Math.sqrt(10), 8)
    expect(m.budget.scatter).toBeCloseTo(sWithin / Math.sqrt(50), 8)
    const ignored = mixtureOf({ values: readings.map(({ value, u }) => ({ value, u })), nodes: [node(94.21)] })
    expect(ignored.u).toBeCloseTo(13.3, 1)
  })

  // In a balanced design the restricted likelihood is highest at the estimates of the analysis of variance, which H.5 computes.
  it('finds the scatter within and between its days', () => {
    const nodes = [0.9, 0.95, 1, 1.05, 1.1].flatMap((a) =>
      [0.9, 0.95, 1, 1.05, 1.1].map((b) => node(both * a, { rho: share * b })),
    )
    const top = heaviest(mixtureOf({ values: readings, nodes }))
    expect(top.tau / both).toBeCloseTo(1, 10)
    expect(top.rho / share).toBeCloseTo(1, 10)
  })
})

describe('sixty values', () => {
  // Days of three prints, lots of twelve, a walk and a rule and a sensor in turn; the noise is a fixed sequence.
  const noise = (i: number) => Math.sin(12.9898 * (i + 1)) + Math.sin(78.233 * (i + 1))
  const values = Array.from({ length: 60 }, (_, i) =>
    percent(
      0.15 + 0.02 * noise(i) + 0.02 * noise(100 + Math.floor(i / 3)) + 0.015 * noise(300 + Math.floor(i / 12)),
      i % 2 ? SENSOR_READING : HALF_MM,
      i % 2 ? SENSOR : CLASS_I,
      { day: `${Math.floor(i / 3)}`, lot: `${Math.floor(i / 12)}`, age: 200 - 9 * Math.floor(i / 3) },
    ),
  )

  it('are reckoned as by 4,096 points of the prior', () => {
    const input = { values, lotNow: '4', suspicion: false }
    const own = mixtureOf(input)
    const many = mixtureOf({ ...input, nodes: haltonNodes(ALL, 4096) })
    expect(Math.abs(own.U / many.U - 1)).toBeLessThan(0.04)
    expect(Math.abs(own.value - many.value) / many.U).toBeLessThan(0.03)
  })

  it('and a blunder among them is named, and only that', () => {
    const wrong = values.map((one, i) => (i === 17 ? { ...one, value: one.value + 5e-3 } : one))
    expect(must(scatterSuspects({ values: wrong, lotNow: '4' })).suspects).toEqual([17])
  })
})

describe('forms that are wrong', () => {
  it('do not divide what a rule shares by the square root of the number of its checks', () => {
    const values = Array.from({ length: 12 }, (_, i) => percent(0.15 + 0.004 * (i % 3), HALF_MM, CLASS_I))
    const m = mixtureOf({ values })
    const [shared] = m.budget.shared
    expect(shared!.u * 100).toBeCloseTo(CLASS_I.I, 8)
    expect(m.u).toBeGreaterThan(shared!.u)
    expect(m.u * 100).toBeGreaterThan((1.5 * Math.hypot(CLASS_I.I, HALF_MM)) / Math.sqrt(12))
  })

  it('do not take the mean for a print', () => {
    const m = mixtureOf({ values: Array.from({ length: 12 }, (_, i) => sensor(0.15 + 0.04 * ((i % 3) - 1))) })
    const p = (of: 'print' | 'mean') => within(m, 0.1e-2, 0.2e-2, of)
    expect(p('mean')).toBeGreaterThan(0.97)
    expect(p('print')).toBeLessThan(0.9)
    expect(p('print')).toBeLessThan(must(bestProbability(m, 0.05e-2)))
  })

  it('let one check claim no more than its rule knows', () => {
    const m = mixtureOf({ values: [sensor(0.15)] })
    expect(m.u * 100).toBeGreaterThan(4 * SENSOR.S)
    const stated = mixtureOf({ values: [sensor(0.15)], repeatability: { value: 0.012e-2, freedom: 14 } })
    expect(stated.u * 100).toBeCloseTo(Math.hypot(SENSOR.S, 0.0125), 2)
    expect(stated.u).toBeLessThan(m.u / 2)
  })

  it('name neither of two that disagree, and say so', () => {
    const two = mixtureOf({ values: [sensor(0.1), sensor(0.6)] })
    expect(two.suspicion).toBeUndefined()
    expect(two.disagreement).toBeLessThan(0.05)
    expect(must(scatterSuspects({ values: [sensor(0.1), sensor(0.6)] })).suspects).toEqual([])
    expect(mixtureOf({ values: [sensor(0.1), sensor(0.11)] }).disagreement).toBeGreaterThan(0.5)
    expect(mixtureOf({ values: [sensor(0.1)] }).disagreement).toBeUndefined()
  })
})

describe('suspects', () => {
  const good = [0.152, 0.148, 0.151, 0.155, 0.146, 0.149, 0.153, 0.15, 0.147, 0.154]

  it('are both named where two blunders of one sign hide each other', () => {
    const values = [0.35, ...good, 0.36].map((y) => sensor(y))
    const { suspects, steps } = must(scatterSuspects({ values }))
    expect(suspects).toEqual([11, 0])
    expect(steps).toHaveLength(2)
  })

  it('are none among values that agree, and one look tells', () => {
    const { suspects, steps } = must(scatterSuspects({ values: good.map((y) => sensor(y)) }))
    expect(suspects).toEqual([])
    expect(steps).toHaveLength(1)
  })

  it('are looked for once more where the first is unlikely, if not significant', () => {
    const { suspects, steps } = must(scatterSuspects({ values: [0.163, ...good].map((y) => sensor(y)) }))
    expect(steps[0]!.suspicion).toBeGreaterThan(0.05)
    expect(steps).toHaveLength(2)
    expect(suspects).toEqual([])
  })

  it('are looked for once where there are fewer than eight', () => {
    const values = [0.65, ...good.slice(0, 5), 0.64].map((y) => sensor(y))
    expect(must(scatterSuspects({ values })).steps).toHaveLength(1)
  })
})

describe('every mean', () => {
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  const value = fc.record({
    value: real(-5e-3, 5e-3),
    u: real(0, 5e-4),
    shared: fc.array(fc.record({ cause: fc.constantFrom('rule', 'tape', 'web'), u: real(-3e-4, 3e-4) }), { maxLength: 3 }),
    day: fc.option(fc.constantFrom('a', 'b', 'c'), { nil: undefined }),
    lot: fc.option(fc.constantFrom('x', 'y'), { nil: undefined }),
    age: fc.option(fc.integer({ min: 0, max: 400 }), { nil: undefined }),
  })
  const values = fc.array(value, { minLength: 1, maxLength: 9 })
  const nodes = haltonNodes(ALL, 64)
  const RUNS = { numRuns: runs(60) }

  it('has weights of a mean, parts that make up its uncertainty, and no number that is none', () => {
    fc.assert(
      fc.property(values, (list) => {
        const m = mixtureOf({ values: list, lotNow: 'x' })
        expect(m.weights.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 10)
        expect(Math.min(...m.weights)).toBeGreaterThanOrEqual(0)
        const { shared, ...parts } = m.budget
        expect(Math.hypot(...Object.values(parts), ...shared.map(({ u }) => u)) / m.u).toBeCloseTo(1, 10)
        expect(within(m, m.value - m.U, m.value + m.U, 'mean')).toBeCloseTo(0.95, 10)
        expect(m.tau.low).toBeLessThanOrEqual(m.tau.expected)
        expect(m.tau.high).toBeGreaterThanOrEqual(m.tau.expected)
        expect(numbersIn(m).every(Number.isFinite)).toBe(true)
      }),
      RUNS,
    )
  })

  it('asks nothing of the order in which values stand', () => {
    fc.assert(
      fc.property(values, fc.nat(), (list, by) => {
        const turn = by % list.length
        const turned = [...list.slice(turn), ...list.slice(0, turn)]
        const [m, t] = [list, turned].map((some) => mixtureOf({ values: some, lotNow: 'x' })) as [ScatterMixture, ScatterMixture]
        expect(t.value).toBeCloseTo(m.value, 9)
        expect(t.U / m.U).toBeCloseTo(1, 6)
        for (const [i, w] of t.weights.entries()) expect(w).toBeCloseTo(m.weights[(i + turn) % list.length]!, 6)
      }),
      RUNS,
    )
  })

  it('moves with a constant added to all values', () => {
    fc.assert(
      fc.property(values, real(-0.1, 0.1), (list, by) => {
        const m = mixtureOf({ values: list, lotNow: 'x' })
        const moved = mixtureOf({ values: list.map((v) => ({ ...v, value: v.value + by })), lotNow: 'x' })
        expect(moved.value - by).toBeCloseTo(m.value, 9)
        expect(moved.U / m.U).toBeCloseTo(1, 6)
      }),
      RUNS,
    )
  })

  it('scales with values, uncertainties and nodes', () => {
    fc.assert(
      fc.property(values, real(0.1, 1e4), (list, by) => {
        const m = mixtureOf({ values: list, lotNow: 'x', nodes })
        const scaled = mixtureOf({
          values: list.map((v) => ({
            ...v,
            value: v.value * by,
            u: v.u * by,
            shared: v.shared.map((part) => ({ ...part, u: part.u * by })),
          })),
          lotNow: 'x',
          nodes: nodes.map((one) => ({ ...one, tau: one.tau * by, omega: one.omega * by, q: one.q * by })),
        })
        expect(scaled.U / by / m.U).toBeCloseTo(1, 8)
        expect(scaled.value / by).toBeCloseTo(m.value, 9)
      }),
      RUNS,
    )
  })

  it('is the same for a day that stands alone and for a lot that all are of', () => {
    fc.assert(
      fc.property(values, (list) => {
        const plain = list.map(({ day: _day, lot: _lot, ...rest }) => rest)
        const named = plain.map((v, i) => ({ ...v, day: `${i}`, lot: 'x' }))
        expect(mixtureOf({ values: named, lotNow: 'x' }).U).toBe(mixtureOf({ values: plain }).U)
      }),
      RUNS,
    )
  })
})

describe('refuses', () => {
  const good = { value: 1e-3, u: 1e-4 }
  const inputOf = (input: ScatterInput) => refusal(scatterMixture(input)).input

  it.each([
    ['no values', { values: [] }, 'values'],
    ['a value that is no number', { values: [{ ...good, value: Number.NaN }] }, 'values'],
    ['an uncertainty below zero', { values: [{ ...good, u: -1e-9 }] }, 'values'],
    [
      'a shared part that is no number',
      { values: [{ ...good, shared: [{ cause: 'rule', u: Number.POSITIVE_INFINITY }] }] },
      'values',
    ],
    ['an age below zero', { values: [{ ...good, age: -1 }] }, 'values'],
    [
      'values too large',
      {
        values: [
          { ...good, value: 1e308 },
          { ...good, value: -1e308 },
        ],
      },
      'values',
    ],
    ['a stated scatter of zero', { values: [good], repeatability: { value: 0, freedom: 3 } }, 'repeatability'],
    ['no freedom', { values: [good], lotSpread: { value: 1e-4, freedom: 0 } }, 'lotSpread'],
    ['no nodes', { values: [good], nodes: [] }, 'nodes'],
    ['a coverage of one', { values: [good], coverage: 1 }, 'coverage'],
  ] as [string, ScatterInput, string][])('%s', (_, input, named) => {
    expect(inputOf(input)).toBe(named)
  })

  it('limits out of order, and a tolerance of zero', () => {
    const m = mixtureOf({ values: [good] })
    expect(refusal(probabilityWithin(m, 1, 0, { of: 'print' })).input).toBe('limits')
    expect(refusal(probabilityWithin(m, Number.NaN, 0, { of: 'print' })).input).toBe('limits')
    expect(refusal(bestProbability(m, 0)).input).toBe('tolerance')
  })
})
