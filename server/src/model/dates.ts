// Days between dates of the format (YYYY-MM-DD), by the calendar alone: no clock, no time zone.

const DAY_MS = 86_400_000

/** Seconds in a day. */
export const DAY = 86_400

/** Whole days from one date to another; negative when `to` is earlier. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS)

/** The date so many days later. */
export const addDays = (date: string, days: number): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10)
