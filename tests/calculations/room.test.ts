// The room's air against the ASHRAE tables, two Magnus formulas and Sonntag's, and the misuses that a formula for humidity
// invites.
import vm from 'node:vm'
import { build } from 'esbuild'
import fc from 'fast-check'
import psychrolib from 'psychrolib'
import { describe, expect, it } from 'vitest'
import {
  condensation,
  dewPoint,
  humidityAt,
  STATIC_CAUTION,
  STATIC_HUMIDITY,
  saturationPressure,
  sheetGrowth,
} from '../../server/src/calc/room.ts'
import { answer, withstand } from './hostile.ts'

const saturation = (temperature: number) => answer(saturationPressure({ temperature }))
const dew = (temperature: number, humidity: number) => answer(dewPoint({ temperature, humidity }))
const within = (actual: number, expected: number, relative: number) => Math.abs(actual / expected - 1) <= relative

/**
 * Magnus form. WMO-No. 8 annex 4.B (Sonntag 1990): 611.2, 17.62, 243.12, from -45 to 60 degC. Alduchov & Eskridge 1996: 610.94,
 * 17.625, 243.04.
 */
const magnus = (a: number, b: number, c: number) => (t: number) => a * Math.exp((b * t) / (c + t))
const WMO = [611.2, 17.62, 243.12] as const
const ALDUCHOV = [610.94, 17.625, 243.04] as const
const magnusDew = ([, b, c]: readonly [number, number, number], t: number, humidity: number) => {
  const g = Math.log(humidity) + (b * t) / (c + t)
  return (c * g) / (b - g)
}
/** Sonntag 1990 over water, in Pa, T in K (from memory; reproduces the column printed below). */
const sonntag = (t: number) => {
  const T = t + 273.15
  return 100 * Math.exp(-6096.9385 / T + 16.635794 - 2.711193e-2 * T + 1.673952e-5 * T * T + 2.433502 * Math.log(T))
}

describe('saturation pressure', () => {
  it.each([
    // ASHRAE Handbook of Fundamentals 2017, chapter 1, table 3, as quoted by psychrolib's published test file; tolerance 300 ppm
    // as there.
    [-20, 103.24],
    [-5, 401.74],
    [5, 872.6],
    [25, 3169.7],
    [50, 12351.3],
    [100, 101418.0],
    [150, 476101.4],
  ])('is the table value at %d °C', (t, pascal) => {
    expect(within(saturation(t), pascal, 300e-6)).toBe(true)
  })

  it('is the table value at -60 °C', () => {
    // Same table; printed as 1.08 Pa, so half of its last digit is the tolerance.
    expect(Math.abs(saturation(-60) - 1.08)).toBeLessThan(0.01)
  })

  it.each([
    // Independent computation of each column: psychrolib 1.1.1, WMO Magnus, Alduchov & Eskridge, Sonntag's full equation.
    [5, 872.49, 871.74, 871.56, 872.54],
    [20, 2338.8, 2332.6, 2333.44, 2339.25],
    [23, 2810.44, 2802.51, 2803.81, 2811.02],
    [25, 3169.22, 3160.06, 3161.74, 3169.9],
    [30, 4246.03, 4233.72, 4236.65, 4247.03],
    [40, 7383.46, 7367.46, 7374.72, 7385.3],
    [50, 12349.86, 12345.16, 12360.58, 12352.74],
    [60, 19943.76, 19993.29, 20023.0, 19947.66],
    [80, 47411.61, 47948.85, 48039.71, 47415.54],
    [100, 101418.72, 103844.92, 104076.71, 101419.04],
  ])('agrees with independent formulas at %d °C', (t, ashrae, wmo, alduchov, full) => {
    expect(saturation(t)).toBeCloseTo(ashrae, 1)
    expect(magnus(...WMO)(t)).toBeCloseTo(wmo, 1)
    expect(magnus(...ALDUCHOV)(t)).toBeCloseTo(alduchov, 1)
    expect(within(sonntag(t), full, 20e-6)).toBe(true)
    expect(within(saturation(t), sonntag(t), 300e-6)).toBe(true)
    if (t <= 50) expect(within(saturation(t), magnus(...WMO)(t), 0.004)).toBe(true)
  })

  it('is no Magnus formula, which is 2.4 % high at 100 °C', () => {
    expect(magnus(...WMO)(100) / saturation(100)).toBeCloseTo(1.024, 3)
    expect(within(saturation(100), 101418.0, 300e-6)).toBe(true)
  })

  it('follows the equation as ASHRAE prints it', () => {
    // ASHRAE HoF 2017 chapter 1 equation 6, constants C8 to C13, typed here apart from the library.
    const equation6 = (t: number) => {
      const T = t + 273.15
      return Math.exp(
        -5.8002206e3 / T + 1.3914993 - 4.8640239e-2 * T + 4.1764768e-5 * T ** 2 - 1.4452093e-8 * T ** 3 + 6.5459673 * Math.log(T),
      )
    }
    for (const t of [1, 20, 60, 120, 199]) expect(within(saturation(t), equation6(t), 1e-9)).toBe(true)
  })
})

