// The checks every calculation makes of what it is given and of what it is about to return, worded for the person who typed the
// number.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { asRange, type Range } from './range.ts'

/** What is asked of inputs beyond being finite numbers; each list holds names of inputs. */
interface Limits {
  readonly positive?: readonly string[]
  readonly notNegative?: readonly string[]
  /** From 0 to 1. */
  readonly share?: readonly string[]
  /** Whole numbers from 1. */
  readonly count?: readonly string[]
  /** Degrees Celsius above absolute zero, and no more than 1000. */
  readonly temperature?: readonly string[]
}

const NO_LIMITS: Limits = {}

type Input = number | Range | undefined

/** The first thing wrong with the inputs, as the refusal to return, or undefined. A range is checked at each of its values. */
export function refusalOf(inputs: Readonly<Record<string, Input>>, limits: Limits = NO_LIMITS): Outcome<never> | undefined {
  for (const name of Object.keys(inputs)) {
    const fault = faultOf(inputs[name], name, limits)
    if (fault) return refuse(name, `the ${inWords(name)} ${fault}`)
  }
  return undefined
}

/**
 * The value as a result, unless some number in it is not finite: then the inputs were too large or too small, and `input` is
 * named for it; where it is to be found among several, only then.
 */
export function finished<T>(input: string | (() => string), value: T): Outcome<T> {
  if (allFinite(value)) return ok(value)
  const name = typeof input === 'string' ? input : input()
  return refuse(name, `the ${inWords(name)} is too large or too small to calculate with`)
}

/** `carriageSpeed` as `carriage speed`. */
export const inWords = (name: string): string => name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

function faultOf(value: Input, name: string, limits: Limits): string | undefined {
  if (value === undefined || value === null) return 'is missing'
  const { low, typical, high } = asRange(value)
  if (!(Number.isFinite(low) && Number.isFinite(typical) && Number.isFinite(high))) return 'is not a finite number'
  if (low > typical || typical > high) return 'is out of order: its low, typical and high values must not decrease'
  if (limits === NO_LIMITS) return undefined
  if (limits.positive?.includes(name) && low <= 0) return 'must be above zero'
  if (limits.notNegative?.includes(name) && low < 0) return 'must not be below zero'
  if (limits.share?.includes(name) && (low < 0 || high > 1)) return 'must lie between 0 % and 100 %'
  if (limits.count?.includes(name) && !(Number.isSafeInteger(low) && low >= 1)) return 'must be a whole number of at least 1'
  if (limits.temperature?.includes(name) && low <= -273.15) return 'must be above absolute zero (-273.15 °C)'
  if (limits.temperature?.includes(name) && high > 1000) return 'is hotter than anything in a print shop (1000 °C)'
  return undefined
}

/** A range that overflowed has been saturated at the largest double, so that end counts as not finite. */
function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Math.abs(value) < Number.MAX_VALUE
  if (typeof value === 'object' && value !== null) for (const one of Object.values(value)) if (!allFinite(one)) return false
  return true
}
