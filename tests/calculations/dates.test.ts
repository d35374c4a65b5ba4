// Counting days without a clock: against the calendar of the engine (ECMA-262, Time Values), and against known dates.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays, daysBetween } from '../../server/src/model/dates.ts'

test.each([
  ['1970-01-01', '1970-01-02', 1],
  ['2000-02-28', '2000-03-01', 2], // a leap year, divisible by 400
  ['2100-02-28', '2100-03-01', 1], // none, divisible by 100
  ['2026-11-25', '2026-11-25', 0],
  ['2026-03-01', '2025-12-31', -60],
])('from %s to %s it is %i days', (from, to, days) => expect(daysBetween(from, to)).toBe(days))

test('it is the calendar of ECMA-262 for any two dates', () => {
  const date = fc.integer({ min: -600_000, max: 2_900_000 }).map((day) => new Date(day * 86_400_000).toISOString().slice(0, 10))
  const plain = date.filter((text) => /^\d{4}-/.test(text))
  fc.assert(
    fc.property(plain, plain, (a, b) => {
      expect(daysBetween(a, b)).toBe((Date.parse(`${b}T00:00:00Z`) - Date.parse(`${a}T00:00:00Z`)) / 86_400_000)
      expect(addDays(a, daysBetween(a, b))).toBe(b)
    }),
  )
})
