// Burn thresholds by the time of touch: no single temperature is "the limit".
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { burnThreshold, TOUCH_SOURCE, type TouchedSurface, touchRisk } from '../../server/src/calc/touch.ts'
import { answer, withstand } from './hostile.ts'

const SURFACES: TouchedSurface[] = ['metal', 'ceramic', 'plastic', 'wood']
const metal = (contact: number) => answer(burnThreshold({ contact, surface: 'metal' }))

describe('burn thresholds', () => {
  it.each([
    // ISO 13732-1:2006 (from memory; EN 563 gave the same numbers): s, surface, degC.
    [1, 'metal', 65, 70],
    [10, 'metal', 55, 57],
    [60, 'metal', 51, 51],
    [60, 'plastic', 60, 60],
    [600, 'wood', 48, 48],
    [28_800, 'ceramic', 43, 43],
    [0.5, 'plastic', 91, 99],
  ] as const)('for %d s on %s', (contact, surface, low, high) => {
    expect(answer(burnThreshold({ contact, surface }))).toMatchObject({ low, high })
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
  expect(burnThreshold({ contact: 1, surface: 'jelly' as TouchedSurface })).toMatchObject({ problem: { input: 'surface' } })
})
