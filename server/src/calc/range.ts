// A value known only between two ends, with the one to expect: what a calculation returns when it rests on typical material
// values. The helpers keep low <= typical <= high, and saturate at the largest double instead of letting an infinity or a NaN
// out.
import { type CalcProblem, firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'

/** Low and high enclose the value, typical is the one to expect; all three in the same SI unit, low <= typical <= high. */
export interface Range {
  readonly low: number
  readonly typical: number
  readonly high: number
}

/** A range of three finite numbers in order. Refuses numbers that are not finite or not in order, naming the one at fault. */
export function range(low: number, typical: number, high: number): Outcome<Range> {
  const result = { low, typical, high }
  const problem = rangeProblem('range', result)
  return problem ? { ok: false, problem } : ok(result)
}

/** The range of a value that is known outright. */
export const exactly = (value: number): Range => ({ low: value, typical: value, high: value })

/** The range of a value above zero and its uncertainty, which is never taken for more than nine tenths of it. */
export function within(value: number, uncertainty = 0): Range {
  const u = Math.min(uncertainty, value * 0.9)
  return { low: value - u, typical: value, high: value + u }
}

/** A number as the range that holds only it; a range as it is. */
export const asRange = (value: number | Range): Range => (typeof value === 'number' ? exactly(value) : value)

/** Whether a range holds one value only. */
export const isExact = (r: Range): boolean => r.low === r.high

/**
 * What is wrong with a range given as input, or undefined: missing, not finite, out of order, or (with `positive`) reaching zero
 * or below. The problem names `input`, not the end at fault: people read the name of the quantity.
 */
export function rangeProblem(input: string, value: number | Range | undefined, positive = false): CalcProblem | undefined {
  if (value === undefined || value === null) return { input, reason: `${input} is missing` }
  const { low, typical, high } = asRange(value)
  for (const end of [low, typical, high]) {
    const problem = firstProblem({ [input]: end }, positive ? [input] : [])
    if (problem) return problem
  }
  if (low > typical || typical > high)
    return { input, reason: `${input} is out of order: its low, typical and high values must not decrease` }
  return undefined
}

export const subtractRanges = (a: Range, b: Range): Range => ordered(a.low - b.high, a.typical - b.typical, a.high - b.low)

/** a / b. Refuses a divisor that reaches zero, since the quotient then has no end; `input` names the divisor. */
export function divideRanges(a: Range, b: Range, input = 'divisor'): Outcome<Range> {
  if (b.low <= 0 && b.high >= 0) return refuse(input, `${input} may be zero, and nothing can be divided by zero`)
  return ok(combineRanges({ a, b }, (v) => v.a / v.b))
}

/** f over a range. Valid for f that only rises or only falls between the ends; the result is put in order either way. */
export const mapRange = (r: Range, f: (value: number) => number): Range => ordered(f(r.low), f(r.typical), f(r.high))

/**
 * f over several ranges at once: its least and greatest value at the corners, and its value at the typical ones. Valid for f that
 * only rises or only falls with each input. Unlike a chain of helpers it does not widen the result when an input occurs twice in
 * f.
 */
export function combineRanges<K extends string>(
  inputs: Readonly<Record<K, Range>>,
  f: (values: Record<K, number>) => number,
): Range {
  const names = Object.keys(inputs) as K[]
  const wide = names.filter((name) => !isExact(inputs[name]))
  const at = {} as Record<K, number>
  for (const name of names) at[name] = inputs[name].typical
  const typical = f(at)
  for (const name of names) at[name] = inputs[name].low
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  // One object serves all corners; each bit of the count says which end of one range is taken.
  for (let corner = 0; corner < 2 ** wide.length; corner++) {
    for (let i = 0; i < wide.length; i++) at[wide[i]!] = corner & (1 << i) ? inputs[wide[i]!].high : inputs[wide[i]!].low
    const value = f(at)
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return ordered(low, typical, high)
}

const saturate = (value: number): number => Math.min(Number.MAX_VALUE, Math.max(-Number.MAX_VALUE, value))

/**
 * The three values in order: the typical value is widened to, never dropped, when rounding or a turning function puts it past an
 * end.
 */
function ordered(first: number, typical: number, last: number): Range {
  const [a, t, b] = [saturate(first), saturate(typical), saturate(last)]
  return { low: Math.min(a, t, b), typical: t, high: Math.max(a, t, b) }
}

/** now − then of one quantity at two times that share their unknowns: low with low, typical with typical, high with high, and never range against range. */
export function differenceOf(now: Range, then: Range): Range {
  const typical = now.typical - then.typical
  const ends = [now.low - then.low, typical, now.high - then.high]
  return ordered(Math.min(...ends), typical, Math.max(...ends))
}
