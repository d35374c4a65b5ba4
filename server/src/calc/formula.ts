// Short formulas as outcomes: every input is checked against what it may be, and a result too large for a number is refused, not let out.
import type { CalcProblem, Outcome } from '../base/outcome.ts'
import { finished, inWords, refusalOf } from './inputs.ts'
import { asRange, combineRanges, type Range } from './range.ts'

/** What an input may be, by name, both ends included. An input without an entry must be above zero. */
type Allowed = Readonly<Record<string, readonly [number, number]>>

export const ANY: readonly [number, number] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
export const ZERO_OR_MORE: readonly [number, number] = [0, Number.POSITIVE_INFINITY]
export const FRACTION: readonly [number, number] = [0, 1]
/** A share that is never nothing. */
export const SHARE: readonly [number, number] = [Number.MIN_VALUE, 1]
/** Poisson's ratio in the plane of a web: at most 0.5 in an even solid, more in paper and cloth; plate theory needs it below one. */
export const POISSON: readonly [number, number] = [0, 0.99]

/**
 * f of inputs that were checked. Refuses an input that is missing, not finite or not allowed, naming it; and a result that overflows, naming the
 * input farthest from one, since a length of 1e300 m is a slip of the keyboard and not a roll.
 */
export function formula<K extends string>(
  inputs: Readonly<Record<K, number>>,
  f: (inputs: Readonly<Record<K, number>>) => number,
  allowed: Allowed = {},
): Outcome<number> {
  const problem = inputProblem(inputs, allowed)
  return problem ? { ok: false, problem } : finished(() => farthestFromOne(inputs), f(inputs))
}

/** The same for inputs that may be ranges: the least, typical and greatest result. Valid for f that only rises or only falls with each input. Refuses as `formula`. */
export function rangeFormula<K extends string>(
  inputs: Readonly<Record<K, number | Range>>,
  f: (inputs: Record<K, number>) => number,
  allowed: Allowed = {},
): Outcome<Range> {
  const problem = inputProblem(inputs, allowed)
  if (problem) return { ok: false, problem }
  const ranges = {} as Record<K, Range>
  for (const name of Object.keys(inputs) as K[]) ranges[name] = asRange(inputs[name])
  return finished(() => farthestFromOne(inputs), combineRanges(ranges, f))
}

/** The first input that is missing, not finite, out of order or not allowed, told in words; undefined when all are well. */
export function inputProblem(
  inputs: Readonly<Record<string, number | Range | undefined>>,
  allowed: Allowed = {},
): CalcProblem | undefined {
  const refusal = refusalOf(inputs)
  if (refusal && !refusal.ok) return refusal.problem
  for (const input of Object.keys(inputs)) {
    const { low, high } = asRange(inputs[input]!)
    const bounds = allowed[input]
    if (!bounds && low <= 0) return { input, reason: `the ${inWords(input)} must be above zero` }
    if (bounds && (low < bounds[0] || high > bounds[1]))
      return { input, reason: `the ${inWords(input)} ${boundsInWords(bounds)}` }
  }
  return undefined
}

function boundsInWords([from, to]: readonly [number, number]): string {
  if (to === Number.POSITIVE_INFINITY) return 'must not be below zero'
  return from === Number.MIN_VALUE ? `must be above zero and no more than ${to}` : `must lie between ${from} and ${to}`
}

function farthestFromOne(inputs: Readonly<Record<string, number | Range>>): string {
  const distance = (value: number | Range) =>
    Math.max(...[asRange(value).low, asRange(value).high].map((end) => (end === 0 ? 0 : Math.abs(Math.log10(Math.abs(end))))))
  const [worst = 'value'] = Object.keys(inputs).sort((a, b) => distance(inputs[b]!) - distance(inputs[a]!))
  return worst
}
