// Finds the parts of a quantity in its text: number, uncertainty or second number, unit. One pass by character codes, nothing to
// backtrack; faults of number writing are recognised here and explained in problems.ts.

export type NumberFault =
  | 'comma' // 499,4 or 1,234.5
  | 'exponent' // 1e3
  | 'ends-in-point' // 5.
  | 'two-points' // 1.2.3
  | 'too-large' // more than fifteen digits before the point, or more than forty characters
  | 'zero-denominator' // 1/0
  | 'improper' // 1 17/16
  | 'fraction-of-decimal' // 1.5/2
  | 'grouped' // 1 234 or 1_234
  | 'two-numbers' // 5 12
  | 'hyphen-fraction' // 19-11/16
  | 'range' // 18-28
  | 'vulgar' // 19½

export interface NumberToken {
  readonly start: number
  readonly end: number
  readonly value: number
  /** The value as a quotient of whole numbers, so that a conversion can round once. */
  readonly over: number
  readonly under: number
  readonly fraction: boolean
  readonly fault: NumberFault | undefined
}

export interface Shape {
  /** The text without surrounding blanks. */
  readonly start: number
  readonly end: number
  readonly number: NumberToken | undefined
  /** Where '±' or '+/-' stands, or −1. */
  readonly plusMinus: number
  readonly uncertainty: NumberToken | undefined
  /** Where the 'x' between two numbers stands, or −1. */
  readonly times: number
  readonly second: NumberToken | undefined
  readonly unitStart: number
}

/** The longest text that is looked at; a longer one is no quantity. */
export const LONGEST = 200
const LONGEST_NUMBER = 40
const LARGEST = 1e15

/** Splits a text into its parts. Whatever follows the numbers is the unit, from `unitStart` to `end`. */
export function scanQuantity(text: string): Shape {
  let end = text.length
  let start = 0
  while (start < end && isBlank(text.charCodeAt(start))) start++
  while (end > start && isBlank(text.charCodeAt(end - 1))) end--
  const number = scanNumber(text, start, Math.min(end, start + LONGEST))
  let at = number === undefined ? start : skipBlanks(text, number.end, end)
  let plusMinus = -1
  let uncertainty: NumberToken | undefined
  let times = -1
  let second: NumberToken | undefined
  if (number !== undefined && at < end) {
    const c = text.charCodeAt(at)
    if (c === 0xb1 || c === 0x2b) {
      const width = c === 0xb1 ? 1 : text.startsWith('+/-', at) || text.startsWith('+/−', at) ? 3 : 0
      if (width > 0) {
        plusMinus = at
        at = skipBlanks(text, at + width, end)
        uncertainty = scanNumber(text, at, end)
        if (uncertainty !== undefined) at = skipBlanks(text, uncertainty.end, end)
      }
    } else if (c === 0x78 || c === 0x58 || c === 0xd7) {
      const next = skipBlanks(text, at + 1, end)
      second = scanNumber(text, next, end)
      if (second !== undefined) {
        times = at
        at = skipBlanks(text, second.end, end)
      }
    }
  }
  return { start, end, number, plusMinus, uncertainty, times, second, unitStart: at }
}

/** Space, tab, line breaks, and the no-break and thin spaces that typesetting puts between a number and its unit. */
export const isBlank = (c: number): boolean =>
  c === 32 || c === 0xa0 || c === 0x202f || c === 0x2009 || c === 0x2007 || (c >= 9 && c <= 13)

export const isDigit = (c: number): boolean => c >= 48 && c <= 57

const isMinus = (c: number): boolean => c === 0x2d || c === 0x2212
const isDash = (c: number): boolean => c === 0x2d || c === 0x2212 || c === 0x2013
const isVulgar = (c: number): boolean => (c >= 0xbc && c <= 0xbe) || (c >= 0x2150 && c <= 0x215e)

function scanNumber(text: string, start: number, end: number): NumberToken | undefined {
  let at = start
  const sign = text.charCodeAt(at)
  const negative = at < end && isMinus(sign)
  if (negative || (at < end && sign === 0x2b)) at++
  const first = at
  let mantissa = 0
  for (; at < end && isDigit(text.charCodeAt(at)); at++) mantissa = mantissa * 10 + (text.charCodeAt(at) - 48)
  const whole = at - first
  const point = at < end && text.charCodeAt(at) === 0x2e
  const after = at + 1
  if (point) {
    for (at = after; at < end && isDigit(text.charCodeAt(at)); at++) mantissa = mantissa * 10 + (text.charCodeAt(at) - 48)
  }
  const decimals = point ? at - after : 0
  if (whole + decimals === 0) {
    return !point && at < end && isVulgar(text.charCodeAt(at)) ? faulty(start, at + 1, 'vulgar') : undefined
  }
  const special = at < end ? continueNumber(text, start, first, at, end, point, mantissa, negative) : undefined
  if (special !== undefined) return special
  if (point && decimals === 0) return faulty(start, at, 'ends-in-point')
  if (whole > 1 && mantissa >= LARGEST * 10 ** decimals) return faulty(start, at, 'too-large')
  if (at - start > LONGEST_NUMBER) return faulty(start, at, 'too-large')
  // Both whole numbers are exact here, so the quotient is the double nearest to the decimal written.
  const exact = mantissa <= Number.MAX_SAFE_INTEGER && decimals <= 22
  const over = (negative ? -1 : 1) * (exact ? mantissa : Number(text.slice(first, at))) + 0
  const under = exact ? POWERS[decimals]! : 1
  return { start, end: at, value: over / under, over, under, fraction: false, fault: undefined }
}

