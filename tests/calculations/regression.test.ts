// Straight lines against certified data, the GUM's calibration line and three libraries.
import fc from 'fast-check'
import jstat from 'jstat'
import { SimpleLinearRegression } from 'ml-regression-simple-linear'
import { linearRegression, rSquared } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { fitParallelLines, fitThroughOrigin, predict } from '../../server/src/calc/regression.ts'
import { upperQuantile } from '../../server/src/calc/student-t.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'

/** One group: the plain least-squares line. */
const fitLine = (points: { x: readonly number[]; y: readonly number[] }) =>
  fitParallelLines({ ...points, group: points.x.map(() => 'all'), of: 'all' })
const relative = (value: number, certified: number) => Math.abs(value / certified - 1)

// NIST StRD Norris: 36 pairs y x.
const norris =
  '0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5; 668.5 666.3; 998.5 996.3; 449.1 448.6; 778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5; 668.8 666.9; 339.3 338.0; 448.9 447.5; 10.8 11.6; 557.7 556.0; 228.3 228.1; 998.0 995.8; 888.8 887.6; 119.6 120.2; 0.3 0.3; 0.6 0.3; 557.6 556.8; 339.3 339.1; 888.0 887.2; 998.5 999.0; 778.9 779.0; 10.2 11.1; 117.6 118.3; 228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5'
    .split(';')
    .map((pair) => pair.trim().split(' ').map(Number))
const x = norris.map(([, xi]) => xi!)
const y = norris.map(([yi]) => yi!)

describe('NIST StRD Norris', () => {
  const line = must(fitLine({ x, y }))

  it('reproduces the certified values', () => {
    expect(relative(line.intercept, -0.262323073774029)).toBeLessThan(1e-11)
    expect(relative(line.uIntercept, 0.232818234301152)).toBeLessThan(1e-11)
    expect(relative(line.slope, 1.00211681802045)).toBeLessThan(1e-14)
    expect(relative(line.uSlope, 0.429796848199937e-3)).toBeLessThan(1e-11)
    expect(relative(line.residualSd, 0.884796396144373)).toBeLessThan(1e-11)
    expect(relative(line.rSquared, 0.999993745883712)).toBeLessThan(1e-14)
    expect(line.nu).toBe(34)
    // Certified F = t² of the slope.
    expect(relative((line.slope / line.uSlope) ** 2, 5436385.54079785)).toBeLessThan(1e-11)
  })

  it('agrees with simple-statistics, ml-regression and jstat', () => {
    const simple = linearRegression(x.map((xi, i) => [xi, y[i]!]))
    const ml = new SimpleLinearRegression(x, y)
    const ols = jstat.models.ols(
      y,
      x.map((xi) => [1, xi]),
    )
    for (const slope of [simple.m, ml.slope, ols.coef[1]!]) expect(relative(line.slope, slope)).toBeLessThan(1e-11)
    for (const intercept of [simple.b, ml.intercept, ols.coef[0]!]) expect(relative(line.intercept, intercept)).toBeLessThan(1e-9)
    expect(relative(line.uSlope, ols.t.se[1]!)).toBeLessThan(1e-9)
    expect(line.rSquared).toBeCloseTo(
      rSquared(
        x.map((xi, i) => [xi, y[i]!]),
        (xi) => line.intercept + line.slope * xi,
      ),
      12,
    )
  })

  // Computed at 40 digits from the certified values; t0.975(34) = 2.0322445093. Columns: x, y, u line, u next, ± line, ± next.
  it.each([
    [0, -0.262323073774, 0.2328182343, 0.9149147462, 0.4731435783, 1.85933047],
    [500, 500.796085936, 0.1515021758, 0.8976734216, 0.3078894649, 1.824291882],
    [1000, 1001.85449495, 0.2899381894, 0.9310901226, 0.5892252935, 1.892202789],
  ])('predicts at %d', (at, value, uLine, uNext, lineInterval, nextInterval) => {
    const p = must(predict({ line, x: at }))
    expect(relative(p.y, value)).toBeLessThan(1e-9)
    expect(relative(p.uLine, uLine)).toBeLessThan(1e-9)
    expect(relative(p.uNext, uNext)).toBeLessThan(1e-9)
    expect(relative(p.lineInterval, lineInterval)).toBeLessThan(1e-9)
    expect(relative(p.nextInterval, nextInterval)).toBeLessThan(1e-9)
  })

  // The misuse: the band of the line as tolerance for the next print. Its "1 +" is missing, and it is four times too narrow here.
  it('keeps the next point apart from the line', () => {
    const p = must(predict({ line, x: 0 }))
    expect(p.uNext ** 2).toBeCloseTo(p.uLine ** 2 + line.residualSd ** 2, 12)
    const covered = x.filter((xi, i) => {
      const here = must(predict({ line, x: xi }))
      return Math.abs(y[i]! - here.y) <= here.nextInterval
    })
    expect(covered.length / x.length).toBeGreaterThan(0.9)
  })
})

