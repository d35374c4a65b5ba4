// Every family's typical values: complete, in order, inside what published tables allow, and in agreement with each other.
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import type { Range } from '../../server/src/calc/range.ts'
import { grammageOf } from '../../server/src/calc/roll.ts'
import { tensionGuard } from '../../server/src/calc/web.ts'
import {
  FAMILY_PROPERTIES,
  type FamilyProperty,
  familyOf,
  LAYER_FAMILIES,
  STOCK_FAMILIES,
} from '../../server/src/model/families.ts'

/** 4.4482216152605 N over 0.0254 m (NIST SP 811 App. B), and the same over a mil of thickness: the units of the trade's tension tables. */
const POUND_FORCE_PER_INCH = 4.4482216152605 / 0.0254
const POUND_FORCE_PER_INCH_PER_MIL = POUND_FORCE_PER_INCH / 25.4e-6

const PROPERTIES = Object.keys(FAMILY_PROPERTIES) as FamilyProperty[]
const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problem.reason)
  return outcome.value
}
const rangeOf = (family: string, key: FamilyProperty): Range => {
  const found = familyOf(family)?.property(key)
  if (!found) throw new Error(`${family} has no ${key}`)
  return found.range
}

// The widest span any web material may have, SI. Plastics: Crawford, Plastics Engineering, Table 1.8; PMC9088909 Table 1; film-trade comparison table.
// Paper and cloth: from memory, wide.
const BOUNDS: Readonly<Record<FamilyProperty, readonly [number, number]>> = {
  thickness: [20e-6, 1e-3],
  grammage: [0.03, 1],
  density: [250, 1450],
  modulus: [1e6, 10e9],
  yield: [1e5, 250e6],
  poisson: [0, 0.99],
  expansion: [0, 150e-6],
  'moisture-expansion': [0, 0.05],
  'heat-capacity': [850, 2100],
  conductivity: [0.02, 0.3],
  'max-web-temperature': [40, 110],
  'softens-at': [50, 125],
  friction: [0.1, 1],
  'curl-radius': [0.02, 20],
  'tension-guard': [1e4, 7e6],
}

describe('families', () => {
  it('are those a stock and a layer may name', () => {
    const common = JSON.parse(readFileSync(new URL('../../schemas/common.schema.json', import.meta.url), 'utf8'))
    expect(STOCK_FAMILIES).toEqual(common.$defs.family.enum)
    const stock = JSON.parse(readFileSync(new URL('../../schemas/stock.schema.json', import.meta.url), 'utf8'))
    const layer: { enum?: string[] }[] = stock.properties.layers.items.properties.family.anyOf
    expect(LAYER_FAMILIES).toEqual(layer.find((one) => one.enum)?.enum)
    expect(familyOf('film-of-wishes')).toBeUndefined()
    expect(familyOf('constructor')).toBeUndefined()
    expect(familyOf('film-pet')?.title).toBe('Polyester (PET) film')
  })

  it.each(STOCK_FAMILIES)('%s has every property in order, or says why not', (name) => {
    const family = familyOf(name)!
    for (const key of PROPERTIES) {
      const found = family.property(key)
      if (!found) {
        expect(family.without(key), key).toMatch(/^[A-Z].*\.$/)
        continue
      }
      expect(family.without(key)).toBeUndefined()
      const { low, typical, high } = found.range
      expect(low <= typical && typical <= high, key).toBe(true)
      expect(low, key).toBeGreaterThanOrEqual(BOUNDS[key][0])
      expect(high, key).toBeLessThanOrEqual(BOUNDS[key][1])
      expect(found.source, key).toMatch(/published: |from memory|common practice|computed: /)
    }
  })

  it.each(LAYER_FAMILIES)('%s has what a layer adds to a roll', (name) => {
    for (const key of ['thickness', 'density', 'modulus'] as const) {
      expect(rangeOf(name, key).low).toBeGreaterThan(0)
      expect(familyOf(name)!.property(key)!.source).toMatch(/published: |from memory|common practice/)
    }
    expect(familyOf(name)!.property('softens-at')).toBeUndefined()
  })

  it('hold no value that is not read', () => {
    const data = JSON.parse(readFileSync(new URL('../../schemas/families.json', import.meta.url), 'utf8'))
    for (const [name, family] of Object.entries<{ properties: object }>({ ...data.families, ...data.layers })) {
      for (const key of Object.keys(family.properties))
        expect(familyOf(name)!.property(key as FamilyProperty), `${name} ${key}`).toBeDefined()
    }
  })

  it.each(STOCK_FAMILIES)('%s: density x thickness reaches its grammage', (name) => {
    const [density, thickness, grammage] = (['density', 'thickness', 'grammage'] as const).map((key) => rangeOf(name, key))
    expect(value(grammageOf({ density: density!.low, thickness: thickness!.low }))).toBeLessThanOrEqual(grammage!.low * 1.05)
    expect(value(grammageOf({ density: density!.high, thickness: thickness!.high }))).toBeGreaterThanOrEqual(
      grammage!.high * 0.95,
    )
    expect(
      Math.abs(value(grammageOf({ density: density!.typical, thickness: thickness!.typical })) / grammage!.typical - 1),
    ).toBeLessThan(0.1)
  })
})

