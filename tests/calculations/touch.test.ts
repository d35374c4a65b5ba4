// Burn thresholds by the time of touch: no single temperature is "the limit".
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { burnsFrom, burnThreshold, TOUCH_SOURCE, type TouchedSurface, touchRisk } from '../../server/src/calc/touch.ts'
import { answer, withstand } from './hostile.ts'

const SURFACES: TouchedSurface[] = ['metal', 'ceramic', 'plastic', 'wood']
const metal = (contact: number) => answer(burnThreshold({ contact, surface: 'metal' }))

describe('burn thresholds', () => {
  // ISO 13732-1:2006 (from memory; EN 563:1994, tables of burn thresholds, gave the same numbers for 1 min and more): degC where burns begin and
  // where they are to be expected, after 0.5 s, 1 s, 10 s, 1 min, 10 min and 8 h.
  it.each([
    ['metal', [67, 73], [65, 70], [55, 57], [51, 51], [48, 48], [43, 43]],
    ['ceramic', [84, 90], [80, 86], [66, 70], [56, 56], [48, 48], [43, 43]],
    ['plastic', [91, 99], [85, 93], [71, 77], [60, 60], [48, 48], [43, 43]],
    ['wood', [128, 155], [115, 140], [88, 93], [60, 60], [48, 48], [43, 43]],
  ] as const)('of %s, time by time', (surface, ...row) => {
    const times = [0.5, 1, 10, 60, 600, 28_800]
    for (const [i, [low, high]] of row.entries())
      expect(answer(burnThreshold({ contact: times[i]!, surface }))).toMatchObject({ low, high })
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

  it('tells no time at which the surface is still below the threshold, nor a later one than need be', () => {
    fc.assert(
      fc.property(fc.double({ min: 43, max: 127, noNaN: true }), fc.constantFrom(...SURFACES), (temperature, surface) => {
        const contact = answer(burnsFrom({ temperature, surface }))!
        const { low } = answer(burnThreshold({ contact, surface }))
        expect(low).toBeLessThanOrEqual(temperature + 1e-6)
        if (contact > 0.5) expect(low).toBeGreaterThanOrEqual(temperature - 1e-6)
      }),
    )
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
    const { low, high } = metal(contact)
    expect(temperature).toBeGreaterThan(low - 3)
    expect(temperature).toBeLessThan(high + 3)
  })

  it('is no one number: 51 °C is the threshold of a minute, not a limit', () => {
    const at51 = (contact: number) => answer(touchRisk({ temperature: 51, contact, surface: 'metal' })).verdict
    expect(at51(1)).toBe('no-burn')
    expect(at51(60)).toBe('burns')
    expect(at51(600)).toBe('burns')
    // EN 563 figure 2: bare metal at 70 degC burns when touched for longer than a second; between, it is uncertain.
    expect(answer(touchRisk({ temperature: 70, contact: 1, surface: 'metal' })).verdict).toBe('burns')
    expect(answer(touchRisk({ temperature: 70, contact: 0.5, surface: 'metal' })).verdict).toBe('may-burn')
    expect(answer(touchRisk({ temperature: { low: 40, typical: 45, high: 52 }, contact: 60, surface: 'metal' })).verdict).toBe(
      'burns',
    )
    expect(TOUCH_SOURCE).toMatch(/ISO 13732-1:2006 .*sets no limits/)
  })

  it('never rises with the time of touch', () => {
    const time = fc.double({ min: 0.5, max: 1e5, noNaN: true })
    fc.assert(
      fc.property(time, time, fc.constantFrom(...SURFACES), (a, b, surface) => {
        const [brief, long] = [Math.min(a, b), Math.max(a, b)].map((contact) => answer(burnThreshold({ contact, surface })))
        return long!.low <= brief!.low + 1e-9 && long!.high <= brief!.high + 1e-9 && long!.low <= long!.high
      }),
    )
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  expect(withstand(burnThreshold, { contact: 1, surface: 'metal' as const })).toEqual(['contact'])
  expect(withstand(touchRisk, { temperature: 45, contact: 1, surface: 'metal' as const })).toEqual(['contact', 'temperature'])
  expect(withstand(burnsFrom, { temperature: 45, surface: 'metal' as const })).toEqual(['temperature'])
  expect(burnsFrom({ temperature: 45, surface: 'jelly' as TouchedSurface })).toMatchObject({ problem: { input: 'surface' } })
  expect(burnThreshold({ contact: 1, surface: 'jelly' as TouchedSurface })).toMatchObject({ problem: { input: 'surface' } })
})
