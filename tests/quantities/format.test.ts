// How values are shown and rewritten: units by size, rounding by digits, decimals and uncertainty, steps, and equality across units.
import fc from 'fast-check'
import { type BigNumber, bignumber } from 'mathjs'
import { describe, expect, test } from 'vitest'
import { compareQuantities, equalQuantities } from '../../server/src/quantities/compare.ts'
import { convert, inUnit } from '../../server/src/quantities/convert.ts'
import {
  type FormatOptions,
  formatQuantity,
  formatSi,
  rewriteIn,
  stepDecimals,
  toStep,
} from '../../server/src/quantities/format.ts'
import { parseQuantity } from '../../server/src/quantities/parse.ts'
import type { Quantity } from '../../server/src/quantities/quantity.ts'
import { type Dimension, findUnit } from '../../server/src/quantities/units.ts'
import { runs } from '../support/counts.ts'

function read(text: string, dimension: Dimension): Quantity {
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) throw new Error(parsed.problem.message)
  return parsed.value
}

describe('a value is shown in a unit that suits its size', () => {
  test.each([
    [180e-6, 'length', '180 µm', '7.08661 mil'],
    [1.8e-3, 'length', '1.8 mm', '70.8661 mil'],
    [0.9144, 'length', '914.4 mm', '36 in'],
    [50, 'length', '50 m', '164.042 ft'],
    [0, 'length', '0 mm', '0 in'],
    [40, 'temperature', '40 °C', '104 °F'],
    [0.0012, 'relative', '0.12 %', '0.12 %'],
    [5e-5, 'relative', '50 ppm', '50 ppm'],
    [0, 'relative', '0 %', '0 %'],
    [800, 'pressure', '800 Pa', '3.2117 inH2O'],
    [2000, 'pressure', '2 kPa', '8.02926 inH2O'],
    [30, 'line-tension', '30 N/m', '0.171304 lbf/in'],
    [2.4e9, 'modulus', '2.4 GPa', '348091 psi'],
    [40e6, 'modulus', '40 MPa', '5801.51 psi'],
    [0.13, 'grammage', '130 g/m²', '3.83416 oz/yd²'],
    [0.02, 'speed', '20 mm/s', '3.93701 ft/min'],
    [1.2, 'speed', '1.2 m/s', '236.22 ft/min'],
    [0.01, 'area-rate', '36 m²/h', '387.501 ft²/h'],
    [90, 'time', '90 s', '90 s'],
    [600, 'time', '10 min', '10 min'],
    [30 * 86400, 'time', '30 d', '30 d'],
    [70e-6, 'expansion', '70 ppm/K', '70 ppm/K'],
    [7e-15, 'volume', '7 pL', '7 pL'],
    [0.118, 'molar-mass', '118 g/mol', '118 g/mol'],
  ] as const)('%d as %s: %s, %s', (si, dimension, metric, us) => {
    expect(formatSi(si, dimension)).toBe(metric)
    expect(formatSi(si, dimension, { system: 'us' })).toBe(us)
  })
})

describe('rounding', () => {
  const shown = (si: number, options: FormatOptions): string => formatSi(si, 'length', { unit: 'mm', ...options })

  test.each([
    [0.4994, { digits: 3 }, '499 mm'],
    [0.4996, { digits: 2 }, '500 mm'],
    [0.025, { digits: 6 }, '25 mm'],
    [0.025, { decimals: 2 }, '25.00 mm'],
    [0.001005, { decimals: 2 }, '1.01 mm'], // half away from zero as decimals, where binary would give 1.00
    [-0.001005, { decimals: 2 }, '-1.01 mm'],
    [-0.0000001, { decimals: 2 }, '0.00 mm'],
    [-0, {}, '0 mm'],
    [0.0012, { sign: true }, '+1.2 mm'],
    [-0.0012, { sign: true }, '-1.2 mm'],
    [0, { sign: true }, '0 mm'],
    [0.3 - 0.1, {}, '200 mm'],
    [Number.NaN, {}, '—'],
    [Number.POSITIVE_INFINITY, {}, '—'],
  ] as const)('%d m with %o is %s', (si, options, text) => expect(shown(si, options)).toBe(text))

  // GUM 7.2.6: at most two significant digits of uncertainty, and the value to the same place.
  test.each([
    [0.4994, 0.0003, '499.40 ±0.30 mm'],
    [0.49937, 0.000123, '499.37 ±0.12 mm'],
    [0.49937, 0.0000996, '499.37 ±0.10 mm'],
    [12.3456, 0.0124, '12346 ±12 mm'],
    [12.3456, 0.124, '12350 ±120 mm'],
    [-0.00001, 0.0005, '-0.01 ±0.50 mm'],
    [0.4994, 0, '499.4 mm'],
    [0.4994, Number.NaN, '499.4 mm'],
  ])('%d m with uncertainty %d m is %s', (si, uncertainty, text) => expect(shown(si, { uncertainty })).toBe(text))

  // GUM 7.2.6's own example: R = 10.057 62 Ω with u = 27 mΩ is written 10.058 Ω (here metres for ohms).
  test('the example of GUM 7.2.6', () => {
    expect(formatSi(10.05762, 'length', { unit: 'm', uncertainty: 0.027 })).toBe('10.058 ±0.027 m')
  })

  test('an uncertainty of a temperature is shown as a difference', () => {
    expect(formatSi(23, 'temperature', { unit: '°F', uncertainty: 0.5 })).toBe('73.40 ±0.90 °F')
  })

  test('a unit of another dimension is passed over', () => expect(formatSi(0.5, 'length', { unit: 'N/m' })).toBe('500 mm'))
})

