// The filtered level against published fits, and against the same model written out as one covariance matrix.
import fc from 'fast-check'
import { all, create } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { followLevel, type LevelCheck, levelAhead, type Rates, riskBeyond } from '../../server/src/calc/level.ts'
import { normalCdf } from '../../server/src/calc/normal.ts'
import { runs } from '../support/counts.ts'
import { NILE } from './nile.ts'

const math = create(all!, {})

describe('the Nile', () => {
  // Durbin and Koopman, Time Series Analysis by State Space Methods, 2.2 to 2.11: variances 15099 and 1469.1. Values of statsmodels 0.14 with an exact
  // diffuse start, which prints -633.4646 as it counts ½ ln 2π of the first year.
  const rates: Rates = { walk: Math.sqrt(1469.1), lot: 0, slope: 0 }
  const level = followLevel(
    NILE.map((value, day) => ({ day, value, u: Math.sqrt(15099) })),
    rates,
  )

  it('stands at 798.37 ± √4032.16 in 1970, and at √5501.26 a year later', () => {
    expect(level.value).toBeCloseTo(798.3702926, 6)
    expect(level.variance).toBeCloseTo(4032.1579418, 6)
    expect(levelAhead(level, rates, 1, 0).variance).toBeCloseTo(5501.2579418, 6)
  })

  it('is as likely as the literature says', () => {
    expect(level.logLikelihood - 49.5 * Math.log(2 * Math.PI)).toBeCloseTo(-633.4645636 + 0.5 * Math.log(2 * Math.PI), 6)
  })
})

it('that only drifts is the straight line of GUM H.3, and its prediction', () => {
  // JCGM 100:2008 table H.6 (from memory; the line printed in H.3.3 and b(30 °C) of H.3.4 come out): corrections of a thermometer.
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const rates: Rates = { walk: 0, lot: 0, slope: 1e4 }
  const level = followLevel(
    t.map((day, i) => ({ day, value: b[i]!, u: 0.0035 })),
    rates,
  )
  expect(level.slope).toBeCloseTo(0.00218, 5)
  expect(Math.sqrt(level.slopeVariance)).toBeCloseTo(0.00067, 5)
  const at30 = levelAhead(level, rates, 30 - 26.511, 0)
  expect(at30.value).toBeCloseTo(-0.1494, 4)
  expect(Math.sqrt(at30.variance)).toBeCloseTo(0.0041, 4)
})

/** The same by generalized least squares (Rasmussen and Williams 2.7, a flat prior on the mean): all covariances at once, inverted by mathjs. */
function byMatrix(checks: readonly LevelCheck[], { walk, lot, slope }: Rates, ahead: number, lots: number) {
  const steps: number[] = []
  let known: string | undefined
  for (const check of checks) {
    const stepped = check.lot !== undefined && known !== undefined && check.lot !== known
    known = check.lot ?? known
    steps.push((steps.at(-1) ?? 0) + (stepped ? 1 : 0))
  }
  const days = [...checks.map(({ day }) => day - checks[0]!.day), checks.at(-1)!.day - checks[0]!.day + ahead]
  const levels = [...steps, steps.at(-1)! + lots]
  const covariance = (i: number, j: number): number =>
    walk ** 2 * Math.min(days[i]!, days[j]!) + slope ** 2 * days[i]! * days[j]! + lot ** 2 * Math.min(levels[i]!, levels[j]!)
  const n = checks.length
  const V = checks.map((check, i) => checks.map((_, j) => covariance(i, j) + (i === j ? check.u ** 2 : 0)))
  const I = math.inv(V)
  const dot = (a: readonly number[], c: readonly number[]): number => a.reduce((sum, x, i) => sum + x * c[i]!, 0)
  const times = (v: readonly number[]): number[] => I.map((row) => dot(row, v))
  const ones = checks.map(() => 1)
  const y = checks.map(({ value }) => value)
  const a = dot(ones, times(ones))
  const mean = dot(ones, times(y)) / a
  const e = y.map((value) => value - mean)
  const k = checks.map((_, i) => covariance(i, n))
  return {
    value: mean + dot(k, times(e)),
    variance: covariance(n, n) - dot(k, times(k)) + (1 - dot(ones, times(k))) ** 2 / a,
    logLikelihood: -0.5 * (Math.log(math.det(V)) + Math.log(a) + dot(e, times(e))),
  }
}

it('is what the whole covariance says, with lots, gaps and drift', () => {
  const rate = fc.double({ min: 0, max: 2, noNaN: true })
  const checks = fc.array(
    fc.record({
      gap: fc.double({ min: 0, max: 20, noNaN: true }),
      value: fc.double({ min: -5, max: 5, noNaN: true }),
      u: fc.double({ min: 0.3, max: 3, noNaN: true }),
      lot: fc.constantFrom('a', 'b', 'c', undefined),
    }),
    { minLength: 1, maxLength: 7 },
  )
  fc.assert(
    fc.property(checks, rate, rate, rate, fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 2 }), (drawn, ...more) => {
      const [walk, lot, slope, ahead, lots] = more
      const rates = { walk, lot, slope }
      let day = 100
      const dated = drawn.map(({ gap, ...check }) => {
        day += gap
        return { ...check, day }
      })
      const level = followLevel(dated, rates)
      const matrix = byMatrix(dated, rates, ahead, lots)
      const then = levelAhead(level, rates, ahead, lots)
      const near = (x: number, y: number): void => expect(Math.abs(x - y)).toBeLessThan(1e-6 * (1 + Math.abs(y)))
      near(then.value, matrix.value)
      near(then.variance, matrix.variance)
      near(level.logLikelihood, matrix.logLikelihood)
    }),
    { numRuns: runs(300) },
  )
})

it('loses nothing where there are hundreds of checks', () => {
  const checks = Array.from({ length: 400 }, (_, i) => ({ day: i, value: 1e-9 * (i % 3), u: 1e-9 }))
  const rates = { walk: 1e-10, lot: 0, slope: 0 }
  const scaled = followLevel(
    checks.map((check) => ({ ...check, value: check.value * 1e9, u: 1 })),
    { ...rates, walk: 0.1 },
  )
  expect(followLevel(checks, rates).logLikelihood).toBeCloseTo(scaled.logLikelihood + 399 * Math.log(1e9), 6)
})

describe('the probability of lying beyond limits', () => {
  // ISO 14253-1 and ILAC-G8:09/2019, table 1 (from memory): a value that is accepted up to a guard band w inside one limit, U = 2u.
  it.each([
    ['no guard band: up to half', 0, 0.5],
    ['0.83 U: below 5 %', 0.83, 0.05],
    ['U: below 2.5 %', 1, 0.025],
    ['1.5 U: below 0.16 %', 1.5, 0.0016],
    ['3 U: below 1 ppm', 3, 1e-6],
  ])('%s', (_, band, bound) => {
    const u = 0.01
    const risk = riskBeyond(1 - band * 2 * u, u * u, 1)
    expect(risk).toBeLessThanOrEqual(bound)
    expect(risk).toBe(riskBeyond(-(1 - band * 2 * u), u * u, 1))
  })

  it('counts both sides, and never more than all', () => {
    expect(riskBeyond(0, 1, 1.959963985)).toBeCloseTo(0.05, 9)
    expect(riskBeyond(0, 1e18, 1)).toBeCloseTo(1, 8)
    expect(riskBeyond(5, 1, 1)).toBeCloseTo(normalCdf(4) + normalCdf(-6), 12)
  })
})
