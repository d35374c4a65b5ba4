// The unit table against the world: the factors of NIST SP 811, and two conversion libraries that were written by others.

import { createRequire } from 'node:module'
import { unit as mathUnit } from 'mathjs'
import { describe, expect, test } from 'vitest'
import { fromSi, toSi } from '../../server/src/quantities/convert.ts'
import { canonicalUnit, DIMENSIONS, type Dimension, findUnit, UNITS, unitsOf } from '../../server/src/quantities/units.ts'

// js-quantities ships no types; its one function is enough here.
const qty = createRequire(import.meta.url)('js-quantities') as (text: string) => { toBase(): { scalar: number } }

const si = (number: number, spelling: string, dimension: Dimension): number => toSi(number, findUnit(spelling, dimension)!)

/** Seven significant digits, as the Guide prints them. */
const printed = (value: number): string => Number(value.toPrecision(7)).toExponential()

describe('NIST SP 811, Appendix B.8: to convert from … to …, multiply by …', () => {
  // The values were read in a published copy of the table (the R package NISTunits), except where a line says otherwise.
  const table: readonly (readonly [entry: string, spelling: string, dimension: Dimension, factor: number])[] = [
    ['inch (in) to meter', 'in', 'length', 2.54e-2], // from memory; exact since 1959
    ['foot (ft) to meter', 'ft', 'length', 3.048e-1],
    ['mil (0.001 in) to meter', 'mil', 'length', 2.54e-5],
    ['inch per second (in/s) to meter per second', 'in/s', 'speed', 2.54e-2],
    ['foot per minute (ft/min) to meter per second', 'ft/min', 'speed', 5.08e-3],
    ['square foot per hour (ft2/h) to square meter per second', 'ft²/h', 'area-rate', 2.58064e-5],
    ['millibar (mbar) to pascal', 'mbar', 'pressure', 1e2],
    ['inch of water, conventional (inH2O) to pascal', 'inH2O', 'pressure', 2.490889e2],
    ['millimeter of water, conventional (mmH2O) to pascal', 'mmH2O', 'pressure', 9.80665],
    ['pound-force per inch (lbf/in) to newton per meter', 'lbf/in', 'line-tension', 1.751268e2],
    ['psi (pound-force per square inch) to pascal', 'psi', 'modulus', 6.894757e3],
    ['kip per square inch (ksi) to pascal', 'ksi', 'modulus', 6.894757e6], // from memory
    ['ounce (avoirdupois) per square yard (oz/yd2) to kilogram per square meter', 'oz/yd²', 'grammage', 3.390575e-2],
    ['gram per cubic centimeter (g/cm3) to kilogram per cubic meter', 'g/cm³', 'density', 1e3], // from memory
    ['minute (min) to second', 'min', 'time', 6e1], // from memory
    ['hour (h) to second', 'h', 'time', 3.6e3], // from memory
    ['day (d) to second', 'd', 'time', 8.64e4], // from memory
  ]
  test.each(table)('%s', (_entry, spelling, dimension, factor) => {
    expect(printed(si(1, spelling, dimension))).toBe(printed(factor))
  })

  // "degree Fahrenheit (°F) to degree Celsius (°C): t/°C = (t/°F − 32)/1.8", from memory; the fixed points of water are exact in it.
  test.each([
    [32, 0],
    [212, 100],
    [73.4, 23],
    [-40, -40],
  ])('%d °F is %d °C', (fahrenheit, celsius) => {
    expect(si(fahrenheit, '°F', 'temperature')).toBe(celsius)
    expect(fromSi(celsius, findUnit('°F', 'temperature')!)).toBe(fahrenheit)
  })

  // NIST SP 811, Appendix B.8: "degree Fahrenheit (°F) to kelvin (K), as an interval": K = °F/1.8, from memory.
  test('a difference of 1 °F is 5/9 K, without the offset of the scale', () => {
    expect(si(1, '°F', 'temperature-difference')).toBe(5 / 9)
    expect(si(180, '°F', 'temperature-difference')).toBe(100)
  })

  // "kelvin (K) to degree Celsius (°C): t/°C = T/K − 273.15", SI Brochure.
  test('296.15 K is 23 °C', () => expect(si(296.15, 'K', 'temperature')).toBe(23))

  test('the inch of water is the conventional one, not that of 39.2 °F or 60 °F water', () => {
    // The same table: inch of water (39.2 °F) 2.49082 E+02, inch of water (60 °F) 2.4884 E+02.
    expect(si(1, 'inH2O', 'pressure')).toBe(249.08891)
    expect(si(1, 'inH2O', 'pressure') / 249.082 - 1).toBeCloseTo(2.8e-5, 5)
    expect(si(1, 'inH2O', 'pressure') / 248.84 - 1).toBeCloseTo(1e-3, 4)
  })
})

