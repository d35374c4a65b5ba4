// Time to winding against time to touch-dry, and the pause that makes them meet.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { dryingMargin, HALVING_STEP, pauseToDry, timeToTouchDry, timeToWinding } from '../../server/src/calc/drying.ts'
import { saturationPressure } from '../../server/src/calc/room.ts'
import { answer, withstand } from './hostile.ts'

const path = { pathToWinding: 1, advance: 0.004, passTime: 2 }

describe('time to winding', () => {
  it('is path / web speed, and a pause for each pass on the way', () => {
    // By hand: 250 passes of 4 mm for 1 m, 2 s each: 500 s; a pause of 1 s adds 250 s, not 1 s for each pass of the mode.
    const found = answer(timeToWinding({ ...path, pause: 1, runOut: 60 }))
    expect(found).toEqual({ passes: 250, travel: 500, pauses: 250, runOut: 60, running: 750, total: 810 })
    expect(answer(timeToWinding(path)).running).toBe(500)
  })

  it('is what the throughput table says of a zone 0.30 m long', () => {
    // Independent computation: 8 passes, advance 3.175 mm, 2.2 s a pass: 207.9 s; turning at a 0.6 m image, 1.2 s: 113.4 s.
    const zone = (passTime: number) => answer(timeToWinding({ pathToWinding: 0.3, advance: 0.003175, passTime })).travel
    expect(zone(2.2)).toBeCloseTo(207.9, 1)
    expect(zone(1.2)).toBeCloseTo(113.4, 1)
  })
})

describe('time to touch-dry', () => {
  it('is the stated time at the stated temperature, halved by some 10 K more', () => {
    expect(answer(timeToTouchDry({ time: 600, at: 40, temperature: 40 }))).toEqual({
      time: { low: 600, typical: 600, high: 600 },
      stretched: false,
    })
    const warmer = answer(timeToTouchDry({ time: 600, at: 40, temperature: 50 })).time
    expect(warmer.typical).toBe(300)
    expect(warmer.low).toBeCloseTo(600 / 2 ** (10 / 8), 9)
    expect(warmer.high).toBeCloseTo(600 / 2 ** (10 / 15), 9)
    const cooler = answer(timeToTouchDry({ time: 600, at: 40, temperature: 23 }))
    expect(cooler.time.typical).toBeCloseTo(600 * 2 ** 1.7, 9)
    expect(cooler.stretched).toBe(false)
    expect(answer(timeToTouchDry({ time: 600, at: 70, temperature: 40 })).stretched).toBe(true)
  })

  it('has a step that agrees with how water evaporates', () => {
    // ASHRAE saturation pressure: the warming that doubles it, at 15 to 45 °C.
    for (const t of [15, 25, 35, 45]) {
      const at = (temperature: number) => answer(saturationPressure({ temperature }))
      const doubling = (Math.LN2 * 2) / Math.log(at(t + 1) / at(t - 1))
      expect(doubling).toBeGreaterThan(HALVING_STEP.low)
      expect(doubling).toBeLessThan(HALVING_STEP.high)
    }
  })

  it('never rises with the temperature', () => {
    const degrees = fc.double({ min: 10, max: 90, noNaN: true })
    fc.assert(
      fc.property(degrees, degrees, (a, b) => {
        const dry = (temperature: number) => answer(timeToTouchDry({ time: 600, at: 40, temperature })).time
        return dry(Math.max(a, b)).typical <= dry(Math.min(a, b)).typical
      }),
    )
  })
})

describe('margin', () => {
  it('is dry, wet, or unknown where the ranges overlap', () => {
    const needed = { low: 200, typical: 300, high: 450 }
    expect(answer(dryingMargin({ available: 500, needed }))).toEqual({
      margin: { low: 50, typical: 200, high: 300 },
      ratio: { low: 500 / 450, typical: 500 / 300, high: 2.5 },
      verdict: 'dry',
    })
    expect(answer(dryingMargin({ available: 320, needed })).verdict).toBe('uncertain')
    expect(answer(dryingMargin({ available: 100, needed })).verdict).toBe('wet')
  })

  it('is closed by the pause that is told', () => {
    const time = fc.double({ min: 1, max: 5000, noNaN: true })
    fc.assert(
      fc.property(time, (needed) => {
        const pause = answer(pauseToDry({ ...path, needed })).typical
        const there = answer(timeToWinding({ ...path, pause })).running
        return Math.abs(there - Math.max(500, needed)) < 1e-6
      }),
    )
    expect(answer(pauseToDry({ ...path, needed: 300 })).typical).toBe(0)
    expect(answer(pauseToDry({ ...path, needed: { low: 400, typical: 750, high: 1000 } }))).toEqual({
      low: 0,
      typical: 1,
      high: 2,
    })
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  expect(withstand(timeToWinding, { ...path, pause: 1, runOut: 60 })).toEqual([
    'advance',
    'passTime',
    'pathToWinding',
    'pause',
    'runOut',
  ])
  expect(withstand(timeToTouchDry, { time: 600, at: 40, temperature: 50, halving: { low: 8, typical: 10, high: 15 } })).toEqual([
    'at',
    'halving',
    'temperature',
    'time',
  ])
  expect(withstand(dryingMargin, { available: 500, needed: { low: 200, typical: 300, high: 450 } })).toEqual([
    'available',
    'needed',
  ])
  expect(withstand(pauseToDry, { ...path, needed: 300 })).toEqual(['advance', 'needed', 'passTime', 'pathToWinding'])
})