describe('dew point', () => {
  it('is the value in the documentation of psychrolib', () => {
    // psychrolib documentation: 25 °C, 80 %.
    expect(dew(25, 0.8)).toBeCloseTo(21.3093971636, 6)
  })

  it.each([
    // Independent computation: t °C, %RH, WMO Magnus, Alduchov & Eskridge, psychrolib 1.1.1.
    [15, 50, 4.652, 4.657, 4.672],
    [20, 30, 1.882, 1.892, 1.914],
    [20, 40, 5.98, 5.988, 6.004],
    [20, 50, 9.255, 9.261, 9.272],
    [20, 60, 11.995, 12.0, 12.008],
    [20, 80, 16.442, 16.444, 16.447],
    [23, 50, 12.014, 12.02, 12.028],
    [25, 50, 13.852, 13.858, 13.864],
    [25, 60, 16.693, 16.698, 16.701],
    [25, 80, 21.307, 21.309, 21.3094],
    [30, 40, 14.925, 14.933, 14.936],
    [30, 55, 19.972, 19.977, 19.976],
    [30, 70, 23.927, 23.93, 23.928],
    [50, 70, 43.017, 43.02, 42.991],
  ])('at %d °C and %d percent RH', (t, percent, wmo, alduchov, ashrae) => {
    const found = dew(t, percent / 100)
    expect(Math.abs(found - ashrae)).toBeLessThan(0.002)
    expect(Math.abs(magnusDew(WMO, t, percent / 100) - wmo)).toBeLessThan(0.001)
    expect(Math.abs(magnusDew(ALDUCHOV, t, percent / 100) - alduchov)).toBeLessThan(0.001)
    // The two families may differ by 0.035 K between 0 and 50 °C.
    expect(Math.abs(found - wmo)).toBeLessThan(0.035)
  })

  it('mixes no constants from two Magnus sets', () => {
    // The mixtures met in the field: 611.2 with 17.625 and 243.04, and 611.2 with 17.27 and 237.3 (which belong with 610.78,
    // Murray 1967). Table points of ASHRAE as above: the mixtures miss one of them by more than its tolerance, what is used here
    // misses none.
    const table = [
      [5, 872.6],
      [25, 3169.7],
      [50, 12351.3],
    ] as const
    const misses = (formula: (t: number) => number) => table.some(([t, pascal]) => !within(formula(t), pascal, 300e-6))
    expect(misses(magnus(611.2, 17.625, 243.04))).toBe(true)
    expect(misses(magnus(611.2, 17.27, 237.3))).toBe(true)
    expect(misses(saturation)).toBe(false)
  })

  it('is not t - (100 - RH) / 5, which is 4 K out at 30 %RH', () => {
    expect(20 - (100 - 30) / 5).toBe(6)
    expect(dew(20, 0.3)).toBeCloseTo(1.914, 2)
  })

  it('of the climate papers are conditioned in', () => {
    // ISO 187 climate, 23 °C and 50 %RH: independent computation, W 0.0087467 kg/kg, dew point 12.0284 °C, wet bulb 16.2469 °C, h
    // 45.388 kJ/kg.
    expect(dew(23, 0.5)).toBeCloseTo(12.0284, 3)
    const vapour = 0.5 * saturation(23)
    expect((0.621945 * vapour) / (101325 - vapour)).toBeCloseTo(0.0087467, 6)
    psychrolib.SetUnitSystem(psychrolib.SI)
    expect(psychrolib.GetTWetBulbFromRelHum(23, 0.5, 101325)).toBeCloseTo(16.2469, 2)
    expect(psychrolib.GetMoistAirEnthalpy(23, psychrolib.GetHumRatioFromRelHum(23, 0.5, 101325)) / 1000).toBeCloseTo(45.388, 2)
  })

  it('of ASHRAE example 1', () => {
    // ASHRAE HoF 2017 chapter 1, example 1 (40 °C dry, 20 °C wet bulb, 101325 Pa): W 0.0065, RH 14 %, h 56.7 kJ/kg, v 0.896
    // m3/kg, dew point 7 °C.
    psychrolib.SetUnitSystem(psychrolib.SI)
    const humidity = psychrolib.GetRelHumFromTWetBulb(40, 20, 101325)
    const ratio = psychrolib.GetHumRatioFromTWetBulb(40, 20, 101325)
    expect(Math.abs(humidity - 0.14)).toBeLessThan(0.01)
    expect(Math.abs(ratio - 0.0065)).toBeLessThan(1.1e-4)
    expect(Math.abs(psychrolib.GetMoistAirEnthalpy(40, ratio) / 1000 - 56.7)).toBeLessThan(0.1)
    expect(within(psychrolib.GetMoistAirVolume(40, ratio, 101325), 0.896, 0.01)).toBe(true)
    expect(Math.abs(dew(40, humidity) - 7)).toBeLessThan(0.5)
    expect(dew(40, humidity)).toBeCloseTo(7.434, 2)
  })

  it('leaves the air as it was: its pressure at the dew point is its vapour pressure', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 60, noNaN: true }), fc.double({ min: 0.05, max: 1, noNaN: true }), (t, humidity) => {
        const found = dew(t, humidity)
        return found <= t && within(saturation(found), humidity * saturation(t), 2e-4)
      }),
    )
  })
})