describe('exact ratios', () => {
  test.each([
    ['pound-force 4.4482216152605 N over inch 0.0254 m', 'lbf/in', 'line-tension', 4.4482216152605 / 0.0254],
    ['pound-force over square inch', 'psi', 'modulus', 4.4482216152605 / 0.0254 ** 2],
    ['ounce 0.028349523125 kg over square yard 0.9144 m', 'oz/yd²', 'grammage', 0.028349523125 / 0.9144 ** 2],
    ['square foot over hour', 'ft²/h', 'area-rate', 0.3048 ** 2 / 3600],
    ['inch of water, 25.4 × 9.80665 Pa', 'inH2O', 'pressure', 25.4 * 9.80665],
  ] as const)('%s', (_text, spelling, dimension, expected) => {
    expect(Math.abs(si(1, spelling, dimension) / expected - 1)).toBeLessThan(4e-16)
  })

  test('numerators and denominators are whole numbers that a double holds exactly', () => {
    for (const { ratio } of UNITS) expect(ratio.every(Number.isSafeInteger)).toBe(true)
  })
})

describe('against js-quantities', () => {
  // Its inch of water is that of 39.2 °F water (0.003 % less), its psi is rounded to 6894.76, and its degC is a difference: hence the tolerances
  // and the tempF reading below.
  test.each([
    ['1 inH2O', 'inH2O', 'pressure', 2e-3],
    ['1 psi', 'psi', 'modulus', 1e-6],
    ['1 lbf/in', 'lbf/in', 'line-tension', 1e-6],
    ['1 mbar', 'mbar', 'pressure', 1e-12],
    ['1 hPa', 'hPa', 'pressure', 1e-12],
    ['1 ft', 'ft', 'length', 1e-12],
    ['1 mil', 'mil', 'length', 1e-12],
    ['1 ft/min', 'ft/min', 'speed', 1e-12],
    ['1 ft^2/h', 'ft²/h', 'area-rate', 1e-12],
    ['1 day', 'd', 'time', 1e-12],
    ['1 ppm', 'ppm', 'relative', 1e-12],
    ['1 pl', 'pL', 'volume', 1e-12],
    ['1 ml', 'mL', 'volume', 1e-12],
    ['1 oz/yd^2', 'oz/yd²', 'grammage', 1e-6],
    ['1 g/mol', 'g/mol', 'molar-mass', 1e-12],
  ] as const)('%s', (theirs, spelling, dimension, tolerance) => {
    expect(Math.abs(si(1, spelling, dimension) / qty(theirs).toBase().scalar - 1)).toBeLessThan(tolerance)
  })

  test('a Fahrenheit reading', () => {
    expect(si(73.4, '°F', 'temperature')).toBeCloseTo(qty('73.4 tempF').toBase().scalar - 273.15, 9)
  })
})

