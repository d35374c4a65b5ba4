// Days between dates of the format (YYYY-MM-DD), by the calendar alone: no clock, no time zone.

const DAY_MS = 86_400_000

/** Seconds in a day. */
export const DAY = 86_400

/** Whole days from one date to another; negative when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from)

/**
 * Days since 1970-01-01 of a real date, by the proleptic Gregorian calendar. Source: the days-from-civil algorithm (H. Hinnant, public domain); a
 * test compares it with the engine's own calendar. Long histories are counted through at every keystroke, and parsing a date costs ten times as much.
 */
function dayNumber(date: string): number {
  const at = (i: number): number => date.charCodeAt(i) - 48
  const month = at(5) * 10 + at(6)
  const year = at(0) * 1000 + at(1) * 100 + at(2) * 10 + at(3) - (month <= 2 ? 1 : 0)
  const era = Math.floor(year / 400)
  const yearOfEra = year - era * 400
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + at(8) * 10 + at(9) - 1
  return era * 146_097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719_468
}

/** The date so many days later. */
export const addDays = (date: string, days: number): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10)
