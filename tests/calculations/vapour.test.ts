// Dilution air against published examples in SI and in US units, for breathing and for fire apart, and the misuses that hurt
// people.
import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { dilutionForFire, dilutionForHealth, evaporationPower, inkVapour, VAPOUR_CAUTION } from '../../server/src/calc/vapour.ts'
import { answer, withstand } from './hostile.ts'

const HOUR = 3600
/** m3/mol as it is used: what 0.1 kg/s of 0.1 kg/mol, a mol a second, comes to. */
const molarVolume = (airTemperature: number) =>
  answer(dilutionForHealth({ massRate: 0.1, molarMass: 0.1, airTemperature, limit: 1e-5, mixing: 1 })).vapour.typical
/** The lower explosive limit as it is used: what the air asked for leaves of a quarter of it. */
const lowerExplosiveLimitAt = (limit: number, hottest: number) => {
  const source = { massRate: 1e-5, molarMass: 0.118, airTemperature: 25, lowerExplosiveLimit: limit, hottest }
  const { vapour, airAtLoweredLimit: air } = answer(dilutionForFire(source))
  const at = (flow: number) => (4 * vapour.typical) / flow
  return { low: at(air.high), typical: at(air.typical), high: at(air.low) }
}
/** °F as °C. */
const fahrenheit = (degrees: number) => (degrees - 32) / 1.8
const toCfm = (cubicMetresPerSecond: number): number => evaluate(`${cubicMetresPerSecond} m^3/s`).toNumber('ft^3/minute')
/** kg/s of so many US pints a minute. */
const pints = (perMinute: number, gravity: number): number =>
  (evaluate(`${perMinute} pint`).toNumber('m^3') * 1000 * gravity) / 60

describe('molar volume', () => {
  it.each([
    // Independent computation, L/mol at 1 atm: 20 °C, 70 °F, 25 °C.
    [20, 24.055],
    [fahrenheit(70), 24.146],
    [25, 24.465],
  ])('at %d °C', (temperature, litre) => {
    expect(molarVolume(temperature) * 1000).toBeCloseTo(litre, 3)
  })

  it('follows the temperature of the exhaust: 24.45 L is 11 % short at 60 °C', () => {
    const warm = molarVolume(60) * 1000
    expect(warm).toBeCloseTo(27.34, 2)
    expect(warm / 24.45).toBeGreaterThan(1.1)
    const source = { massRate: 1e-5, molarMass: 0.118, limit: 20e-6, mixing: 5 }
    const at = (airTemperature: number) => answer(dilutionForHealth({ ...source, airTemperature })).air.typical
    expect(at(60) / at(25)).toBeCloseTo(333.15 / 298.15, 9)
  })
})

describe('air to breathe', () => {
  it('is that of the toluene adhesive', () => {
    // Abulencia & Theodore, Fluid Flow for the Practicing Chemical Engineer, example 20.2: 3/8 gal/h, 40 % by volume, SG 0.87, MW
    // 92, 293 K, K 5, 80 ppm: 8.24 g/min, 0.0895 mol/min, 2.15 L/min, Q 134375 L/min (134516 unrounded).
    const massRate = (evaluate('3/8 gallon').toNumber('m^3') * 0.4 * 870) / HOUR
    // The book rounds to 1.09 lb/h before it goes on; unrounded the rate is 8.233 g/min.
    expect(Math.abs(massRate * 60_000 - 8.24)).toBeLessThan(0.01)
    expect(massRate * HOUR * 2.204_62).toBeCloseTo(1.09, 2)
    expect((massRate * 60) / 0.092).toBeCloseTo(0.0895, 4)
    const found = answer(dilutionForHealth({ massRate, molarMass: 0.092, airTemperature: 19.85, limit: 80e-6, mixing: 5 }))
    expect(found.vapour.typical * 60_000).toBeCloseTo(2.15, 2)
    expect(Math.abs(found.air.typical * 60_000 - 134_516)).toBeLessThan(100)
    expect(Math.abs((found.air.typical * 60_000) / 134_375 - 1)).toBeLessThan(0.002)
  })

  it('is the US equation with 403', () => {
    // ABIH equation sheet: Q[cfm] = 403 SG 10^6 ER[pint/min] K / (MW C[ppm]). 403 re-derived at 70 °F: 0.473176 x 1000 x 24.146 /
    // 28.317 = 403.49.
    const us = (403 * 0.88 * 1e6 * (2 / 60) * 5) / (106 * 100)
    const si = answer(
      dilutionForHealth({
        massRate: pints(2 / 60, 0.88),
        molarMass: 0.106,
        airTemperature: fahrenheit(70),
        limit: 100e-6,
        mixing: 5,
      }),
    )
    expect(Math.abs(toCfm(si.air.typical) / us - 1)).toBeLessThan(0.0015)
  })

  it('is misjudged by 2.11 when litres are taken for pints', () => {
    const right = pints(1, 0.88)
    const wrong = 0.88 / 60
    expect(wrong / right).toBeCloseTo(2.113, 3)
  })

  it('grows as mixing worsens', () => {
    const range = answer(
      dilutionForHealth({
        massRate: 1e-5,
        molarMass: 0.1,
        airTemperature: 25,
        limit: 5e-5,
        mixing: { low: 3, typical: 5, high: 10 },
      }),
    )
    expect(range.air.high / range.air.low).toBeCloseTo(10 / 3, 9)
  })
})