describe('air at a surface', () => {
  it.each([
    // Independent computation: why paper shrinks on a heated platen.
    [20, 50, 40, 0.1584],
    [25, 50, 45, 0.1652],
    [20, 50, 50, 0.0947],
  ])('from %d °C and %d percent RH to %d °C', (temperature, percent, surface, expected) => {
    expect(answer(humidityAt({ temperature, humidity: percent / 100, surface }))).toBeCloseTo(expected, 4)
  })

  it('is saturated on a surface below the dew point, never more', () => {
    expect(answer(humidityAt({ temperature: 25, humidity: 0.6, surface: 10 }))).toBe(1)
  })

  it('condenses within 3 K of the dew point', () => {
    // Dew point 16.70 °C at 25 °C and 60 %RH (table above); 3 K from ISO 8502-4, from memory.
    const at = (surface: number) => answer(condensation({ temperature: 25, humidity: 0.6, surface }))
    expect(at(19.75).safe).toBe(true)
    expect(at(19.65).safe).toBe(false)
    expect(at(12).margin).toBeCloseTo(-4.7, 1)
    expect(at(12).required).toBe(3)
  })

  it('dries as the surface warms', () => {
    const degrees = fc.double({ min: 20, max: 90, noNaN: true })
    fc.assert(
      fc.property(degrees, fc.double({ min: 0.001, max: 50, noNaN: true }), (surface, more) => {
        const before = answer(humidityAt({ temperature: 20, humidity: 0.5, surface }))
        return answer(humidityAt({ temperature: 20, humidity: 0.5, surface: surface + more })) < before
      }),
    )
  })
})