describe('against mathjs', () => {
  // mathjs has no inch of water, so the millimetre stands for it: 25.4 mmH2O.
  test.each([
    [25.4, 'mmH2O', 'inH2O', 'pressure'],
    [1, 'mmH2O', 'mmH2O', 'pressure'],
    [1, 'mbar', 'mbar', 'pressure'],
    [1, 'psi', 'psi', 'modulus'],
    [1, 'lbf/in', 'lbf/in', 'line-tension'],
    [1, 'N/cm', 'N/cm', 'line-tension'],
    [1, 'mil', 'mil', 'length'],
    [1, 'in', 'in', 'length'],
    [1, 'ft/min', 'ft/min', 'speed'],
    [1, 'ft^2/hour', 'ft²/h', 'area-rate'],
    [1, 'm^2/hour', 'm²/h', 'area-rate'],
    [1, 'day', 'd', 'time'],
    [1, 'oz/yd^2', 'oz/yd²', 'grammage'],
    [1, 'g/m^2', 'g/m²', 'grammage'],
    [1, 'g/cm^3', 'g/cm³', 'density'],
    [1, 'g/mol', 'g/mol', 'molar-mass'],
    [1, 'kJ/(kg K)', 'kJ/kgK', 'heat-capacity'],
    [1, 'W/(m^2 K)', 'W/m²K', 'coupling'],
  ] as const)('%d %s', (number, theirs, spelling, dimension) => {
    const other = mathUnit(number, theirs).toSI().toJSON().value
    expect(Math.abs(si(1, spelling, dimension) / other - 1)).toBeLessThan(1e-9)
  })
})

describe('published pairs of the converting trade', () => {
  // Book papers table: 3.0 lb/in with 0.54 kg/cm, 5.5 with 0.98, 8.0 with 1.43 (kilogram-force, 9.80665 N).
  test.each([
    [3.0, 0.54],
    [5.5, 0.98],
    [8.0, 1.43],
  ])('%d lbf/in is %d kgf/cm', (pounds, kilograms) => {
    expect(si(pounds, 'lbf/in', 'line-tension') / 9.80665 / 100).toBeCloseTo(kilograms, 2)
  })
})

describe('the table itself', () => {
  test('every dimension has a canonical unit, and every spelling finds its unit', () => {
    for (const dimension of DIMENSIONS) {
      expect(canonicalUnit(dimension)).toBe(unitsOf(dimension)[0])
      for (const u of unitsOf(dimension)) for (const s of u.spellings) expect(findUnit(s, dimension)).toBe(u)
    }
  })

  test('a spelling has one SI value wherever it may stand, a degree as reading or as difference aside', () => {
    for (const u of UNITS) {
      for (const other of UNITS.filter((o) => o !== u && o.spellings.some((s) => u.spellings.includes(s)))) {
        expect(u.id).toBe(other.id)
        expect([u.dimension, other.dimension].sort()).toEqual(['temperature', 'temperature-difference'])
      }
    }
  })

  test.each([
    ['both signs of micro, and u', ['µm', 'μm', 'um'], 'length', 'µm'],
    ['degrees', ['°C', 'degC', '℃'], 'temperature', '°C'],
    ['grammage', ['g/m²', 'g/m2', 'gsm'], 'grammage', 'g/m²'],
    ['ounces', ['oz/yd²', 'oz/yd2'], 'grammage', 'oz/yd²'],
    ['areas an hour', ['m²/h', 'm2/h'], 'area-rate', 'm²/h'],
    ['coupling', ['W/m²K', 'W/m2K', 'W/(m²·K)', 'W/(m2K)'], 'coupling', 'W/m²K'],
    ['pounds an inch', ['lbf/in', 'pli'], 'line-tension', 'lbf/in'],
    ['inches a second', ['in/s', 'ips'], 'speed', 'in/s'],
    ['expansion', ['µm/m/K', 'μm/m/K', 'um/m/K'], 'expansion', 'µm/m/K'],
    ['density', ['kg/m³', 'kg/m3'], 'density', 'kg/m³'],
  ] as const)('%s', (_name, spellings, dimension, id) => {
    expect(spellings.map((s) => findUnit(s, dimension)?.id)).toEqual(spellings.map(() => id))
  })

  test('alone, K is a difference and % a relative amount', () => {
    expect(findUnit('K')?.dimension).toBe('temperature-difference')
    expect(findUnit('%')?.dimension).toBe('relative')
    expect(findUnit('furlong')).toBeUndefined()
  })
})