describe('air against explosion', () => {
  const xylol = {
    massRate: pints(2 / 60, 0.88),
    molarMass: 0.106,
    lowerExplosiveLimit: 0.01,
    hottest: fahrenheit(350),
    safety: 10,
  }

  it.each([
    // ACGIH Industrial Ventilation, xylol example (from memory, arithmetic reproduced): 2 pints, SG 0.88, MW 106, LEL 1.0 %, Sf
    // 10, B 0.7, air at 70 and 350 °F.
    [70, 159.3],
    [350, 243.5],
  ])('is that of the baking oven with air at %d °F', (degrees, cfm) => {
    // The hand calculation takes a density of 403 / 453.59 lb per pint and absolute zero at -460 °F, hence 0.2 %.
    const found = answer(dilutionForFire({ ...xylol, airTemperature: fahrenheit(degrees) }))
    const us = ((403 * 0.88 * 100 * (2 / 60) * 10) / (106 * 1.0 * 0.7)) * ((degrees + 460) / 530)
    expect(Math.abs(us - cfm)).toBeLessThan(0.1)
    expect(Math.abs(toCfm(found.air.typical) / us - 1)).toBeLessThan(0.002)
  })

  it('takes the limit as a fraction, and refuses one that is a percent', () => {
    const as = (lowerExplosiveLimit: number) => dilutionForFire({ ...xylol, airTemperature: 25, lowerExplosiveLimit })
    expect(as(1.1)).toMatchObject({
      problem: { input: 'lowerExplosiveLimit', reason: expect.stringMatching(/1\.1 % is 0\.011/) },
    })
    expect(as(0.9)).toMatchObject({ ok: false })
    expect(dilutionForHealth({ ...xylol, airTemperature: 25, limit: 20, mixing: 5 })).toMatchObject({
      problem: { input: 'limit', reason: expect.stringMatching(/20 ppm is 0\.00002/) },
    })
    expect(dilutionForHealth({ ...xylol, molarMass: 106, airTemperature: 25, limit: 2e-5, mixing: 5 })).toMatchObject({
      problem: { input: 'molarMass', reason: expect.stringMatching(/0\.106/) },
    })
  })

  it('never aims above a quarter of the limit', () => {
    expect(dilutionForFire({ ...xylol, airTemperature: 25, safety: 2 })).toMatchObject({ problem: { input: 'safety' } })
  })

  it('takes 0.7 of the limit above 250 °F', () => {
    const air = (degrees: number) =>
      answer(dilutionForFire({ ...xylol, airTemperature: 25, hottest: fahrenheit(degrees) })).air.typical
    expect(air(251) / air(249)).toBeCloseTo(1 / 0.7, 9)
  })
})

describe('both answers', () => {
  // Independent computation: ink solvent 10 g/m2 at 16.6 m2/h, MW 118, 25 °C, LEL 1.1 %: 34.417 L/h of vapour, 12.515 m3/h for a
  // quarter of the LEL, 8604 m3/h for 20 ppm with K 5.
  const massRate = answer(inkVapour({ inkPerArea: 0.01, areaRate: 16.6 / HOUR, volatileShare: 1 }))
  const source = {
    massRate,
    molarMass: 0.118,
    airTemperature: 25,
    limit: 20e-6,
    mixing: 5,
    lowerExplosiveLimit: 0.011,
    hottest: 25,
  }

  const both = (rate: typeof massRate | number = massRate) => ({
    health: answer(dilutionForHealth({ ...source, massRate: rate })),
    fire: answer(dilutionForFire({ ...source, massRate: rate })),
  })

  it('differ by hundreds, and breathing governs', () => {
    const found = both()
    expect(found.fire.vapour.typical * HOUR * 1000).toBeCloseTo(34.417, 2)
    expect(found.fire.air.typical * HOUR).toBeCloseTo(12.515, 2)
    expect(Math.abs(found.health.air.typical * HOUR - 8604)).toBeLessThan(1)
    expect(found.health.air.typical / found.fire.air.typical).toBeCloseTo(687.5, 1)
  })

  it('leave a room ventilated for fire alone hundreds of times over its limit', () => {
    const found = both()
    const inFireAir = found.fire.vapour.typical / found.fire.air.typical
    expect(inFireAir).toBeCloseTo(0.011 / 4, 9)
    expect(inFireAir / 20e-6).toBeGreaterThan(100)
    expect(VAPOUR_CAUTION).toMatch(/far from enough to breathe/)
    expect(VAPOUR_CAUTION).toMatch(/safety data sheets.*local codes and licensed practice/)
  })

  it('need more air for more vapour', () => {
    const rate = fc.double({ min: 1e-7, max: 1e-2, noNaN: true })
    fc.assert(
      fc.property(rate, rate, (a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)].map((r) => both(r))
        return less!.health.air.typical <= more!.health.air.typical && less!.fire.air.typical <= more!.fire.air.typical
      }),
    )
  })
})

