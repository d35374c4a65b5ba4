// Contrast sensitivity against its published peak and independently computed values, and what it may not be used for.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandVisibility, feedErrorForShift, mostVisibleDistance, VISIBILITY_CAUTION } from '../../server/src/calc/visibility.ts'
import { answer, withstand } from './hostile.ts'

const seen = (period: number, viewingDistance: number) => answer(bandVisibility({ period, viewingDistance, repeats: 'periodic' }))
/** Relative sensitivity: the rank times its greatest value. A degree of sight covers 2 tan(0.5°) of the distance. */
const mannos = (frequency: number) => seen((2 * Math.tan(Math.PI / 360)) / frequency, 1).rank * 0.98088

describe('Mannos & Sakrison 1974', () => {
  it.each([
    // Independent computation of the published formula.
    [1, 0.31596],
    [2, 0.52797],
    [3, 0.69072],
    [5, 0.89376],
    [8, 0.98078],
    [16, 0.69075],
    [20, 0.50268],
    [30, 0.18698],
    [60, 0.00448],
  ])('at %d cycles per degree', (frequency, value) => {
    expect(mannos(frequency)).toBeCloseTo(value, 5)
  })

  it('peaks at 0.98088 and 7.8909 cycles per degree', () => {
    // Published in open image-quality code (0.9809 and 7.8909).
    expect(mannos(7.8909)).toBeCloseTo(0.98088, 5)
    for (const aside of [-0.2, 0.2]) expect(mannos(7.8909 + aside)).toBeLessThan(0.98088 - 1e-4)
  })
})

describe('bands at a distance', () => {
  it.each([
    // Independent computation: distance mm, then the period in mm of 1, 3, 5, 8, 16, 30, 60 cycles per degree.
    [300, [5.236, 1.745, 1.047, 0.655, 0.327, 0.175, 0.087]],
    [500, [8.727, 2.909, 1.745, 1.091, 0.545, 0.291, 0.145]],
    [1000, [17.454, 5.818, 3.491, 2.182, 1.091, 0.582, 0.291]],
    [2000, [34.907, 11.636, 6.981, 4.363, 2.182, 1.164, 0.582]],
    [5000, [87.269, 29.09, 17.454, 10.909, 5.454, 2.909, 1.454]],
  ])('%d mm away', (millimetre, periods) => {
    const frequencies = [1, 3, 5, 8, 16, 30, 60]
    for (const [i, frequency] of frequencies.entries()) {
      // Half of the last digit printed is the tolerance.
      const period = periods[i]! / 1000
      expect(Math.abs(seen(period, millimetre / 1000).frequency / frequency - 1)).toBeLessThan(0.00055e-3 / period + 1e-5)
    }
  })

  it.each([
    // Independent computation: advance mm, distance m, cycles per degree.
    [25.4, 0.3, 0.21],
    [25.4, 1, 0.69],
    [25.4, 5, 3.44],
    [3.175, 0.3, 1.65],
    [3.175, 1, 5.5],
    [3.175, 5, 27.5],
  ])('an advance of %d mm seen from %d m', (advance, viewingDistance, frequency) => {
    const found = seen(advance / 1000, viewingDistance)
    expect(Math.abs(found.frequency - frequency)).toBeLessThan(0.02)
  })

  it('rank worst near 5 m for few passes and near 1 m for many', () => {
    const rank = (period: number, viewingDistance: number) => seen(period, viewingDistance).rank
    expect(rank(0.0254, 5)).toBeGreaterThan(rank(0.0254, 0.5))
    expect(rank(0.003175, 1)).toBeGreaterThan(rank(0.003175, 0.3))
    expect(rank(0.003175, 1)).toBeGreaterThan(rank(0.003175, 5))
    const worst = answer(mostVisibleDistance({ period: 0.003175 }))
    expect(rank(0.003175, worst)).toBeCloseTo(1, 4)
    expect(worst).toBeGreaterThan(1)
    expect(worst).toBeLessThan(2)
  })

  it('are ranked, not passed or failed: the function is normalised', () => {
    expect(VISIBILITY_CAUTION).toMatch(/ranks bands, it does not pass or fail/)
    fc.assert(
      fc.property(
        fc.double({ min: 1e-5, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        (period, viewingDistance) => {
          const { rank } = answer(bandVisibility({ period, viewingDistance, repeats: 'periodic' }))
          return rank >= 0 && rank <= 1
        },
      ),
    )
  })

  it('keep a single wide line visible, to which the fall-off at low frequency does not apply', () => {
    const rank = (repeats: 'periodic' | 'single') => answer(bandVisibility({ period: 0.1, viewingDistance: 0.5, repeats })).rank
    expect(rank('periodic')).toBeLessThan(0.2)
    expect(rank('single')).toBeCloseTo(1, 4)
    // Too fine a line is lost all the same.
    expect(answer(bandVisibility({ period: 0.0001, viewingDistance: 3, repeats: 'single' })).rank).toBeLessThan(0.01)
  })
})

describe('feed error for a quarter of a pixel', () => {
  it.each([
    // Independent computation: dots per inch, then ppm at an advance of 25.4, 6.35 and 3.175 mm.
    [360, [694, 2778, 5556]],
    [720, [347, 1389, 2778]],
    [1440, [174, 694, 1389]],
  ])('at %d dpi', (dpi, ppm) => {
    for (const [i, millimetre] of [25.4, 6.35, 3.175].entries()) {
      const error = answer(feedErrorForShift({ advance: millimetre / 1000, resolutionAlong: dpi / 0.0254 }))
      expect(Math.round(error * 1e6)).toBe(ppm[i])
    }
  })

  it('grows with the share of a pixel', () => {
    const half = answer(feedErrorForShift({ advance: 0.00635, resolutionAlong: 720 / 0.0254, share: 0.5 }))
    expect(half * 1e6).toBeCloseTo(2777.8, 1)
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  expect(withstand(mostVisibleDistance, { period: 0.003 })).toEqual(['period'])
  expect(withstand(feedErrorForShift, { advance: 0.003, resolutionAlong: 28000, share: 0.25 })).toEqual([
    'advance',
    'resolutionAlong',
    'share',
  ])
  expect(withstand(bandVisibility, { period: 0.003, viewingDistance: 1, repeats: 'periodic' as const })).toEqual([
    'period',
    'viewingDistance',
  ])
})
