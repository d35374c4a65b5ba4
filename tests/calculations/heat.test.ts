// Lumped heating against textbook cases, the web's path, coupling from readings, and the misuses of heat data.

import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { fitCoupling } from '../../server/src/calc/coupling.ts'
import { HEAT_CAUTION, type Stretch, timeToSettle, webAfterZone, webHeatPower, webPath } from '../../server/src/calc/heat.ts'
import { limitMargin, paperAtHeat, thermalGrowth } from '../../server/src/calc/heat-effects.ts'
import { answer, withstand } from './hostile.ts'

/** A lumped body all of whose surface is in the fluid, told as a web: mass and thickness per area, no second face. */
const body = (characteristic: number, density: number, cp: number, conductivity: number, coupling: number) => ({
  grammage: density * characteristic,
  heatCapacity: cp,
  thickness: characteristic,
  conductivity,
  coupling,
  airLoss: 0,
  air: 20,
})

const pvc = { grammage: 0.112, heatCapacity: 950, thickness: 80e-6, conductivity: 0.16 }
const zone = { ...pvc, set: 50, enter: 23, air: 23, coupling: 200, airLoss: 15, dwell: 1 }

describe('a body in a fluid', () => {
  it('is the thermocouple junction of Çengel', () => {
    // Çengel, Heat Transfer, example 4-1: sphere 1 mm, k 35, rho 8500, cp 320, h 210; Bi 0.001, b 0.462 1/s, 10 s to 99 %
    // (unrounded 0.46324 and 9.941).
    const found = answer(webAfterZone({ ...body(0.001 / 6, 8500, 320, 35, 210), set: 100, enter: 20, dwell: 9.941 }))
    expect(found.biot?.typical).toBeCloseTo(0.001, 6)
    expect(1 / found.timeConstant.typical).toBeCloseTo(0.46324, 4)
    expect(answer(timeToSettle({ timeConstant: found.timeConstant, share: 0.99 })).typical).toBeCloseTo(9.941, 3)
    expect(found.leave.typical).toBeCloseTo(20 + 0.99 * 80, 3)
    expect(found.trust).toBe('good')
  })

  it('is the thermocouple of Incropera', () => {
    // Incropera, example 5.1 (from memory, arithmetic reproduced): k 20, cp 400, rho 8500, h 400, tau 1 s gives D 0.706 mm; 25 to
    // 199 °C in 200 °C takes 5.2 s.
    const diameter = 6 * (400 / (8500 * 400))
    expect(diameter * 1000).toBeCloseTo(0.70588, 5)
    const found = answer(webAfterZone({ ...body(diameter / 6, 8500, 400, 20, 400), set: 200, enter: 25, dwell: 5.1648 }))
    expect(found.timeConstant.typical).toBeCloseTo(1, 9)
    expect(found.biot?.typical).toBeCloseTo(0.00235, 5)
    expect(found.leave.typical).toBeCloseTo(199, 3)
    expect(answer(timeToSettle({ timeConstant: 1, share: 174 / 175 })).typical).toBeCloseTo(5.1648, 4)
  })
})