// NASA-HDBK-8739.19-5, chapter 7: a drift through the origin, of first and second order in the days since the instrument was set. Two variables by one at a time
// (Frisch and Waugh 1933): the second order is the slope of what the first leaves of the drift against what it leaves of the square.
describe('the drift of NASA-HDBK-8739.19-5, chapter 7', () => {
  const t = [70, 86, 104, 135, 167, 173]
  const drift = [0.1, 0.11, 0.251, 0.299, 0.403, 0.615]
  const square = t.map((ti) => ti * ti)
  const [first, mixed] = [must(fitThroughOrigin({ x: t, y: drift })), must(fitThroughOrigin({ x: t, y: square }))]
  const left = t.map((ti, i) => square[i]! - mixed.slope * ti)
  const second = must(fitThroughOrigin({ x: left, y: t.map((ti, i) => drift[i]! - first.slope * ti) }))
  // One more slope than the fit knows of: n − 2 degrees of freedom.
  const nu = t.length - 2
  const s = second.residualSd * Math.sqrt(second.nu / nu)
  const uFirst = s / Math.hypot(...t)
  const uSecond = s / Math.hypot(...left)
  const [linear, quadratic] = [first.slope - mixed.slope * second.slope, second.slope]
  /** What was set to 10.03 with u 0.28, a test later: its own scatter with it. */
  const at = (day: number) => {
    const far = day * day - mixed.slope * day
    return { value: 10.03 + linear * day + quadratic * day * day, u: Math.hypot(0.28, uFirst * day, uSecond * far, s) }
  }

  it('has the coefficients, the scatter and the covariances that are printed', () => {
    expect(linear).toBeCloseTo(0.00015741, 8)
    expect(quadratic).toBeCloseTo(0.00001674, 8)
    expect(s).toBeCloseTo(0.0708, 4)
    expect(uSecond ** 2).toBeCloseTo(4.549e-11, 14)
    expect(-mixed.slope * uSecond ** 2).toBeCloseTo(-6.607e-9, 12)
    expect(uFirst ** 2 + (mixed.slope * uSecond) ** 2).toBeCloseTo(1.01e-6, 8)
  })

  it('is out of what is allowed on the days that are printed', () => {
    expect(at(327.15).u).toBeCloseTo(0.5, 4)
    const upper = (day: number, tail: number) => at(day).value + upperQuantile(tail, nu) * at(day).u
    expect(upper(171.75, 0.1)).toBeCloseTo(11, 3)
    expect(upper(140.1, 0.05)).toBeCloseTo(11, 3)
    // The wrong form: the band of the line, without the scatter of the next test, would allow two days more.
    expect(at(171.75).value + upperQuantile(0.1, nu) * Math.sqrt(at(171.75).u ** 2 - s * s)).toBeLessThan(10.99)
  })
})

// GUM (JCGM 100:2008) H.3, calibration of a thermometer, Table H.6; deviations from t0 = 20 degC.
describe('GUM H.3', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511].map((ti) => ti - 20)
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const line = must(fitLine({ x: t, y: b }))

  it('gives y1 = -0.1712 ± 0.0029, y2 = 0.00218 ± 0.00067, r = -0.930, s = 0.0035', () => {
    expect(line.intercept).toBeCloseTo(-0.17120379, 8)
    expect(line.uIntercept).toBeCloseTo(0.002877598, 8)
    expect(line.slope).toBeCloseTo(0.002182698, 8)
    expect(line.uSlope).toBeCloseTo(0.000667939, 8)
    expect(line.correlation).toBeCloseTo(-0.93043, 5)
    expect(line.residualSd).toBeCloseTo(0.003497564, 8)
    expect(line.nu).toBe(9)
  })

  // Without the covariance of slope and intercept u would be √(0.00288² + 0.00668²) = 0.0073, wrong by 76 %.
  it('extrapolates to 30 degC with the covariance: -0.1494 ± 0.0041', () => {
    const p = must(predict({ line, x: 10 }))
    expect(p.y).toBeCloseTo(-0.149376813, 8)
    expect(p.uLine).toBeCloseTo(0.004138596, 8)
    const { uIntercept: u1, uSlope: u2, correlation: r } = line
    expect(p.uLine).toBeCloseTo(Math.sqrt(u1 ** 2 + (10 * u2) ** 2 + 2 * 10 * r * u1 * u2), 12)
  })
})

