// What the calculations take where nobody gives a number, as the source beside each constant has it; and the ends up to which a number is taken
// for what it says it is.
import { describe, expect, it } from 'vitest'
import { fitCoupling, READING_UNCERTAINTY } from '../../server/src/calc/coupling.ts'
import { HALVING_STEP } from '../../server/src/calc/drying.ts'
import { AIR_LOSS, CONTACT_COUPLING, webAfterZone } from '../../server/src/calc/heat.ts'
import { dilutionForFire, dilutionForHealth, MIXING, WATER_LATENT_HEAT } from '../../server/src/calc/vapour.ts'
import { must, refusal } from './must.ts'

it.each([
  // ACGIH, Industrial Ventilation, from memory.
  ['the mixing of a room', MIXING, { low: 3, typical: 5, high: 10 }],
  // Steam tables: 2.40 MJ/kg at 40 °C, from memory.
  ['the heat that evaporates water', WATER_LATENT_HEAT, 2.4e6],
  // Engineering estimates, from memory: still air of 0.026 W/(m K) is 50 µm thick at 520 W/(m2 K), and 0.5 mm at 52.
  ['the coupling of a web to its heater', CONTACT_COUPLING, { low: 50, typical: 200, high: 500 }],
  ['the loss to the air', AIR_LOSS, { low: 10, typical: 15, high: 25 }],
  // Common practice: about 10 K.
  ['the warming that halves the drying time', HALVING_STEP, { low: 8, typical: 10, high: 15 }],
  ['the uncertainty of a thermometer on a web', READING_UNCERTAINTY, 1],
])('%s', (_, constant, source) => expect(constant).toEqual(source))

describe('a vapour', () => {
  const source = { massRate: 1e-5, molarMass: 0.118, airTemperature: 25 }
  const health = (more: object) => dilutionForHealth({ ...source, limit: 20e-6, mixing: 5, ...more })
  const fire = (more: object) => dilutionForFire({ ...source, lowerExplosiveLimit: 0.011, hottest: 60, ...more })

  it.each([
    // A number beyond was meant in another unit, or belongs to no solvent.
    ['limit', health, 0.01, 0.01001],
    ['mixing', health, 1, 0.999],
    ['molarMass', health, 1, 1.001],
    ['lowerExplosiveLimit', fire, 0.2, 0.2001],
    ['hottest', fire, 200, 200.1],
    ['safety', fire, 4, 3.999],
  ])('has a %s up to the end that is named', (input, dilution, last, beyond) => {
    expect(dilution({ [input]: last })).toMatchObject({ ok: true })
    expect(refusal<unknown>(dilution({ [input]: beyond })).input).toBe(input)
  })

  // ACGIH, Industrial Ventilation (from memory): above 250 °F, 121.1 °C, the limit counts as 0.7 of itself.
  it('needs 1/0.7 of the air once it is hotter than the step of the handbook', () => {
    const air = (hottest: number) => must(fire({ hottest })).air.typical
    expect(air(121.1)).toBe(air(25))
    expect(air(121.2) / air(25)).toBeCloseTo(1 / 0.7, 12)
  })

  // Zabetakis: 0.0721 % a kelvin; n-hexane and acetone by Ludwig, table 7-22: 0.135 % and 0.222 %. At 125 °C that is 7.21, 13.5 and 22.2 %.
  it('needs more air as its explosive limit falls with heat', () => {
    const { air, airAtLoweredLimit: lowered } = must(fire({ hottest: 115 }))
    const shares = [lowered.low, lowered.typical, lowered.high].map((flow) => air.typical / flow)
    expect(shares).toEqual([0.0721, 0.135, 0.222].map((loss) => expect.closeTo(1 - loss * 0.9, 12)))
  })

  // CODATA 2018: R = 8.314 462 618 J/(mol K); a mole at 25 °C and 101 325 Pa is 24.4654 L.
  it('fills 24.4654 L/mol at 25 °C', () => {
    expect((must(health({})).vapour.typical * source.molarMass) / source.massRate).toBeCloseTo(0.0244654, 6)
  })
})

describe('a web on its heater', () => {
  const web = { grammage: 0.112, heatCapacity: 950, set: 50, enter: 23, air: 23, airLoss: 15, dwell: 1 }
  const zone = (biot: number) => webAfterZone({ ...web, coupling: 100, thickness: 1e-4, conductivity: 1e-2 / biot })

  // Incropera; Cengel: one temperature up to a Biot number of 0.1.
  it('has one temperature up to a Biot number of 0.1, and an estimate of it up to 0.3', () => {
    expect([0.1, 0.1005, 0.3].map((biot) => must(zone(biot * (1 - 1e-12))).trust)).toEqual(['good', 'approximate', 'approximate'])
    expect(refusal(zone(0.301)).input).toBe('thickness')
  })

  it('is refused a thickness and a conductivity that none can have', () => {
    for (const input of ['thickness', 'conductivity'])
      expect(refusal(webAfterZone({ ...web, coupling: 100, thickness: 1e-4, conductivity: 0.2, [input]: 0 }))).toMatchObject({
        input,
        reason: expect.stringContaining('above zero'),
      })
  })

  it('is not fitted to readings that cannot tell its coupling', () => {
    const refused = (...readings: object[]) =>
      refusal(fitCoupling({ readings: readings as Parameters<typeof fitCoupling>[0]['readings'], air: 23, airLoss: 15 }))
    const reading = { zone: 'platen', set: 50, web: 40 }
    expect(refused()).toMatchObject({ input: 'readings', reason: expect.stringContaining('no reading') })
    expect(refused({ ...reading, web: -300 })).toMatchObject({ input: 'web', reason: expect.stringContaining('absolute zero') })
    expect(refused({ ...reading, set: 1001 })).toMatchObject({ input: 'set', reason: expect.stringContaining('1000') })
    expect(refused(reading, { ...reading, zone: 'after' })).toMatchObject({ reason: expect.stringContaining('one zone') })
    expect(refused({ ...reading, set: 27.9 })).toMatchObject({ input: 'set', reason: expect.stringContaining('5 K') })
    expect(fitCoupling({ readings: [{ ...reading, set: 28, web: 26 }] as never, air: 23, airLoss: 15 })).toMatchObject({
      ok: true,
    })
  })
})