describe('a web over a zone', () => {
  it('settles below the heater and gets there within a second or two', () => {
    // Independent computation: PVC 112 g/m2, cp 950, h_c 200, h_a 15, heater 50 °C, air and web 23 °C: T_inf 48.116, tau 0.4949
    // s, 44.787 °C after 1 s.
    const found = answer(webAfterZone(zone))
    expect(found.settles.typical).toBeCloseTo(48.116, 3)
    expect(found.timeConstant.typical).toBeCloseTo(0.4949, 4)
    expect(found.leave.typical).toBeCloseTo(44.787, 3)
    const byUnits = evaluate('0.112 kg/m^2 * 950 J/(kg K) / (215 W/(m^2 K))')
    expect(found.timeConstant.typical).toBeCloseTo(byUnits.toNumber('s'), 9)
  })

  it('is not as hot as its set-point', () => {
    const settled = answer(webAfterZone({ ...zone, dwell: 200 })).leave.typical
    expect(settled).toBeCloseTo(48.116, 3)
    expect(50 - settled).toBeGreaterThan(1.8)
  })

  it('is paced by its contact, ten times slower than by its own conduction', () => {
    // Independent computation: thickness² / diffusivity is 0.05 s for 80 µm PVC; by the coupling it is 0.5 s.
    const conduction = 80e-6 ** 2 / (0.16 / (1400 * 900))
    expect(conduction).toBeCloseTo(0.05, 3)
    const coupled = answer(webAfterZone({ ...zone, airLoss: 0 })).timeConstant.typical
    expect(coupled / conduction).toBeGreaterThan(9)
  })

  it.each([
    // Independent computation at a coupling of 200 W/(m2 K): kg/m2, J/(kg K), µm, W/(m K), tau s, Biot number.
    ['PVC 80 µm', 0.112, 950, 80, 0.16, 0.53, 0.1],
    ['cast PVC 50 µm', 0.065, 1500, 50, 0.14, 0.49, 0.07],
    ['PET 100 µm', 0.139, 1170, 100, 0.2, 0.81, 0.1],
    ['PET 250 µm', 0.348, 1170, 250, 0.2, 2.03, 0.25],
    ['PP 180 µm', 0.163, 1680, 180, 0.22, 1.37, 0.16],
    ['paper 130 g/m²', 0.13, 1340, 120, 0.15, 0.87, 0.16],
  ])('%s', (_, grammage, heatCapacity, micrometre, conductivity, tau, biot) => {
    const thickness = micrometre * 1e-6
    const found = answer(webAfterZone({ ...zone, grammage, heatCapacity, thickness, conductivity, airLoss: 0 }))
    expect(Math.abs(found.timeConstant.typical - tau)).toBeLessThan(0.006)
    expect(Math.abs(found.biot!.typical - biot)).toBeLessThan(0.006)
    expect(found.trust).toBe(biot > 0.1 ? 'approximate' : 'good')
  })

  it('that is too thick for one temperature is refused, and told why', () => {
    // Independent computation: banner of 400 µm, 0.14 W/(m K), Bi 0.57, tau would be 3.90 s.
    const banner = { grammage: 0.52, heatCapacity: 1500, thickness: 400e-6, conductivity: 0.14 }
    const found = webAfterZone({ ...zone, ...banner })
    expect(found).toMatchObject({
      ok: false,
      problem: { input: 'thickness', reason: expect.stringMatching(/too thick.*Biot number 0\.57.*inside lags/) },
    })
    const { thickness: _, conductivity: __, ...unknown } = { ...zone, ...banner }
    expect(answer(webAfterZone({ ...unknown, airLoss: 0 })).timeConstant.typical).toBeCloseTo(3.9, 2)
    expect(answer(webAfterZone(unknown)).trust).toBe('unchecked')
  })

  it('has a range that holds the web for every coupling within', () => {
    const coupling = { low: 50, typical: 200, high: 500 }
    fc.assert(
      fc.property(fc.double({ min: 50, max: 500, noNaN: true }), fc.double({ min: 0, max: 5, noNaN: true }), (h, dwell) => {
        const all = answer(webAfterZone({ ...zone, coupling, dwell })).leave
        const one = answer(webAfterZone({ ...zone, coupling: h, dwell, thickness: 1e-6 })).leave.typical
        return all.low - 1e-9 <= one && one <= all.high + 1e-9
      }),
    )
  })

  it('warms the more the longer, the hotter and the better coupled it is, and never past its heater', () => {
    const some = fc.double({ min: 0.01, max: 3, noNaN: true })
    const leave = (change: object) => answer(webAfterZone({ ...zone, ...change })).leave.typical
    fc.assert(
      fc.property(some, some, (dwell, more) => {
        const t = leave({ dwell })
        return (
          leave({ dwell: dwell + more }) >= t &&
          leave({ dwell, set: 50 + more }) > t &&
          leave({ dwell, coupling: 200 + more }) >= t &&
          t < 50 &&
          t >= 23
        )
      }),
    )
  })
})