describe('any number, held against the decimals of mathjs', () => {
  // From a hundred-thousandth to a hundred million, both signs, and what stands just beside a half.
  const value = fc.oneof(
    fc.tuple(fc.double({ min: -8, max: 8, noNaN: true }), fc.boolean()).map(([power, minus]) => (minus ? -1 : 1) * 10 ** power),
    fc
      .tuple(fc.integer({ min: -2_000_000, max: 2_000_000 }), fc.integer({ min: 0, max: 6 }))
      .map(([n, d]) => (n + 0.5) / 10 ** d),
  )
  const reference = (x: number): BigNumber => bignumber(Number(x.toPrecision(15)))
  const metres = (x: number, options: FormatOptions): string => formatSi(x, 'length', { unit: 'm', ...options }).replace(' m', '')

  test('to so many decimals, halves away from zero', () =>
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 6 }), (x, decimals) => {
        const expected = reference(x).toFixed(decimals, 4) // 4: half up, away from zero
        expect(metres(x, { decimals })).toBe(/[1-9]/.test(expected) ? expected : expected.replace('-', ''))
      }),
      { numRuns: runs(5000) },
    ))

  test('to so many digits, but for halves, which may go either way', () =>
    fc.assert(
      fc.property(value, fc.integer({ min: 1, max: 12 }), (x, digits) => {
        const ways = [4, 5].map((way) =>
          reference(x)
            .toSignificantDigits(digits, way as 4 | 5)
            .toFixed(),
        )
        expect(ways).toContain(metres(x, { digits }))
      }),
      { numRuns: runs(5000) },
    ))
})

describe('a quantity is shown in its own unit', () => {
  test.each([
    ['19 11/16 in', 'length', '19.6875 in'],
    ['499.4 ±0.3 mm', 'length', '499.40 ±0.30 mm'],
    ['600 x 1200 dpi', 'resolution', '600 x 1200 dpi'],
    ['600 dpi', 'resolution', '600 dpi'],
    ['73.4 °F', 'temperature', '73.4 °F'],
  ] as const)('%s', (text, dimension, shown) => expect(formatQuantity(read(text, dimension))).toBe(shown))

  test('or in a system that is asked for', () => {
    expect(formatQuantity(read('36 in', 'length'), { system: 'metric' })).toBe('914.4 mm')
    expect(formatQuantity(read('23 °C', 'temperature'), { system: 'us' })).toBe('73.4 °F')
  })
})

describe('convert to …', () => {
  test.each([
    ['1 in', 'length', 'mm', '25.4 mm'],
    ['19 11/16 in', 'length', 'mm', '500.0625 mm'],
    ['1/180 in', 'length', 'mm', '0.1 mm'],
    ['500 mm', 'length', 'in', '19.69 in'],
    ['500 mm', 'length', 'm', '0.5 m'],
    ['0.12 %', 'relative', 'ppm', '1200 ppm'],
    ['1.2 mm/m', 'relative', '%', '0.12 %'],
    ['73 °F', 'temperature', '°C', '22.8 °C'],
    ['73.4 °F', 'temperature', '°C', '23 °C'],
    ['23 °C', 'temperature', 'K', '296.15 K'],
    ['−40 °F', 'temperature', '°C', '-40 °C'],
    ['0.25 inH2O', 'pressure', 'Pa', '62.2722275 Pa'],
    ['20 mbar', 'pressure', 'inH2O', '8.0 inH2O'],
    ['130 g/m²', 'grammage', 'oz/yd²', '3.83 oz/yd²'],
    ['36 m²/h', 'area-rate', 'ft²/h', '388 ft²/h'],
    ['499.4 ±0.3 mm', 'length', 'µm', '499400 ±300 µm'],
    ['499.4 ±0.3 mm', 'length', 'in', '19.661 ±0.012 in'],
    ['73.4 ±0.9 °F', 'temperature', '°C', '23 ±0.5 °C'],
  ] as const)('%s as %s in %s is %s', (text, dimension, unit, rewritten) => {
    expect(rewriteIn(read(text, dimension), findUnit(unit, dimension)!)).toBe(rewritten)
  })

  test('a unit of another dimension leaves the value as it is', () => {
    expect(rewriteIn(read('500 mm', 'length'), findUnit('N/m')!)).toBe('500 mm')
    expect(convert(read('500 mm', 'length'), findUnit('N/m')!)).toBeUndefined()
    expect(inUnit(0.5, 'length', 'N/m')).toBeUndefined()
  })

  test('as a plain number', () => {
    expect(convert(read('1 in', 'length'), findUnit('mm')!)).toBe(25.4)
    expect(inUnit(0.0012, 'relative', 'ppm')).toBe(1200)
  })
})

