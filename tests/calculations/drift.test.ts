// Drift of a correction: whether it is real, where it goes, and when the tolerance is used up.
import fc from 'fast-check'
import { linearRegression } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { driftOf, predictDrift, toleranceReached } from '../../server/src/calc/drift.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'

// Corrections in percent against metres run; expected values from SciPy's linregress and t.
const metres = [0, 10, 20, 30, 40, 50]
const percent = [0.1, 0.11, 0.135, 0.14, 0.165, 0.17]
const points = metres.map((at, i) => ({ at, value: percent[i]! / 100 }))
const drift = must(driftOf({ points }))

describe('a correction that drifts', () => {
  it('has slope 0.001485714 %/m, t = 11.325 against 2.776: real', () => {
    expect(drift.slope * 100).toBeCloseTo(0.001485714, 9)
    expect(drift.slope).toBeCloseTo(linearRegression(points.map((p) => [p.at, p.value])).m, 15)
    expect(drift.line.intercept * 100).toBeCloseTo(0.09952381, 8)
    expect(drift.line.residualSd * 100).toBeCloseTo(0.005488082, 8)
    expect(drift.t).toBeCloseTo(11.325, 3)
    expect(drift.tCritical).toBeCloseTo(2.776, 3)
    expect(drift.real).toBe(true)
  })

  it.each([
    [60, 0.188667, 0.020818, 0.014185],
    [100, 0.248095, 0.031893, undefined],
  ])('is predicted at %d m with the interval of the next check, not of the line', (at, value, next, line) => {
    const p = must(predictDrift({ drift, at }))
    expect(p.y * 100).toBeCloseTo(value, 6)
    expect(p.nextInterval * 100).toBeCloseTo(next, 6)
    if (line !== undefined) expect(p.lineInterval * 100).toBeCloseTo(line, 6)
    expect(p.extrapolated).toBe(true)
  })

  it('uses up a tolerance where its line, and earlier its prediction interval, leaves it', () => {
    const applied = 0.0017
    const tolerance = 0.0005
    const { expected, earliest } = must(toleranceReached({ drift, applied, tolerance, from: 50 }))
    const at = (x: number) => must(predictDrift({ drift, at: x }))
    expect(at(expected!).y - applied).toBeCloseTo(tolerance, 12)
    expect(at(earliest!).y + at(earliest!).nextInterval - applied).toBeCloseTo(tolerance, 12)
    expect(earliest!).toBeLessThan(expected!)
    expect(earliest!).toBeGreaterThan(50)
    // Nowhere before is it outside.
    for (let x = 50; x < earliest!; x += 0.1) expect(at(x).y + at(x).nextInterval - applied).toBeLessThan(tolerance)
  })

  it('has used it up already where it has', () => {
    expect(must(toleranceReached({ drift, applied: 0, tolerance: 0.0005, from: 50 }))).toEqual({ expected: 50, earliest: 50 })
  })

  it('falls out at the lower end when it falls', () => {
    const falling = must(driftOf({ points: points.map((p) => ({ at: p.at, value: -p.value })) }))
    const up = must(toleranceReached({ drift, applied: 0.0017, tolerance: 0.0005, from: 50 }))
    const down = must(toleranceReached({ drift: falling, applied: -0.0017, tolerance: 0.0005, from: 50 }))
    expect(down.expected).toBeCloseTo(up.expected!, 9)
    expect(down.earliest).toBeCloseTo(up.earliest!, 9)
  })

  it('is the same in seconds since 1970', () => {
    const dated = must(driftOf({ points: points.map((p) => ({ at: 1.75e9 + p.at * 86400, value: p.value })) }))
    expect(dated.t).toBeCloseTo(drift.t, 6)
    const a = must(toleranceReached({ drift, applied: 0.0017, tolerance: 0.0005, from: 50 }))
    const b = must(toleranceReached({ drift: dated, applied: 0.0017, tolerance: 0.0005, from: 1.75e9 + 50 * 86400 }))
    expect((b.earliest! - 1.75e9) / 86400).toBeCloseTo(a.earliest!, 5)
  })
})