describe('the path of the web', () => {
  const stretches: Stretch[] = [
    { kind: 'zone', name: 'before', length: 0.3, set: 40, coupling: 200 },
    { kind: 'free', name: 'to the platen', length: 0.05 },
    { kind: 'zone', name: 'platen', length: 0.3, set: 45, coupling: 200 },
    { kind: 'zone', name: 'after', length: 0.3, set: 50, coupling: 200 },
    { kind: 'free', name: 'to the roll', length: 0.5 },
  ]
  const path = answer(webPath({ ...pvc, stretches, webSpeed: 0.003, air: 23, airLoss: 15 }))

  it('reaches each zone in turn and cools between', () => {
    const leave = path.map((stretch) => stretch.leave.typical)
    // With dwells of 100 s against half a second, each zone is left at (200 x set + 15 x 23) / 215.
    expect(leave[0]).toBeCloseTo((200 * 40 + 15 * 23) / 215, 6)
    expect(leave[2]).toBeCloseTo((200 * 45 + 15 * 23) / 215, 6)
    expect(leave[3]).toBeCloseTo((200 * 50 + 15 * 23) / 215, 6)
    // 16.7 s in air with both faces at 15 W/(m2 K): exp(-30 x 16.67 / 106.4) = 0.0091 of the rise is left.
    expect(leave[1]).toBeCloseTo(23 + 0.00908 * (leave[0]! - 23), 2)
    expect(leave[4]).toBeCloseTo(23, 4)
    expect(path[1]!.hottest.typical).toBe(leave[0])
  })

  it('hands each stretch what the last one left, in order', () => {
    for (const [i, stretch] of path.entries())
      expect(stretch.enter).toEqual(path[i - 1]?.leave ?? { low: 23, typical: 23, high: 23 })
    expect(path.map((stretch) => stretch.name)).toEqual(['before', 'to the platen', 'platen', 'after', 'to the roll'])
    expect(path[0]!.dwell).toBeCloseTo(100, 9)
  })

  it('takes a zone that is off for a plate at the temperature of the air', () => {
    const off = answer(
      webPath({ ...pvc, stretches: [{ kind: 'zone', name: 'after', length: 1 }], webSpeed: 0.01, air: 23, enter: 50 }),
    )
    expect(off[0]!.leave.typical).toBeCloseTo(23, 6)
  })

  it('widens to a range with typical coupling and loss', () => {
    const wide = answer(
      webPath({ ...pvc, stretches: [{ kind: 'zone', name: 'platen', length: 0.3, set: 45 }], webSpeed: 0.003, air: 23 }),
    )[0]!
    // From the worst contact in moving air (50 and 25) to the best in still air (500 and 10).
    expect(wide.leave.low).toBeCloseTo((50 * 45 + 25 * 23) / 75, 6)
    expect(wide.leave.high).toBeCloseTo((500 * 45 + 10 * 23) / 510, 6)
    expect(wide.trust).toBe('approximate')
  })

  it('refuses a path without stretches and a stretch without length', () => {
    const run = (list: Stretch[] | undefined) => webPath({ ...pvc, stretches: list as Stretch[], webSpeed: 0.003, air: 23 })
    expect(run([])).toMatchObject({ problem: { input: 'stretches' } })
    expect(run(undefined)).toMatchObject({ problem: { input: 'stretches' } })
    expect(run([{ kind: 'free', name: 'gap', length: 0 }])).toMatchObject({ problem: { input: 'zoneLength' } })
  })
})