const POWERS: readonly number[] = Array.from({ length: 23 }, (_, n) => Number(`1e${n}`))

/** What may follow the first digits of a number: a fraction, or a fault. Undefined when the number simply ends. */
function continueNumber(
  text: string,
  start: number,
  first: number,
  at: number,
  end: number,
  point: boolean,
  mantissa: number,
  negative: boolean,
): NumberToken | undefined {
  const c = text.charCodeAt(at)
  const following = at + 1 < end ? text.charCodeAt(at + 1) : 0
  if (c === 0x2c) return faulty(start, skipWhile(text, at, end, isDigitCommaPoint), 'comma')
  if (c === 0x2e) return faulty(start, skipWhile(text, at, end, isDigitCommaPoint), 'two-points')
  if (c === 0x65 || c === 0x45) return exponent(text, start, at, end)
  if (c === 0x5f && isDigit(following)) return faulty(start, skipWhile(text, at, end, isDigitUnderscorePoint), 'grouped')
  if (isVulgar(c)) return faulty(start, at + 1, 'vulgar')
  if (c === 0x2f && isDigit(following)) {
    const ends = skipWhile(text, at + 1, end, isDigit)
    if (point) return faulty(start, ends, 'fraction-of-decimal')
    return fraction(text, start, ends, 0, mantissa, at - first, at + 1, negative)
  }
  if (isDash(c) && isDigit(following)) {
    const ends = skipWhile(text, at + 1, end, isDigit)
    if (text.charCodeAt(ends) !== 0x2f) return faulty(start, skipWhile(text, ends, end, isDigitCommaPoint), 'range')
    return faulty(start, skipWhile(text, ends + 1, end, isDigit), 'hyphen-fraction')
  }
  return isBlank(c) ? afterBlank(text, start, first, at, end, point, mantissa, negative) : undefined
}

function afterBlank(
  text: string,
  start: number,
  first: number,
  at: number,
  end: number,
  point: boolean,
  mantissa: number,
  negative: boolean,
): NumberToken | undefined {
  const top = skipBlanks(text, at, end)
  const c = top < end ? text.charCodeAt(top) : 0
  if (isVulgar(c)) return faulty(start, top + 1, 'vulgar')
  if (!isDigit(c)) return undefined
  const topEnd = skipWhile(text, top, end, isDigit)
  if (topEnd < end && text.charCodeAt(topEnd) === 0x2f && topEnd + 1 < end && isDigit(text.charCodeAt(topEnd + 1))) {
    const ends = skipWhile(text, topEnd + 1, end, isDigit)
    if (point) return faulty(start, ends, 'fraction-of-decimal')
    const numerator = Number(text.slice(top, topEnd))
    return fraction(text, start, ends, mantissa, numerator, Math.max(at - first, topEnd - top), topEnd + 1, negative)
  }
  return faulty(...groupedOrTwo(text, start, at, end))
}

/** Blank-separated digits: thousands ('1 234.5') when every group has three digits, else two numbers. */
function groupedOrTwo(text: string, start: number, at: number, end: number): [number, number, NumberFault] {
  let ends = at
  let grouped = true
  while (ends < end && isBlank(text.charCodeAt(ends)) && isDigit(text.charCodeAt(skipBlanks(text, ends, end)))) {
    const top = skipBlanks(text, ends, end)
    ends = skipWhile(text, top, end, isDigit)
    if (ends - top !== 3) grouped = false
  }
  if (ends < end && text.charCodeAt(ends) === 0x2e) ends = skipWhile(text, ends, end, isDigitCommaPoint)
  return [start, ends, grouped ? 'grouped' : 'two-numbers']
}

function exponent(text: string, start: number, at: number, end: number): NumberToken | undefined {
  let digits = at + 1
  if (digits < end && (text.charCodeAt(digits) === 0x2b || isMinus(text.charCodeAt(digits)))) digits++
  const ends = skipWhile(text, digits, end, isDigit)
  return ends > digits ? faulty(start, ends, 'exponent') : undefined
}

function fraction(
  text: string,
  start: number,
  ends: number,
  whole: number,
  numerator: number,
  longest: number,
  denominatorStart: number,
  negative: boolean,
): NumberToken {
  if (Math.max(longest, ends - denominatorStart) > 9) return faulty(start, ends, 'too-large')
  const denominator = Number(text.slice(denominatorStart, ends))
  if (denominator === 0) return faulty(start, ends, 'zero-denominator')
  const mixed = text.slice(start, denominatorStart).trim().search(/\s/) >= 0
  if (mixed && numerator >= denominator) return faulty(start, ends, 'improper')
  const over = (negative ? -1 : 1) * (whole * denominator + numerator) + 0
  return { start, end: ends, value: over / denominator, over, under: denominator, fraction: true, fault: undefined }
}

const faulty = (start: number, end: number, fault: NumberFault): NumberToken => ({
  start,
  end,
  value: 0,
  over: 0,
  under: 1,
  fraction: false,
  fault,
})

const isDigitCommaPoint = (c: number): boolean => isDigit(c) || c === 0x2c || c === 0x2e
const isDigitUnderscorePoint = (c: number): boolean => isDigit(c) || c === 0x5f || c === 0x2e

const skipBlanks = (text: string, at: number, end: number): number => skipWhile(text, at, end, isBlank)

function skipWhile(text: string, at: number, end: number, accept: (c: number) => boolean): number {
  let i = at
  while (i < end && accept(text.charCodeAt(i))) i++
  return i
}