describe('a correction found on several lots', () => {
  // By hand: deviations from the lots' means are (∓1, ∓1.1) and (∓1, ∓1), so the slope is 4.2/4 and four residuals of 0.05 leave s² = 0.01/(4 − 2 − 1).
  const lots = [
    { at: 0, value: 0, group: 'a' },
    { at: 2, value: 2.2, group: 'a' },
    { at: 10, value: 105, group: 'b' },
    { at: 12, value: 107, group: 'b' },
  ]

  it('has the slope within the lots, whatever step lies between them', () => {
    const found = must(driftOf({ points: lots }))
    expect(found.slope).toBeCloseTo(1.05, 12)
    expect(found.line).toMatchObject({ nu: 1, n: 2, xMean: 11, yMean: 106 })
    expect(found.line.residualSd).toBeCloseTo(0.1, 12)
    expect(found.uSlope).toBeCloseTo(0.05, 12)
    expect([found.first, found.last]).toEqual([0, 12])
  })

  it('is predicted at the level of the newest lot, whose own checks alone know it', () => {
    const found = must(driftOf({ points: [...lots].reverse() }))
    const next = must(predictDrift({ drift: found, at: 11 }))
    expect(next.y).toBeCloseTo(106, 12)
    expect(next.uLine).toBeCloseTo(0.1 / Math.sqrt(2), 12)
  })

  it('takes the newest lot for the last of the points at the latest place', () => {
    const mean = (order: readonly number[]) => must(driftOf({ points: order.map((i) => lots[i]!) })).line.yMean
    expect([mean([3, 0, 1, 2]), mean([0, 3, 1, 2])]).toEqual([106, 106])
    const tied = [...lots, { at: 12, value: 2.5, group: 'a' }]
    expect(must(driftOf({ points: tied })).line.n).toBe(3)
    expect(must(driftOf({ points: tied.slice(-1).concat(lots) })).line.n).toBe(2)
  })

  // Frisch and Waugh 1933: the common slope is that of the deviations from the means of the lots.
  it('agrees with a regression of the deviations from the means', () => {
    const grouped = points.map((p, i) => ({ at: p.at, value: p.value + (i < 2 ? 0 : 0.5), group: i < 2 ? 'a' : 'b' }))
    const deviations = [grouped.slice(0, 2), grouped.slice(2)].flatMap((list) => {
      const mean = (of: (p: (typeof list)[number]) => number) => list.reduce((sum, p) => sum + of(p), 0) / list.length
      return list.map((p) => [p.at - mean((q) => q.at), p.value - mean((q) => q.value)])
    })
    expect(must(driftOf({ points: grouped })).slope).toBeCloseTo(linearRegression(deviations).m, 12)
  })

  it('cannot be told where every lot but one has a single check', () => {
    const single = lots.slice(0, 3).map((p, i) => ({ ...p, group: `lot ${i}` }))
    expect(refusal(driftOf({ points: single })).input).toBe('points')
  })
})

describe('a correction that does not', () => {
  // R² = 0.81 from three points looks like drift, but t = 2.08 against t(1) = 12.7 says nothing.
  it('is not called drift for a high R²', () => {
    const few = must(driftOf({ points: [0, 1, 2].map((at, i) => ({ at, value: [0.001, 0.0019, 0.002][i]! })) }))
    expect(few.line.rSquared).toBeGreaterThan(0.8)
    expect(few.real).toBe(false)
  })

  it('never moves when every check says the same', () => {
    const level = must(driftOf({ points: metres.map((at) => ({ at, value: 0.1 + 0.2 })) }))
    expect(level).toMatchObject({ t: 0, real: false })
    expect(must(toleranceReached({ drift: level, applied: 0.3, tolerance: 0.001, from: 50 })).earliest).toBeUndefined()
  })

  it('never moves by the rounding of its numbers alone', () => {
    const rounded = [300, 300, 300 + 6e-14, 300 + 6e-14].map((value, at) => ({ at, value }))
    expect(must(driftOf({ points: rounded }))).toMatchObject({ t: 0, real: false })
  })

  it('leaves the tolerance where its band widens beyond it, if there is a band', () => {
    // Level by hand: the deviations of y are those of an even function about the mean of x.
    const scattered = must(driftOf({ points: [1, 2, 2, 1].map((value, at) => ({ at, value })) }))
    expect(scattered.slope).toBe(0)
    const { expected, earliest } = must(toleranceReached({ drift: scattered, applied: 1.5, tolerance: 10, from: 0 }))
    expect(expected).toBeUndefined()
    expect(must(predictDrift({ drift: scattered, at: earliest! })).nextInterval).toBeCloseTo(10, 9)
    const level = must(driftOf({ points: metres.map((at) => ({ at, value: 1 })) }))
    const reached = must(toleranceReached({ drift: level, applied: 1, tolerance: 1, from: 0 }))
    expect(reached).toEqual({ expected: undefined, earliest: undefined })
  })

  it('leaves the tolerance at one place where every point lies on its line', () => {
    const exact = must(driftOf({ points: [0, 1, 2].map((at) => ({ at, value: at })) }))
    expect(exact.line.residualSd).toBe(0)
    // By hand: 1 above nothing at 1, the middle of the points; 2 above at 2.
    for (const tolerance of [1, 2])
      expect(must(toleranceReached({ drift: exact, applied: 0, tolerance, from: 0 }))).toEqual({
        expected: tolerance,
        earliest: tolerance,
      })
  })

  it('refuses what says nothing about drift', () => {
    expect(refusal(driftOf({ points: points.slice(0, 2) })).input).toBe('points')
    expect(refusal(driftOf({ points: points.map((p) => ({ ...p, at: 7 })) })).input).toBe('points')
    expect(refusal(driftOf({ points: [] })).input).toBe('points')
    for (const coverage of [0, 1]) expect(refusal(driftOf({ points, coverage })).input).toBe('coverage')
    expect(refusal(toleranceReached({ drift, applied: 0, tolerance: 0, from: 0 })).input).toBe('tolerance')
  })
})

it('never gives NaN', () => {
  fc.assert(
    fc.property(
      fc.array(fc.record({ at: fc.double(), value: fc.double() }), { maxLength: 6 }),
      fc.double(),
      fc.double(),
      fc.double(),
      (list, a, b, c) => {
        const found = driftOf({ points: list })
        if (!found.ok) return
        expect(numbersIn(found.value).some(Number.isNaN)).toBe(false)
        const reached = toleranceReached({ drift: found.value, applied: a, tolerance: b, from: c })
        if (reached.ok) expect(numbersIn(reached.value).every(Number.isFinite)).toBe(true)
      },
    ),
    { numRuns: runs(500) },
  )
})