describe('through the origin', () => {
  // NIST StRD NoInt1; the residual standard deviation 3.56753034006338 from memory, reproduced.
  it('reproduces NoInt1', () => {
    const ray = must(
      fitThroughOrigin({
        x: [60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70],
        y: [130, 131, 132, 133, 134, 135, 136, 137, 138, 139, 140],
      }),
    )
    expect(relative(ray.slope, 2.07438016528926)).toBeLessThan(1e-13)
    expect(relative(ray.uSlope, 0.0165289256198347)).toBeLessThan(1e-12)
    expect(relative(ray.residualSd, 3.56753034006338)).toBeLessThan(1e-12)
    expect(ray.nu).toBe(10)
  })

  // NIST StRD NoInt2; the residual standard deviation 0.369274472937998 from memory, reproduced.
  it('reproduces NoInt2', () => {
    const ray = must(fitThroughOrigin({ x: [4, 5, 6], y: [3, 4, 4] }))
    expect(relative(ray.slope, 0.727272727272727)).toBeLessThan(1e-13)
    expect(relative(ray.uSlope, 0.0420827318078432)).toBeLessThan(1e-12)
    expect(relative(ray.residualSd, 0.369274472937998)).toBeLessThan(1e-12)
  })
})

describe('any points', () => {
  const point = fc.tuple(fc.double(), fc.double())

  it('give finite numbers or a refusal that names an input', () => {
    fc.assert(
      fc.property(fc.array(point, { maxLength: 8 }), fc.double(), (points, at) => {
        const lists = { x: points.map(([a]) => a), y: points.map(([, c]) => c) }
        const line = fitLine(lists)
        const ray = fitThroughOrigin(lists)
        for (const result of [line, ray]) {
          if (result.ok) expect(numbersIn(result.value).every(Number.isFinite)).toBe(true)
          else expect(['x', 'y']).toContain(result.problem.input)
        }
        if (!line.ok) return
        const p = predict({ line: line.value, x: at })
        if (p.ok) expect(numbersIn(p.value).every(Number.isFinite)).toBe(true)
      }),
      { numRuns: runs(500) },
    )
  })

  it('give the same line whatever the origin and unit of x', () => {
    const line = must(fitLine({ x, y }))
    // Seconds since 1970, a day for each unit of x.
    const moved = must(fitLine({ x: x.map((xi) => 1.75e9 + xi * 86400), y }))
    expect(relative(moved.slope * 86400, line.slope)).toBeLessThan(1e-9)
    expect(relative(moved.uSlope * 86400, line.uSlope)).toBeLessThan(1e-9)
    const [a, b] = [must(predict({ line, x: 500 })), must(predict({ line: moved, x: 1.75e9 + 500 * 86400 }))]
    expect(relative(b.nextInterval, a.nextInterval)).toBeLessThan(1e-9)
  })

  it('refuses what no line can go through', () => {
    expect(refusal(fitLine({ x: [1, 2], y: [1, 2] })).reason).toContain('at least 3 points')
    expect(refusal(fitLine({ x: [1, 1, 1], y: [1, 2, 3] }))).toMatchObject({
      input: 'x',
      reason: expect.stringContaining('slope'),
    })
    expect(refusal(fitLine({ x: [1, 2, 3], y: [1, 2] })).input).toBe('y')
    const level = refusal(fitThroughOrigin({ x: [0, 0], y: [1, 2] }))
    expect(level).toMatchObject({ input: 'x', reason: expect.stringContaining('slope') })
    const none = fitParallelLines({ x: [1, 2, 3], y: [1, 2, 3], group: ['a', 'a', 'a'], of: 'b' })
    expect(refusal(none)).toEqual({ input: 'x', reason: 'there is no point in one of the groups' })
    const many = fitParallelLines({ x: [1, 2, 3], y: [1, 2, 3], group: ['a', 'a', 'b'], of: 'b' })
    expect(refusal(many)).toEqual({ input: 'x', reason: 'there are too few points for so many groups' })
  })

  it('refuses to tell what lies at no place, or at a coverage that is none', () => {
    const line = must(fitLine({ x, y }))
    expect(refusal(predict({ line, x: Number.NaN })).input).toBe('x')
    for (const coverage of [0, 1]) expect(refusal(predict({ line, x: 1, coverage })).input).toBe('coverage')
  })
})
