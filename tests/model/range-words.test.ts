// Ranges in words: as many digits as are known, temperatures in whole degrees, and no number where the range says that none is known.
import { describe, expect, test } from 'vitest'
import { rangeText } from '../../server/src/model/range-words.ts'
import { displayUnit } from '../../server/src/quantities/display-unit.ts'
import { formatSi } from '../../server/src/quantities/format.ts'

describe('temperatures', () => {
  const web = { low: 111.4, typical: 113.3, high: 115.3 }

  test('are told in whole degrees above 100 too', () => {
    expect(rangeText(web, 'temperature')).toBe('113 °C (111 to 115)')
  })

  // 113.3 °C = 235.94 °F, 111.4 °C = 232.52 °F, 115.3 °C = 239.54 °F by the definition of the degree Fahrenheit.
  test('also in degrees Fahrenheit', () => {
    expect(rangeText(web, 'temperature', { units: 'us' })).toBe('236 °F (233 to 240)')
    expect(rangeText({ low: 39.06, typical: 41, high: 42.39 }, 'temperature', { units: 'us' })).toBe('106 °F (102 to 108)')
  })

  test('and margins to a limit add up with them', () => {
    const margin = { low: 150 - web.high, typical: 150 - web.typical, high: 150 - web.low }
    expect(rangeText(margin, 'temperature-difference')).toBe('37 K (35 to 39)')
    expect(rangeText(margin, 'temperature-difference', { units: 'us' })).toBe('66 °F (62 to 69)')
  })
})

describe('a range of three decades', () => {
  test('is told as not known', () => {
    expect(rangeText({ low: 1.2e-7, typical: 32e-6, high: 0.062 }, 'length')).toBe('anywhere from 0.12 µm to 62 mm (not known)')
  })

  test('also from its typical value where its low end is nothing', () => {
    expect(rangeText({ low: 0, typical: 54e-6, high: 0.076 }, 'length', { unit: 'µm', least: 1e-6 })).toBe(
      'anywhere up to 76 mm (not known)',
    )
  })

  test('but one of less keeps its typical value', () => {
    expect(rangeText({ low: 0, typical: 1e-9, high: 180e-6 }, 'length', { unit: 'µm', least: 1e-6 })).toBe(
      'below 1 µm (up to 180)',
    )
    expect(rangeText({ low: 3.8e-6, typical: 32e-6, high: 1.3e-3 }, 'length')).toBe('32 µm (3.8 to 1300)')
    expect(rangeText({ low: 0, typical: 1.1e-3, high: 2e-3 }, 'length')).toBe('1.1 mm (0 to 2)')
  })
})

test('a time shorter than a hundredth of a second is told in milliseconds', () => {
  expect(formatSi(0.0003846, 'time', { digits: 2, unit: displayUnit(0.0003846, 'time', 'metric').id })).toBe('0.38 ms')
  expect(displayUnit(0, 'time', 'metric').id).toBe('s')
})

test('a low end below zero is told: a print may still be wet when it is wound', () => {
  expect(rangeText({ low: -68, typical: 92, high: 220 }, 'time')).toBe('92 s (-68 to 220)')
  expect(rangeText({ low: -0.0013, typical: -0.0011, high: -0.001 }, 'relative', { unit: '%' })).toBe('-0.11 % (-0.13 to -0.1)')
  // What nobody reads is still none.
  expect(rangeText({ low: 1e-9, typical: 1e-4, high: 2e-4 }, 'length', { unit: 'mm', least: 1e-6 })).toBe('0.1 mm (up to 0.2)')
})