describe('the lower explosive limit in the warm', () => {
  it('falls faster than the usual rule', () => {
    // Ludwig, Applied Process Design vol. 1, table 7-22, at 212 °F: acetone 2.67 to 2.40 % (0.899), n-hexane 1.08 to 0.90 %
    // (0.833); the rule of 0.0721 % a kelvin gives 0.946.
    const hot = lowerExplosiveLimitAt(0.0267, 100)
    expect(hot.high / 0.0267).toBeCloseTo(0.946, 3)
    expect(hot.typical / 0.0267).toBeCloseTo(2.4 / 2.67, 2)
    expect(lowerExplosiveLimitAt(0.0108, 100).low / 0.0108).toBeCloseTo(0.9 / 1.08, 2)
  })

  it('is itself at room temperature, and never rises', () => {
    for (const end of Object.values(lowerExplosiveLimitAt(0.011, 20))) expect(end).toBeCloseTo(0.011, 12)
    const degrees = fc.double({ min: 0, max: 200, noNaN: true })
    fc.assert(
      fc.property(degrees, degrees, (a, b) => {
        const at = (temperature: number) => lowerExplosiveLimitAt(0.011, temperature)
        return at(Math.max(a, b)).low <= at(Math.min(a, b)).low * (1 + 1e-12) && at(a).low > 0
      }),
    )
    const source = { massRate: 1e-5, molarMass: 0.118, airTemperature: 25, lowerExplosiveLimit: 0.011 }
    expect(dilutionForFire({ ...source, hottest: 250 })).toMatchObject({ problem: { input: 'hottest' } })
  })

  it('asks for more air than the handbook below its step', () => {
    const found = answer(
      dilutionForFire({ massRate: 1e-5, molarMass: 0.118, airTemperature: 25, lowerExplosiveLimit: 0.011, hottest: 60 }),
    )
    expect(found.airAtLoweredLimit.low).toBeGreaterThan(found.air.typical)
    expect(found.airAtLoweredLimit.typical / found.air.typical).toBeCloseTo(1 / (1 - 0.00135 * 35), 6)
  })
})

describe('the load of ink', () => {
  it('takes heat to evaporate', () => {
    // Independent computation: 10 g/m2 of water at 16.6 m2/h, 2.40 MJ/kg: about 111 W.
    const massRate = answer(inkVapour({ inkPerArea: 0.01, areaRate: 16.6 / HOUR, volatileShare: 1 }))
    expect(answer(evaporationPower({ massRate })).typical).toBeCloseTo(110.7, 1)
  })

  it('counts the volatile share only', () => {
    const load = answer(
      inkVapour({ inkPerArea: { low: 0.005, typical: 0.01, high: 0.015 }, areaRate: 0.005, volatileShare: 0.6 }),
    )
    expect(load.typical).toBeCloseTo(3e-5, 12)
    expect(load.high / load.low).toBeCloseTo(3, 9)
    expect(inkVapour({ inkPerArea: 0.01, areaRate: 0.005, volatileShare: 60 })).toMatchObject({
      problem: { input: 'volatileShare' },
    })
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  const source = { massRate: { low: 1e-5, typical: 2e-5, high: 3e-5 }, molarMass: 0.118, airTemperature: 25 }
  const health = { limit: 20e-6, mixing: { low: 3, typical: 5, high: 10 } }
  const fire = { lowerExplosiveLimit: 0.011, hottest: 60, safety: 4 }
  expect(withstand(inkVapour, { inkPerArea: 0.01, areaRate: 0.005, volatileShare: 0.6 })).toEqual([
    'areaRate',
    'inkPerArea',
    'volatileShare',
  ])
  expect(withstand(evaporationPower, { massRate: 1e-5, latentHeat: 2.4e6 })).toEqual(['latentHeat', 'massRate'])
  expect(withstand(dilutionForHealth, { ...source, ...health })).toEqual([
    'airTemperature',
    'limit',
    'massRate',
    'mixing',
    'molarMass',
  ])
  expect(withstand(dilutionForFire, { ...source, ...fire })).toEqual([
    'airTemperature',
    'hottest',
    'lowerExplosiveLimit',
    'massRate',
    'molarMass',
    'safety',
  ])
})
