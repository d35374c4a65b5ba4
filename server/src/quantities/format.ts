// Writes quantities the way documents take them, so that what is shown can be typed back: rounding by decimals, digits or uncertainty.
import { fromSi, spreadFromSi } from './convert.ts'
import { rewriteNumber } from './decimal.ts'
import { displayUnit, type UnitSystem } from './display-unit.ts'
import type { Quantity } from './quantity.ts'
import { type Dimension, findUnit, type Unit } from './units.ts'

export interface FormatOptions {
  /** The unit, or its spelling; one that suits the size is chosen when absent or not of the dimension. */
  readonly unit?: Unit | string
  readonly system?: UnitSystem
  /** At most this many significant digits, trailing zeros dropped (default 6). */
  readonly digits?: number
  /** Exactly this many decimals; wins over `digits`. */
  readonly decimals?: number
  /** In SI: the value is rounded to the second significant digit of this, and both are shown (GUM 7.2.6). Wins over the above. */
  readonly uncertainty?: number
  /** Resolution only: dots per metre along the feed. */
  readonly second?: number
  /** Whether a value above zero shows a plus. */
  readonly sign?: boolean
}

/** What stands for a value that is not finite. */
export const NO_VALUE = '—'

/** An SI value as 'x unit', 'x ±u unit' or 'a x b dpi'. Never shows a negative zero; a value that is not finite is shown as a dash. */
export function formatSi(si: number, dimension: Dimension, options: FormatOptions = {}): string {
  if (!Number.isFinite(si)) return NO_VALUE
  const unit = chosenUnit(si, dimension, options)
  const value = fromSi(si, unit)
  if (!Number.isFinite(value)) return NO_VALUE
  const spread = options.uncertainty === undefined ? 0 : spreadFromSi(options.uncertainty, unit)
  if (Number.isFinite(spread) && spread > 0) {
    const place = secondPlace(spread)
    return `${signed(atPlace(value, place), options.sign)} ±${atPlace(spread, place)} ${unit.id}`
  }
  const number = (x: number): string => signed(numberText(x, options), options.sign)
  if (dimension === 'resolution' && options.second !== undefined && Number.isFinite(options.second)) {
    const [across, along] = [number(value), number(fromSi(options.second, unit))]
    return across === along ? `${across} ${unit.id}` : `${across} x ${along} ${unit.id}`
  }
  return `${number(value)} ${unit.id}`
}

/** A quantity with its own unit, uncertainty and second number, unless the options say otherwise. */
export function formatQuantity(quantity: Quantity, options: FormatOptions = {}): string {
  const unit = options.unit ?? (options.system === undefined ? quantity.unit : undefined)
  return formatSi(quantity.si, quantity.dimension, {
    ...options,
    ...(unit === undefined ? {} : { unit }),
    ...(quantity.uncertainty === undefined ? {} : { uncertainty: options.uncertainty ?? quantity.uncertainty }),
    ...(quantity.second === undefined ? {} : { second: quantity.second }),
  })
}

/**
 * The written value in another unit: exact where it can be ('1 in' is '25.4 mm'), else no coarser than the last digit written
 * ('500 mm' is '19.69 in'). The text as it stands when the unit is of another dimension.
 */
export function rewriteIn(quantity: Quantity, unit: Unit): string {
  const spread = quantity.writtenUncertainty
  if (unit.dimension !== quantity.dimension || quantity.dimension === 'resolution') {
    return `${quantity.written}${spread === undefined ? '' : ` ±${spread}`} ${quantity.unit.id}`
  }
  const value = rewriteNumber(quantity.written, quantity.unit, unit)
  if (spread === undefined) return `${value.text} ${unit.id}`
  const around = rewriteNumber(spread, quantity.unit, unit, 'spread')
  if (value.exact && around.exact) return `${value.text} ±${around.text} ${unit.id}`
  return formatQuantity(quantity, { unit })
}

/**
 * The multiple of a step nearest to a number, or the next one down or up, without binary dust and in any unit. A number that is a
 * multiple but for dust counts as one; halves go away from zero. Undefined unless both are finite and the step is above zero.
 */
