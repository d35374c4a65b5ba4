// Ranges stay in order and enclose every value their inputs can take.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  asRange,
  combineRanges,
  divideRanges,
  exactly,
  isExact,
  mapRange,
  type Range,
  range,
  rangeProblem,
  subtractRanges,
  within,
} from '../../server/src/calc/range.ts'

const finite = fc.double({ noNaN: true, min: -1e6, max: 1e6 })
const anyRange: fc.Arbitrary<Range> = fc.tuple(finite, finite, finite).map((three) => {
  const [low, typical, high] = three.sort((a, b) => a - b)
  return { low: low!, typical: typical!, high: high! }
})
const inside = (r: Range, part: number) => r.low + part * (r.high - r.low)
const inOrder = (r: Range) => Number.isFinite(r.low) && Number.isFinite(r.high) && r.low <= r.typical && r.typical <= r.high

describe('range', () => {
  it('spreads a value by its uncertainty, and never down to zero', () => {
    expect(within(30, 6)).toEqual({ low: 24, typical: 30, high: 36 })
    expect(within(30)).toEqual(exactly(30))
    expect(within(30, 100)).toEqual({ low: 3, typical: 30, high: 57 })
  })

  it('refuses what is missing, not finite or out of order, and names it', () => {
    expect(range(1, 2, 3)).toEqual({ ok: true, value: { low: 1, typical: 2, high: 3 } })
    expect(range(2, 1, 3).ok).toBe(false)
    expect(range(Number.NaN, 1, 3).ok).toBe(false)
    expect(rangeProblem('coupling', undefined)).toEqual({ input: 'coupling', reason: 'coupling is missing' })
    expect(rangeProblem('coupling', { low: 0, typical: 1, high: 2 }, true)?.reason).toBe('coupling must be above zero')
    expect(rangeProblem('coupling', 3, true)).toBeUndefined()
  })

  it('subtracts, multiplies and divides worked cases', () => {
    // Interval arithmetic by hand: Moore, Kearfott & Cloud, Introduction to Interval Analysis, the endpoint rules of its chapter
    // 2 (from memory).
    const a = { low: -1, typical: 1, high: 2 }
    const b = { low: 3, typical: 4, high: 5 }
    expect(subtractRanges(a, b)).toEqual({ low: -6, typical: -3, high: -1 })
    expect(combineRanges({ a, b }, (v) => v.a * v.b)).toEqual({ low: -5, typical: 4, high: 10 })
    expect(divideRanges(b, { low: 2, typical: 2, high: 4 })).toEqual({ ok: true, value: { low: 0.75, typical: 2, high: 2.5 } })
    expect(divideRanges(b, a, 'stiffness')).toMatchObject({ ok: false, problem: { input: 'stiffness' } })
    for (const end of [
      { low: 0, typical: 1, high: 2 },
      { low: -2, typical: -1, high: 0 },
    ])
      expect(divideRanges(b, end)).toMatchObject({ ok: false, problem: { input: 'divisor' } })
    expect(mapRange(a, (v) => -2 * v)).toEqual({ low: -4, typical: -2, high: 2 })
  })

  it('does not widen when an input occurs twice, as a chain of helpers would', () => {
    const x = { low: 1, typical: 2, high: 4 }
    expect(combineRanges({ x }, (v) => v.x / (v.x + 1))).toEqual({ low: 0.5, typical: 2 / 3, high: 0.8 })
  })

  it('treats a plain number as a range that holds only it', () => {
    expect(asRange(5)).toEqual(exactly(5))
    expect(isExact(asRange(5))).toBe(true)
    expect(isExact({ low: 1, typical: 1, high: 2 })).toBe(false)
  })

  it('keeps order and encloses every value of its inputs', () => {
    const part = fc.double({ noNaN: true, min: 0, max: 1 })
    fc.assert(
      fc.property(anyRange, anyRange, part, part, (a, b, s, t) => {
        const [x, y] = [inside(a, s), inside(b, t)]
        const slack = 1e-9 * (1 + Math.abs(x) + Math.abs(y)) * (1 + Math.abs(y))
        const holds = (r: Range, value: number) => inOrder(r) && r.low - slack <= value && value <= r.high + slack
        const quotient = divideRanges(a, b)
        return (
          holds(subtractRanges(a, b), x - y) &&
          holds(
            combineRanges({ a, b }, (v) => v.a * v.b),
            x * y,
          ) &&
          (!quotient.ok || inOrder(quotient.value)) &&
          holds(
            mapRange(a, (v) => -v),
            -x,
          )
        )
      }),
    )
  })

  it('saturates instead of overflowing', () => {
    const huge = exactly(Number.MAX_VALUE)
    expect(inOrder(combineRanges({ huge }, (v) => v.huge * v.huge))).toBe(true)
    expect(inOrder(subtractRanges(huge, exactly(-Number.MAX_VALUE)))).toBe(true)
  })
})