describe('coupling from readings', () => {
  const settled = (coupling: number, set: number, air = 23, loss = 15) => (coupling * set + loss * air) / (coupling + loss)
  const readings = [35, 40, 45, 50].map((set) => ({ zone: 'platen', set, web: settled(120, set) }))

  it('finds the coupling that made them', () => {
    const fit = answer(fitCoupling({ readings, air: 23, airLoss: 15 }))
    expect(fit.coupling.typical).toBeCloseTo(120, 6)
    expect(fit.share.typical).toBeCloseTo(120 / 135, 9)
    expect(fit.readings).toBe(4)
  })

  it('gives back the temperature that was read, whatever the loss to air was taken for', () => {
    for (const loss of [10, 15, 25]) {
      const { coupling } = answer(fitCoupling({ readings, air: 23, airLoss: loss }))
      const web = answer(
        webAfterZone({ ...zone, thickness: 1e-6, set: 45, coupling: coupling.typical, airLoss: loss, dwell: 100 }),
      )
      expect(web.leave.typical).toBeCloseTo(settled(120, 45), 6)
    }
  })

  it('is uncertain by the thermometer however often it is read, and by Student t for the scatter of few', () => {
    const width = (count: number, scatter: number, readingUncertainty: number) => {
      const web = (i: number) => settled(120, 45) + (i % 2 ? scatter : -scatter)
      const many = Array.from({ length: count }, (_, i) => ({ zone: 'platen', set: 45, web: web(i) }))
      const { share } = answer(fitCoupling({ readings: many, air: 23, airLoss: 15, readingUncertainty }))
      return share.typical - share.low
    }
    // Normal k for 95 % is 1.96; the rise of the heater is 22 K.
    expect(width(1, 0, 0.5)).toBeCloseTo((1.96 * 0.5) / 22, 4)
    expect(width(50, 0, 0.5)).toBeCloseTo(width(1, 0, 0.5), 9)
    // Two readings 0.2 K apart: s = 0.2828 / 2 x sqrt 2 = 0.1414 K, standard error 0.1 K, t95 of one degree of freedom 12.706
    // (GUM table G.2).
    expect(width(2, 0.1, 0)).toBeCloseTo((12.706 * 0.1) / 22, 4)
    expect(width(50, 0.1, 0)).toBeLessThan(width(4, 0.1, 0))
  })

  it('has an open end where the reading cannot tell good contact from perfect', () => {
    const fit = answer(fitCoupling({ readings: [{ zone: 'platen', set: 45, web: 43.5 }], air: 23, airLoss: 15 }))
    expect(fit.open).toBe(true)
    // 26 µm of still air, 0.026 W/(m K) / 26 µm (from memory).
    expect(fit.coupling.high).toBeCloseTo(1000, 6)
    expect(fit.coupling.low).toBeLessThan(fit.coupling.typical)
    const poor = answer(
      fitCoupling({ readings: [{ zone: 'platen', set: 60, web: 45 }], air: 23, airLoss: 15, readingUncertainty: 0.5 }),
    )
    expect(poor.open).toBe(false)
    expect(poor.coupling.high).toBeLessThan(60)
  })

  it('refuses readings that say nothing', () => {
    const one = (set: number, web: number) => fitCoupling({ readings: [{ zone: 'platen', set, web }], air: 23, airLoss: 15 })
    expect(one(25, 24)).toMatchObject({ problem: { input: 'set' } })
    expect(one(45, 22)).toMatchObject({ problem: { input: 'readings' } })
    expect(one(50, 60)).toMatchObject({ problem: { reason: expect.stringMatching(/as hot as its heater/) } })
    expect(one(45, Number.NaN)).toMatchObject({ problem: { input: 'web' } })
    expect(fitCoupling({ readings: [], air: 23, airLoss: 15 })).toMatchObject({ problem: { input: 'readings' } })
    const good = { readings, air: 23, airLoss: { low: 10, typical: 15, high: 25 }, readingUncertainty: 1 }
    expect(withstand(fitCoupling, good)).toEqual(expect.arrayContaining(['air', 'airLoss', 'readingUncertainty']))
  })
})

describe('power', () => {
  it.each([
    // Independent computation: web 1.6 m wide at 10.39 m/h, warmed by 23 K; kg/m2, J/(kg K), W.
    ['PVC 80 µm', 0.112, 950, 11.3],
    ['PET 250 µm', 0.348, 1170, 43.2],
    ['banner 400 µm', 0.52, 1500, 82.8],
  ])('to warm %s', (_, grammage, heatCapacity, watt) => {
    const found = answer(webHeatPower({ grammage, heatCapacity, webWidth: 1.6, webSpeed: 10.39 / 3600, rise: 23 }))
    expect(Math.abs(found.typical - watt)).toBeLessThan(0.06)
    const byUnits = evaluate(`${grammage} kg/m^2 * 1.6 m * 10.39 m/hour * ${heatCapacity} J/(kg K) * 23 K`)
    expect(found.typical / byUnits.toNumber('W')).toBeCloseTo(1, 6)
  })
})