export function toStep(value: number, step: number, mode: 'nearest' | 'down' | 'up' = 'nearest'): number | undefined {
  const count = value / step
  if (!Number.isFinite(count) || !Number.isFinite(step) || step <= 0) return undefined
  const nearest = Math.sign(count) * Math.round(Math.abs(count))
  const settled = Math.abs(count - nearest) <= 1e-9 * Math.max(1, Math.abs(count))
  const whole = mode === 'nearest' || settled ? nearest : mode === 'down' ? Math.floor(count) : Math.ceil(count)
  return clean(whole * step)
}

/** How many decimals write a step: 2 for 0.01, 0 for 5, 1 for 0.5; for showing values set in such steps. */
export function stepDecimals(step: number): number {
  if (!Number.isFinite(step) || step === 0) return 0
  const [mantissa = '', power = '0'] = String(clean(Math.abs(step))).split('e')
  const point = mantissa.indexOf('.')
  return Math.max(0, (point < 0 ? 0 : mantissa.length - point - 1) - Number(power))
}

function chosenUnit(si: number, dimension: Dimension, { unit, system }: FormatOptions): Unit {
  const wanted = typeof unit === 'string' ? findUnit(unit, dimension) : unit
  return wanted !== undefined && wanted.dimension === dimension ? wanted : displayUnit(si, dimension, system ?? 'metric')
}

function numberText(value: number, { digits, decimals }: FormatOptions): string {
  if (decimals !== undefined) return atPlace(value, -decimals)
  if (value === 0) return '0'
  const significant = Math.min(15, Math.max(1, Math.round(digits ?? 6)))
  const text = quickly(value, magnitudeOf(value) - significant + 1) ?? slowly(value, significant)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

function slowly(value: number, significant: number): string {
  const rounded = Number(clean(value).toPrecision(significant))
  return atPlace(rounded, exponentOf(rounded) - significant + 1)
}

/** The power of ten of the second significant digit, after rounding to it: −2 for 0.30, 1 for 120, and −2 for 0.0996, which is 0.10. */
function secondPlace(spread: number): number {
  return exponentOf(Number(clean(spread).toPrecision(2))) - 1
}

const exponentOf = (value: number): number => Number(value.toExponential().split('e')[1])

/** The power of ten of the first digit of a number other than 0. */
function magnitudeOf(value: number): number {
  const size = Math.abs(value)
  const power = Math.floor(Math.log10(size))
  return 10 ** (power + 1) <= size ? power + 1 : 10 ** power > size ? power - 1 : power
}

/**
 * The same as `atPlace` for most numbers there are, without a way through their text: undefined where binary dust could tell which way a half goes, and
 * for sizes where a power of ten is not exact. Of a number that is rounded up to one digit more, the last digit is 0, and one too many.
 */
function quickly(value: number, place: number): string | undefined {
  if (place > 0 || place < -15) return undefined
  const scale = 10 ** -place
  const scaled = Math.abs(value) * scale
  if (!(scaled < 1e10) || Math.abs(scaled - Math.floor(scaled) - 0.5) < 1e-4) return undefined
  const whole = Math.round(scaled)
  const text = (whole / scale).toFixed(-place)
  return value < 0 && whole > 0 ? `-${text}` : text
}

/** A number rounded to a power of ten and written in plain digits, halves away from zero as decimals, not as binary. */
function atPlace(value: number, place: number): string {
  return quickly(value, place) ?? throughText(value, place)
}

function throughText(value: number, place: number): string {
  const size = Math.abs(clean(value))
  const rounded = shift(Math.round(shift(size, -place)), place)
  const decimals = Math.min(40, Math.max(0, -place))
  const text = rounded >= 1e21 ? BigInt(rounded).toString() : rounded.toFixed(decimals)
  return value < 0 && /[1-9]/.test(text) ? `-${text}` : text
}

/** Moves the decimal point of a number by way of its decimal text, which multiplication would not do exactly. */
function shift(value: number, places: number): number {
  const [mantissa, power = '0'] = String(value).split('e')
  return Number(`${mantissa}e${Number(power) + places}`)
}

/** Fifteen digits are all that a written value can mean; the rest is binary dust. */
const clean = (value: number): number => Number(value.toPrecision(15)) + 0

const signed = (text: string, sign: boolean | undefined): string =>
  sign === true && !text.startsWith('-') && /[1-9]/.test(text) ? `+${text}` : text
