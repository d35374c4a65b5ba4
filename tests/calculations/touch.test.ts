// Burn thresholds by the time of touch: no single temperature is "the limit".
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { burnsFrom, TOUCH_SOURCE } from '../../server/src/calc/touch.ts'
import { answer, withstand } from './hostile.ts'

type TouchedSurface = Parameters<typeof burnsFrom>[0]['surface']
const SURFACES: TouchedSurface[] = ['metal', 'ceramic', 'plastic', 'wood']
const metal = (temperature: number) => answer(burnsFrom({ temperature, surface: 'metal' }))

describe('burn thresholds', () => {
  // ISO 13732-1:2006 (from memory; EN 563:1994, tables of burn thresholds, gave the same numbers for 1 min and more): degC where burns begin
  // after 0.5 s, 1 s, 10 s, 1 min, 10 min and 8 h.
  it.each([
    ['metal', [67, 65, 55, 51, 48, 43]],
    ['ceramic', [84, 80, 66, 56, 48, 43]],
    ['plastic', [91, 85, 71, 60, 48, 43]],
    ['wood', [128, 115, 88, 60, 48, 43]],
  ] as const)('of %s, time by time', (surface, row) => {
    const times = [0.5, 1, 10, 60, 600, 28_800]
    for (const [i, temperature] of row.entries()) expect(answer(burnsFrom({ temperature, surface }))).toBeCloseTo(times[i]!, 9)
  })

  it.each([
    // Along the logarithm of time between two rows of the table: 64 degC is a tenth of the way from 65 degC (1 s) to 55 degC (10 s), so 10^0.1 s.
    [64, 10 ** 0.1],
    [60, 10 ** 0.5],
    [55, 10],
    [54, 10 * 6 ** 0.25],
    [50, 60 * 10 ** (1 / 3)],
    [47, 600 * 48 ** 0.2],
    [43, 28_800],
    [42.9, undefined],
    [20, undefined],
    [150, 0.5],
  ] as const)('metal of %d °C burns from %d s on', (temperature, seconds) => {
    const from = answer(burnsFrom({ temperature, surface: 'metal' }))
    if (seconds === undefined) expect(from).toBeUndefined()
    else expect(from).toBeCloseTo(seconds, 9)
  })

  it.each([
    // A burn institute's table for hot metal: degC and s to a burn (68 about 1, 66 1.5, 63 below 3, 60 below 5, 57 about 10, 55
    // about 30, 52 90 to 120, 49 above 300).
    [68, 1],
    [66, 1.5],
    [63, 3],
    [60, 5],
    [57, 10],
    [55, 30],
    [52, 105],
    [49, 300],
  ])('agrees within 3 K with %d °C for %d s', (temperature, contact) => {
    expect(metal(temperature + 3)).toBeLessThan(contact)
    // What is told is where burns begin, up to 6 K below where they are to be expected, so it may be sooner but hardly later.
    expect(metal(temperature - 9) ?? Number.POSITIVE_INFINITY).toBeGreaterThan(contact)
  })

  it('is no one number: 51 °C burns after a minute, and is no limit', () => {
    expect(metal(51)).toBeCloseTo(60, 9)
    // EN 563 figure 2: bare metal at 70 degC burns when touched for longer than a second.
    expect(metal(70)).toBeLessThanOrEqual(1)
    expect(TOUCH_SOURCE).toMatch(/ISO 13732-1:2006 .*sets no limits/)
  })

  it('never takes longer on a hotter surface', () => {
    const degrees = fc.double({ min: 43, max: 150, noNaN: true })
    fc.assert(
      fc.property(degrees, degrees, fc.constantFrom(...SURFACES), (a, b, surface) => {
        const from = (temperature: number) => answer(burnsFrom({ temperature, surface }))!
        return from(Math.max(a, b)) <= from(Math.min(a, b)) * (1 + 1e-12)
      }),
    )
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  expect(withstand(burnsFrom, { temperature: 45, surface: 'metal' as const })).toEqual(['temperature'])
  expect(burnsFrom({ temperature: 45, surface: 'jelly' as TouchedSurface })).toMatchObject({ problem: { input: 'surface' } })
})