describe('a value set in steps', () => {
  test.each([
    [0.1234, 0.01, 'nearest', 0.12],
    [0.125, 0.01, 'nearest', 0.13],
    [-0.125, 0.01, 'nearest', -0.13],
    [0.3, 0.1, 'down', 0.3], // 0.3 / 0.1 is 2.9999999999999996
    [0.3, 0.1, 'up', 0.3],
    [0.31, 0.1, 'up', 0.4],
    [0.39, 0.1, 'down', 0.3],
    [-0.31, 0.1, 'down', -0.4],
    [43, 5, 'nearest', 45],
    [0.7, 0.1, 'nearest', 0.7], // 7 × 0.1 is 0.7000000000000001
    [0.000396875 * 7 + 1e-6, 0.000396875, 'nearest', 0.002778125],
  ] as const)('%d in steps of %d, %s, is %d', (value, step, mode, result) => expect(toStep(value, step, mode)).toBe(result))

  test.each([
    [1, 0],
    [1, -1],
    [1, Number.NaN],
    [Number.NaN, 1],
    [Number.POSITIVE_INFINITY, 1],
    [1, Number.POSITIVE_INFINITY],
  ])('%d in steps of %d is no value', (value, step) => expect(toStep(value, step)).toBeUndefined())

  test('never a negative zero', () => expect(Object.is(toStep(-0.001, 0.1), 0)).toBe(true))

  test.each([
    [0.01, 2],
    [0.5, 1],
    [5, 0],
    [100, 0],
    [0.00001, 5],
    [1e-7, 7],
    [0.1 + 0.2, 1],
    [0, 0],
  ])('a step of %d shows %d decimals', (step, decimals) => expect(stepDecimals(step)).toBe(decimals))
})

describe('equal after conversion is equal', () => {
  test.each([
    ['1 in', '25.4 mm', 'length'],
    ['10 mm', '1 cm', 'length'],
    ['1/180 in', '0.141111111111111111 mm', 'length'],
    ['19 11/16 in', '500.0625 mm', 'length'],
    ['0.12 %', '1200 ppm', 'relative'],
    ['73.4 °F', '23 °C', 'temperature'],
    ['73.4 °F', '296.15 K', 'temperature'],
    ['20 mbar', '2 kPa', 'pressure'],
    ['24 h', '1 d', 'time'],
    ['600 dpi', '600 x 600 dpi', 'resolution'],
    ['499.4 ±0.3 mm', '499400 +/- 300 µm', 'length'],
  ] as const)('%s = %s', (a, b, dimension) => {
    expect(equalQuantities(read(a, dimension), read(b, dimension))).toBe(true)
    expect(compareQuantities(read(a, dimension), read(b, dimension))).toBe(0)
  })

  test.each([
    ['1 in', '25.40001 mm', 'length'],
    ['0.12 %', '0.1200000001 %', 'relative'],
    ['600 dpi', '600 x 1200 dpi', 'resolution'],
    ['73.4 °F', '23.0001 °C', 'temperature'],
  ] as const)('%s < %s', (a, b, dimension) => {
    expect(equalQuantities(read(a, dimension), read(b, dimension))).toBe(false)
    expect(compareQuantities(read(a, dimension), read(b, dimension))).toBe(-1)
    expect(compareQuantities(read(b, dimension), read(a, dimension))).toBe(1)
  })

  test('an uncertainty counts for equality, not for order', () => {
    const [plain, stated] = [read('499.4 mm', 'length'), read('499.4 ±0.3 mm', 'length')]
    expect(equalQuantities(plain, stated)).toBe(false)
    expect(compareQuantities(plain, stated)).toBe(0)
  })

  test('a temperature and a difference of so many kelvin are not comparable', () => {
    expect(compareQuantities(read('5 K', 'temperature'), read('5 K', 'temperature-difference'))).toBeUndefined()
    expect(equalQuantities(read('278.15 K', 'temperature'), read('5 K', 'temperature-difference'))).toBe(false)
  })
})
