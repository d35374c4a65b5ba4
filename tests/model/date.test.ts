// A day is one of the calendar, told by arithmetic: compared with the engine's own calendar.
import { expect, test } from 'vitest'
import { isDate } from '../../server/src/model/read.ts'

/** What the engine makes of a text, read back. */
function byEngine(text: string): boolean {
  const time = Date.parse(`${text}T00:00:00Z`)
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text)
}

const two = (n: number): string => String(n).padStart(2, '0')

test('every day of ordinary years, leap years and centuries, and none beside them', () => {
  const texts = ['0000', '1900', '2000', '2023', '2024', '2026', '2100', '9999'].flatMap((year) =>
    Array.from({ length: 14 }, (_, month) => Array.from({ length: 33 }, (_, day) => `${year}-${two(month)}-${two(day)}`)).flat(),
  )
  expect(texts.filter((text) => isDate(text) !== byEngine(text))).toEqual([])
  expect(texts.filter(isDate).length).toBe(8 * 365 + 3)
  expect(['2026-1-01', '2026-01-01 ', '26-01-01', '2026-01-01T00', '2026/01/01'].filter(isDate)).toEqual([])
})
