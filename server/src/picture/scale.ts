// Numbers to places on a picture and back to round numbers: scales and their ticks.
import { addDays, daysBetween } from '../model/dates.ts'

export interface Scale {
  /** Place of a value; a value beyond the ends lies beyond the ends. */
  at(value: number): number
  readonly low: number
  readonly high: number
}

export interface Tick {
  readonly value: number
  readonly text: string
}

/** From low to high onto from to to; a scale of no width gets one. */
export function linear(low: number, high: number, from: number, to: number): Scale {
  const width = high - low
  return { low, high, at: (value) => from + ((value - low) / (width > 0 ? width : 1)) * (to - from) }
}

/** The same by logarithms; what is not above zero lies at the low end. */
export function logarithmic(low: number, high: number, from: number, to: number): Scale {
  const inner = linear(Math.log10(low), Math.log10(high), from, to)
  return { low, high, at: (value) => inner.at(Math.log10(Math.max(value, low))) }
}

/** Round numbers between two ends, at most so many: 1, 2 or 5 times a power of ten apart. */
export function ticks(low: number, high: number, most: number, sign = false): readonly Tick[] {
  const step = roundStep((high - low) / Math.max(1, most - 1))
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9))
  const found: Tick[] = []
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++) {
    const text = Math.abs(i * step).toFixed(decimals)
    const before = i < 0 ? '-' : sign && i > 0 ? '+' : ''
    found.push({ value: i * step, text: i === 0 ? '0' : before + text })
  }
  return found
}

/** The next of 1, 2 and 5 times a power of ten that is no smaller. */
function roundStep(least: number): number {
  if (!(least > 0)) return 1
  const power = 10 ** Math.floor(Math.log10(least))
  const step = [1, 2, 5, 10].find((factor) => factor * power >= least * (1 - 1e-9)) ?? 10
  return step * power
}

/** Powers of ten between two ends; with 2 and 5 times them where these are few. */
export function logTicks(low: number, high: number): readonly Tick[] {
  const [from, to] = [Math.floor(Math.log10(low)), Math.ceil(Math.log10(high))]
  const factors = to - from <= 2 ? [1, 2, 5] : [1]
  const found: Tick[] = []
  for (let power = from; power <= to; power++)
    for (const factor of factors) {
      const value = factor * 10 ** power
      if (value >= low * (1 - 1e-9) && value <= high * (1 + 1e-9))
        found.push({ value, text: power < 0 ? value.toFixed(-power) : String(Math.round(value)) })
    }
  return found
}

const MONTHS = [1, 2, 3, 6, 12, 24, 60, 120] as const
const DAYS = [1, 2, 7, 14] as const

/** Days of the calendar between two ends, counted from `today`: single days, weeks, first days of months, years. */
export function dayTicks(today: string, low: number, high: number, most: number): readonly Tick[] {
  const days = DAYS.find((step) => (high - low) / step <= most)
  if (days !== undefined) {
    const first = Math.ceil(low)
    return Array.from({ length: Math.floor((high - first) / days) + 1 }, (_, i) => {
      const value = first + i * days
      return { value, text: addDays(today, value) }
    })
  }
  const months = MONTHS.find((step) => (high - low) / (step * 30.44) <= most) ?? 240
  const [year = 0, month = 1] = addDays(today, Math.floor(low)).split('-').map(Number)
  const found: Tick[] = []
  for (let count = Math.floor((year * 12 + month - 1) / months) * months; ; count += months) {
    const text = `${String(Math.floor(count / 12)).padStart(4, '0')}-${String((count % 12) + 1).padStart(2, '0')}`
    const value = daysBetween(today, `${text}-01`)
    if (value > high) return found
    if (value >= low) found.push({ value, text: months % 12 === 0 ? text.slice(0, 4) : text })
  }
}