describe('published values', () => {
  it.each([
    // Crawford, Plastics Engineering, Table 1.8, in SI: the range must hold them.
    ['film-pvc-calendered', 'density', 1400],
    ['film-pvc-cast', 'density', 1300],
    ['film-pet', 'density', 1360],
    ['film-pp', 'density', 905],
    ['film-pvc-calendered', 'expansion', 70e-6],
    ['film-pvc-cast', 'expansion', 140e-6],
    ['film-pp', 'expansion', 100e-6],
    ['film-pvc-calendered', 'heat-capacity', 900],
    ['film-pet', 'heat-capacity', 1000],
    ['film-pp', 'heat-capacity', 2000],
    ['film-pvc-calendered', 'conductivity', 0.16],
    ['film-pet', 'conductivity', 0.2],
    ['film-pet', 'softens-at', 75],
    ['film-pet', 'max-web-temperature', 110],
    ['film-pvc-cast', 'max-web-temperature', 50],
    // Martienssen & Warlimont, Handbook of Condensed Matter and Materials Data, Table 3.3-6.
    ['film-pp', 'expansion', 143e-6],
    ['film-pp', 'heat-capacity', 1680],
    // NIST WebBook, Chang 1977: 14.11 cal/(mol K) over 62.498 g/mol.
    ['film-pvc-cast', 'heat-capacity', (14.11 * 4.184 * 1000) / 62.498],
    // Film-trade comparison table: 4500 N/mm2 for stretched PET film, 2.5 GPa along for stretched PP film.
    ['film-pet', 'modulus', 4.5e9],
    ['film-pp', 'modulus', 2.5e9],
  ] as const)('%s %s holds %f', (name, key, published) => {
    const { low, high } = rangeOf(name, key)
    expect(low * (1 - 1e-9)).toBeLessThanOrEqual(published)
    expect(high * (1 + 1e-9)).toBeGreaterThanOrEqual(published)
  })

  it('takes stretched film and not bulk resin for polyester', () => {
    // Misuse: 90 ppm/K of bulk PET (Crawford, Table 1.8) for film that is stretched both ways: 17 ppm/K, 5 times less.
    expect(rangeOf('film-pet', 'expansion').typical).toBeCloseTo(17e-6, 12)
    expect(90e-6 / rangeOf('film-pet', 'expansion').high).toBeGreaterThan(4)
  })

  it('never takes a melting point for a limit', () => {
    // Misuse: PP melts at 168 to 175 °C, PET at 245 to 265 °C (PMC9088909 Table 1); a web is spoilt long before.
    for (const name of ['film-pp', 'film-pet', 'film-pvc-cast', 'film-pvc-calendered', 'banner-pvc']) {
      expect(rangeOf(name, 'max-web-temperature').high).toBeLessThan(168 - 40)
      expect(rangeOf(name, 'softens-at').high).toBeLessThan(168 - 40)
    }
    // A web relaxes near its glass transition and before: what is typically allowed stays below where it typically softens.
    for (const name of STOCK_FAMILIES) {
      const softens = familyOf(name)!.property('softens-at')?.range
      if (softens) expect(rangeOf(name, 'max-web-temperature').typical, name).toBeLessThan(softens.typical)
    }
  })

  it.each([
    // Two converting-trade tables, lb/in per mil.
    ['film-pvc-cast', 0.1, 0.15],
    ['film-pvc-calendered', 0.1, 0.15],
    ['banner-pvc', 0.1, 0.15],
    ['film-pp', 0.25, 0.3],
    ['film-pet', 0.75, 0.75],
  ])('%s takes %f to %f lb/in per mil', (name, low, high) => {
    const guard = rangeOf(name, 'tension-guard')
    expect(guard.low / (low * POUND_FORCE_PER_INCH_PER_MIL)).toBeCloseTo(1, 9)
    expect(guard.high / (high * POUND_FORCE_PER_INCH_PER_MIL)).toBeCloseTo(1, 9)
  })

  it.each([
    // Converting-trade table, book paper: g/m2 and lb/in.
    [75, 1.25],
    [90, 1.5],
    [105, 2],
    [120, 3],
    [150, 3.5],
    // Second table, lb per ream of 3000 ft2 (1 lb is 1.62748 g/m2) and lb/in.
    [15 * 1.62748, 0.5],
    [40 * 1.62748, 1.5],
    [80 * 1.62748, 2.5],
  ])('paper of %f g/m2 takes %f lb/in', (grams, pounds) => {
    const tension = pounds * POUND_FORCE_PER_INCH
    for (const [name, bulk] of [
      ['paper-coated', 0.8e-3],
      ['paper-uncoated', 1.25e-3],
    ] as const) {
      const guard = value(tensionGuard({ thickness: grams * 1e-3 * bulk, guardStress: rangeOf(name, 'tension-guard') }))
      expect(guard.low).toBeLessThanOrEqual(tension * 1.02)
      expect(guard.high).toBeGreaterThanOrEqual(tension * 0.98)
    }
  })

  it.each(STOCK_FAMILIES)('%s stays below its yield at the guard tension', (name) => {
    expect(rangeOf(name, 'tension-guard').high).toBeLessThan(rangeOf(name, 'yield').low)
    // Hooke's law: it stretches by less than 1 %.
    expect(rangeOf(name, 'tension-guard').typical / rangeOf(name, 'modulus').typical).toBeLessThan(0.01)
  })
})

describe('any key', () => {
  it('never throws', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.constantFrom('__proto__', 'toString', 'hasOwnProperty')), (key) => {
        expect(familyOf(key)).toBeUndefined()
        expect(familyOf('canvas')!.property(key as FamilyProperty)).toBeUndefined()
        expect(familyOf('canvas')!.without(key as FamilyProperty)).toBeUndefined()
      }),
    )
  })

  it('gives the same object each time', () => {
    const family = familyOf('canvas')!
    expect(family.property('density')).toBe(family.property('density'))
  })
})
