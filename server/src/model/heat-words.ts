// Heat and drying in words: one way of writing web temperatures, margins and times for rules, hovers and reports.

import type { Range } from '../calc/range.ts'
import { formatSi } from '../quantities/format.ts'
import type { Property } from './material.ts'
import type { Setup } from './setup.ts'

type Units = Setup['shop']['units']

/** Below this spread (K) a temperature is shown as one number: nobody sets a heater finer than half of it. */
const ONE_NUMBER = 1

/** A temperature to a tenth, in the shop's unit. */
export function degrees(celsius: number, units: Units): string {
  const unit = unitOf(units)
  return formatSi(celsius, 'temperature', { unit, decimals: 1 }).replace(/\.0(?= )/, '')
}

/** A web temperature: `41 °C (38 to 43)`, or one number where the ends hardly differ. */
export function webText({ low, typical, high }: Range, units: Units): string {
  if (high - low < ONE_NUMBER) return degrees(typical, units)
  const unit = unitOf(units)
  const whole = (value: number): string => formatSi(value, 'temperature', { unit, decimals: 0 })
  return `${whole(typical)} (${whole(low).slice(0, -unit.length - 1)} to ${whole(high).slice(0, -unit.length - 1)})`
}

/** A difference of temperatures: `6 K`, or in degrees Fahrenheit where the shop reads those: `11 °F`. */
export function kelvins(difference: number, units: Units): string {
  const size = units === 'us' ? difference * 1.8 : difference
  const rounded = Math.abs(size) < 10 ? Number(size.toFixed(1)) : Math.round(size)
  return `${rounded + 0} ${units === 'us' ? '°F' : 'K'}`
}

/** A difference of temperatures with its ends, each in whole degrees as the temperatures beside it are: `37 K (35 to 39)`. */
export function kelvinsText({ low, typical, high }: Range, units: Units): string {
  if (high - low < ONE_NUMBER) return kelvins(typical, units)
  const [size, unit] = units === 'us' ? [1.8, '°F'] : [1, 'K']
  const whole = (difference: number): number => Math.round(difference * size) + 0
  return `${whole(typical)} ${unit} (${whole(low)} to ${whole(high)})`
}

/** A time that is reckoned, not typed: two digits, in seconds or minutes. */
export function duration(seconds: number): string {
  const unit = seconds >= 5400 ? 'h' : seconds >= 100 ? 'min' : 's'
  return formatSi(seconds, 'time', { unit, digits: 2 })
}

/** A reckoned time with its ends. */
export function durationText({ low, typical, high }: Range): string {
  const unit = typical >= 5400 ? 'h' : typical >= 100 ? 'min' : 's'
  const text = (value: number): string => formatSi(value, 'time', { unit, digits: 2 })
  const number = (value: number): string => text(value).slice(0, -unit.length - 1)
  return number(low) === number(high) ? text(typical) : `${text(typical)} (${number(low)} to ${number(high)})`
}

/** Where it softens: `it softens at 75 °C`, `it typically softens at 75 °C (57 to 82)`. */
export const softeningText = ({ origin, range }: Property, units: Units): string =>
  `${origin === 'typical' ? 'typically softens' : 'softens'} at ${webText(range, units)}`

const unitOf = (units: Units): string => (units === 'us' ? '°F' : '°C')