describe('growth of a sheet', () => {
  it('adds what moisture and heat do', () => {
    // By hand: 0.5 % per 100 %RH over -20 %RH is -0.1 %; 10e-6/K over +25 K is +0.025 %.
    const growth = answer(
      sheetGrowth({ humidityChange: -0.2, temperatureChange: 25, moistureExpansion: 0.005, expansion: 10e-6 }),
    )
    expect(growth.typical).toBeCloseTo(-0.00075, 9)
  })

  it('keeps its ends in order when the air dries', () => {
    const growth = answer(
      sheetGrowth({
        humidityChange: -0.34,
        temperatureChange: 20,
        moistureExpansion: { low: 0.004, typical: 0.007, high: 0.01 },
        expansion: { low: 2e-6, typical: 8e-6, high: 16e-6 },
      }),
    )
    expect(growth.low).toBeCloseTo(-0.34 * 0.01 + 20 * 2e-6, 9)
    expect(growth.high).toBeCloseTo(-0.34 * 0.004 + 20 * 16e-6, 9)
  })

  it('refuses a change of humidity that no room can make', () => {
    // -20 meant as percent points would be a factor of 100.
    expect(sheetGrowth({ humidityChange: -20, temperatureChange: 0, moistureExpansion: 0.005, expansion: 0 })).toMatchObject({
      ok: false,
      problem: { input: 'humidityChange' },
    })
  })
})

describe('bad input', () => {
  it('gives a problem, never a throw or a NaN', () => {
    expect(withstand(saturationPressure, { temperature: 20 })).toEqual(['temperature'])
    expect(withstand(dewPoint, { temperature: 20, humidity: 0.5 })).toEqual(['humidity', 'temperature'])
    expect(withstand(humidityAt, { temperature: 20, humidity: 0.5, surface: 40 })).toEqual(['humidity', 'surface', 'temperature'])
    expect(withstand(condensation, { temperature: 20, humidity: 0.5, surface: 18 })).toEqual([
      'humidity',
      'surface',
      'temperature',
    ])
    const sheet = {
      humidityChange: 0.1,
      temperatureChange: 5,
      moistureExpansion: { low: 0.004, typical: 0.005, high: 0.006 },
      expansion: 1e-5,
    }
    expect(withstand(sheetGrowth, sheet)).toContain('moistureExpansion')
  })

  it('says that percent was given for a fraction', () => {
    expect(dewPoint({ temperature: 20, humidity: 50 })).toMatchObject({
      problem: { reason: 'the humidity must lie between 0 % and 100 %' },
    })
  })

  it('warns of static in words that defer to the safety documents', () => {
    expect(STATIC_HUMIDITY).toBe(0.4)
    expect(STATIC_CAUTION).toMatch(/40 %RH.*safety documents.*local codes.*licensed practice/)
  })
})

it('runs where there is neither Node nor a window', async () => {
  const bundle = await build({
    entryPoints: [new URL('../../server/src/calc/room.ts', import.meta.url).pathname],
    bundle: true,
    minify: true,
    write: false,
    format: 'iife',
    globalName: 'room',
    platform: 'browser',
  })
  const code = bundle.outputFiles[0]!.text
  expect(code.length).toBeLessThan(25_000)
  const found = vm.runInNewContext(`${code}; room.dewPoint({ temperature: 25, humidity: 0.8 }).value`, {})
  expect(found).toBeCloseTo(21.3093971636, 6)
})