describe('margin and growth', () => {
  it('carries the limit as a range, since sources disagree, and does not take the melting point for it', () => {
    // PET in service: 66.9 (Ashby, Materials and the Environment) to 110 °C (Crawford, Plastics Engineering, table 1.8); it melts
    // at 245 °C or above.
    const service = { low: 66.9, typical: 86.9, high: 110 }
    expect(answer(limitMargin({ web: 55, limit: service })).verdict).toBe('within')
    expect(answer(limitMargin({ web: 80, limit: service })).verdict).toBe('uncertain')
    expect(answer(limitMargin({ web: 120, limit: service })).verdict).toBe('over')
    expect(answer(limitMargin({ web: 120, limit: 245 })).verdict).toBe('within')
    // Rigid PVC: in service to 50 °C (Crawford), while its resin's glass transition is 82 °C (Chang 1977).
    expect(answer(limitMargin({ web: { low: 44, typical: 48, high: 52 }, limit: 50 })).verdict).toBe('uncertain')
    // Half a kelvin within the limit at its best is not over it yet; just at the limit it is within.
    expect(answer(limitMargin({ web: { low: 49.5, typical: 51, high: 52 }, limit: 50 })).verdict).toBe('uncertain')
    expect(answer(limitMargin({ web: { low: 50.5, typical: 51, high: 52 }, limit: 50 })).verdict).toBe('over')
    expect(answer(limitMargin({ web: 50, limit: 50 })).verdict).toBe('within')
  })

  it.each([
    // Independent computation: web measured at 45 °C cools to 22 °C, mm per metre.
    ['PVC', 70e-6, -1.61],
    ['PET film', 17e-6, -0.391],
    ['PP', 100e-6, -2.3],
  ])('of %s as it cools', (_, expansion, millimetre) => {
    expect(answer(thermalGrowth({ expansion, from: 45, to: 22 })).typical * 1000).toBeCloseTo(millimetre, 3)
  })

  it('grows by a range for a range of temperature or of expansion', () => {
    const growth = answer(
      thermalGrowth({
        expansion: { low: 50e-6, typical: 70e-6, high: 100e-6 },
        from: 20,
        to: { low: 35, typical: 40, high: 45 },
      }),
    )
    expect(growth.low).toBeCloseTo(50e-6 * 15, 12)
    expect(growth.high).toBeCloseTo(100e-6 * 25, 12)
  })

  it('shrinks paper over a heater, for the warmed air is dry', () => {
    // Independent computation: 20 °C and 50 %RH warmed to 40 °C is 15.84 %RH.
    const found = answer(paperAtHeat({ air: 20, humidity: 0.5, web: 40, moistureExpansion: 0.005, expansion: 8e-6 }))
    expect(found.humidity.typical).toBeCloseTo(0.1584, 4)
    expect(found.growth.typical).toBeCloseTo(0.005 * (0.1584 - 0.5) + 8e-6 * 20, 6)
    expect(found.growth.typical).toBeLessThan(0)
    expect(thermalGrowth({ expansion: 8e-6, from: 20, to: 40 })).toMatchObject({ ok: true })
    // A web known to 2 K: the warmer end is the drier one and the shorter.
    const wide = answer(
      paperAtHeat({ air: 20, humidity: 0.5, web: { low: 38, typical: 40, high: 42 }, moistureExpansion: 0.005, expansion: 8e-6 }),
    )
    const at = (web: number) => answer(paperAtHeat({ air: 20, humidity: 0.5, web, moistureExpansion: 0.005, expansion: 8e-6 }))
    expect([wide.humidity.low, wide.humidity.high]).toEqual([at(42).humidity.typical, at(38).humidity.typical])
    expect([wide.growth.low, wide.growth.high]).toEqual([at(42).growth.low, at(38).growth.high])
    expect(wide.growth.low).toBeLessThan(wide.growth.typical)
  })

  it('comes with a caution that defers', () => {
    expect(HEAT_CAUTION).toMatch(/safety documents of the machine and the material, local codes and licensed practice/)
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  const ranged = { ...zone, coupling: { low: 50, typical: 80, high: 120 }, heatCapacity: { low: 900, typical: 950, high: 1000 } }
  expect(withstand(webAfterZone, ranged)).toEqual(
    expect.arrayContaining([
      'air',
      'airLoss',
      'conductivity',
      'coupling',
      'dwell',
      'enter',
      'grammage',
      'heatCapacity',
      'set',
      'thickness',
    ]),
  )
  expect(withstand(timeToSettle, { timeConstant: 0.5, share: 0.99 })).toEqual(['share', 'timeConstant'])
  expect(withstand(webHeatPower, { grammage: 0.1, heatCapacity: 950, webWidth: 1.6, webSpeed: 0.003, rise: 23 })).toContain(
    'webWidth',
  )
  expect(withstand(limitMargin, { web: 46, limit: { low: 50, typical: 60, high: 70 } })).toEqual(['limit', 'web'])
  expect(withstand(thermalGrowth, { expansion: 7e-5, from: 20, to: 40 })).toEqual(['expansion', 'from', 'to'])
  expect(withstand(paperAtHeat, { air: 20, humidity: 0.5, web: 40, moistureExpansion: 0.005, expansion: 8e-6 })).toEqual([
    'air',
    'expansion',
    'humidity',
    'moistureExpansion',
    'web',
  ])
  const path = {
    ...pvc,
    stretches: [{ kind: 'zone' as const, name: 'platen', length: 0.3, set: 45 }],
    webSpeed: 0.003,
    air: 23,
    enter: 23,
    airLoss: 15,
  }
  expect(withstand(webPath, path)).toContain('webSpeed')
  expect(withstand(webPath, { ...path, stretches: [{ kind: 'free' as const, name: 'to the roll', length: 0.3 }] })).toContain(
    'airLoss',
  )
})
