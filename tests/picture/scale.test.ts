// Scales and ticks: round numbers as published for d3-array, days as the calendar has them.
import { expect, test } from 'vitest'
import { dayTicks, linear, logarithmic, logTicks, ticks } from '../../server/src/picture/scale.ts'

test('ticks are 1, 2 or 5 times a power of ten apart', () => {
  // d3-array's documentation: ticks(0, 1, 5) is [0, 0.2, 0.4, 0.6, 0.8, 1].
  expect(ticks(0, 1, 6).map(({ text }) => text)).toEqual(['0', '0.2', '0.4', '0.6', '0.8', '1.0'])
  expect(ticks(-0.31, 0.12, 6, true).map(({ text }) => text)).toEqual(['-0.3', '-0.2', '-0.1', '0', '+0.1'])
  expect(ticks(20, 61, 7).map(({ text }) => text)).toEqual(['20', '30', '40', '50', '60'])
  expect(ticks(0.123, 0.1234, 5).length).toBeLessThanOrEqual(5)
  expect(ticks(3, 3, 5)).toEqual([{ value: 3, text: '3' }])
})

test('ticks of logarithms are powers of ten, with steps between where these are few', () => {
  expect(logTicks(0.1, 1000).map(({ text }) => text)).toEqual(['0.1', '1', '10', '100', '1000'])
  expect(logTicks(1, 100).map(({ text }) => text)).toEqual(['1', '2', '5', '10', '20', '50', '100'])
})

test('a value lies where its share of the way is', () => {
  expect(linear(10, 20, 100, 300).at(15)).toBe(200)
  expect(linear(10, 10, 100, 300).at(10)).toBe(100)
  expect(logarithmic(0.1, 1000, 0, 400).at(10)).toBeCloseTo(200)
  expect(logarithmic(0.1, 1000, 0, 400).at(0)).toBe(0)
})

test('days are told singly, by weeks, by first days of months, and by years, as the calendar has them', () => {
  const texts = (low: number, high: number): string[] => dayTicks('2026-11-25', low, high, 4).map(({ text }) => text)
  expect(texts(-3, 0)).toEqual(['2026-11-22', '2026-11-23', '2026-11-24', '2026-11-25'])
  expect(texts(-20, 0)).toEqual(['2026-11-05', '2026-11-12', '2026-11-19'])
  expect(texts(-100, 0)).toEqual(['2026-09', '2026-10', '2026-11'])
  expect(texts(-1100, 0)).toEqual(['2024', '2025', '2026'])
  for (const { value, text } of dayTicks('2026-11-25', -300, 30, 12)) {
    // By the engine's own calendar.
    const day = Date.UTC(2026, 10, 25) + value * 86_400_000
    expect(new Date(day).toISOString()).toBe(`${text}-01T00:00:00.000Z`)
  }
})
