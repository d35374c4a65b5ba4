// Exact decimal arithmetic on numbers as written, for rewriting a value in another unit without losing or inventing digits.
import type { Unit } from './units.ts'

export interface Rewritten {
  readonly text: string
  /** Whether the text is the very same value rather than rounded to what was written. */
  readonly exact: boolean
}

interface Ratio {
  readonly over: bigint
  readonly under: bigint
}

/** A written number this long when exact is shown exactly; a longer one is rounded. */
const EXACT_DIGITS = 12

/**
 * A number as written in one unit, written in another of the same SI. Exact where the result has an end within twelve digits
 * (25.4 mm for 1 in); otherwise rounded to a step no coarser than the last written digit's. A spread ignores zero points.
 */
export function rewriteNumber(written: string, from: Unit, to: Unit, kind: 'value' | 'spread' = 'value'): Rewritten {
  const zero = kind === 'value'
  const value = minus(
    over(times(plus(readRatio(written), zero ? hundredths(from.offset) : ZERO), ratioOf(from)), ratioOf(to)),
    zero ? hundredths(to.offset) : ZERO,
  )
  const decimals = exactDecimals(value)
  if (decimals !== undefined) {
    const text = print(value, decimals)
    if (text.replace(/[-.]/g, '').replace(/^0+/, '').length <= EXACT_DIGITS) return { text, exact: true }
  }
  const step = (lastPlace(written) * from.factor) / to.factor
  return { text: print(value, Math.min(20, Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)))), exact: false }
}

/** The decimal that a fraction of an inch is, or the nearest with four decimals: '19 11/16' is 19.6875. */
export function decimalOf(written: string): string {
  const value = readRatio(written)
  return print(value, Math.min(6, exactDecimals(value) ?? 4))
}

const ZERO: Ratio = { over: 0n, under: 1n }

const ratioOf = (unit: Unit): Ratio => ({ over: BigInt(unit.ratio[0]), under: BigInt(unit.ratio[1]) })
const hundredths = (offset: number | undefined): Ratio => ({ over: BigInt(Math.round((offset ?? 0) * 100)), under: 100n })
const plus = (a: Ratio, b: Ratio): Ratio => ({ over: a.over * b.under + b.over * a.under, under: a.under * b.under })
const minus = (a: Ratio, b: Ratio): Ratio => plus(a, { over: -b.over, under: b.under })
const times = (a: Ratio, b: Ratio): Ratio => ({ over: a.over * b.over, under: a.under * b.under })
const over = (a: Ratio, b: Ratio): Ratio => times(a, { over: b.under, under: b.over })

/** Reads a well-formed number: sign, then digits with a point, or a whole number and a fraction. */
function readRatio(written: string): Ratio {
  const negative = /^[-−]/.test(written)
  const body = written.replace(/^[-−+]/, '')
  const slash = body.indexOf('/')
  let value: Ratio
  if (slash >= 0) {
    const before = body.slice(0, slash).trim().split(/\s+/)
    const under = BigInt(body.slice(slash + 1))
    value = { over: (before.length > 1 ? BigInt(before[0]!) : 0n) * under + BigInt(before.at(-1)!), under }
  } else {
    const [whole = '', decimals = ''] = body.split('.')
    value = { over: BigInt(`${whole}${decimals}` || '0'), under: 10n ** BigInt(decimals.length) }
  }
  return negative ? { over: -value.over, under: value.under } : value
}

/** The size of one step of the last written digit, in its own unit. */
function lastPlace(written: string): number {
  const slash = written.indexOf('/')
  if (slash >= 0) return 1 / Number(written.slice(slash + 1))
  const point = written.indexOf('.')
  return point < 0 ? 1 : 10 ** (point + 1 - written.length)
}

/** How many decimals write a ratio exactly, or undefined when no number of them does. */
function exactDecimals(value: Ratio): number | undefined {
  let under = value.under / divisor(value.over < 0n ? -value.over : value.over, value.under)
  let twos = 0
  let fives = 0
  for (; under % 2n === 0n; under /= 2n) twos++
  for (; under % 5n === 0n; under /= 5n) fives++
  return under === 1n ? Math.max(twos, fives) : undefined
}

function divisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a, b]
  while (y !== 0n) [x, y] = [y, x % y]
  return x
}

/** A ratio with a number of decimals, halves rounded away from zero, never '-0'. */
function print(value: Ratio, decimals: number): string {
  const size = value.over < 0n ? -value.over : value.over
  const scaled = (2n * size * 10n ** BigInt(decimals) + value.under) / (2n * value.under)
  const digits = scaled.toString().padStart(decimals + 1, '0')
  const text = decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`
  return value.over < 0n && scaled > 0n ? `-${text}` : text
}
