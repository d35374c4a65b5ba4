// What a computed quantity is: one definition with all that is ever said of it. The reckoning, its JSON, hovers, the reference page and the test
// that evaluates the shown formula on the shown inputs are made of it.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { isExact, type Range } from '../calc/range.ts'
import type { Reckoned, ReckonedInput, ReckonedStep } from '../model/reckoned.ts'
import type { Setup } from '../model/setup.ts'

/** What a formula stands on, by the symbol it has there. One that is not known is undefined. */
export type Inputs = Readonly<Record<string, ReckonedInput | undefined>>

export interface Quantity {
  /** Stable dotted key: 'suction.stretch'. The part before the first dot is the heading it is listed under. */
  readonly key: string
  readonly title: string
  readonly dimension: Reckoned['dimension']
  /** The SI unit's symbol of a 'number' that has a unit for which there is no dimension: 'W', 'N·m'. */
  readonly unit?: string
  /** How many digits of a single number are known: two where it rests on an assumption or leaves something out, four where not given. */
  readonly digits?: number
  readonly formula: Formula
  /** The formula's source, as in calc. */
  readonly source: string
  /** What it leaves out, or where it does not hold: a sentence without its full stop. */
  readonly validity?: string
  /** Whether the setup has to do with it at all; where not, it is left out. */
  applies?(setup: Setup): boolean
  inputs(setup: Setup): Inputs
  /** SI. A problem names the key to fill in or to mend. */
  value(setup: Setup): Outcome<number | Range>
  /** What stands against a value that could be reckoned all the same; or what is told in place of the refusal. */
  problem?(setup: Setup): Reckoned['problem']
  /** Markdown: what a person reads of it where the value shows, with this setup's numbers. Undefined where there is nothing to say. */
  sentence?(setup: Setup): string | undefined
}

/**
 * A formula as it is shown: `name = expression`. The expression is in the symbols of the inputs, with · / + − ^ √ π, superscripts and the functions
 * exp, ln, min, max, abs, sin, cos, tan; a test evaluates it and compares. Where ranges go in, `ends` tells how the ends of the result come about.
 */
export type Formula = string | OneExpression | Steps | Definition

/** `each`: the low end of every input gives one end, the high end of every input the other, as where one unknown moves all of them. */
export interface OneExpression {
  readonly text: string
  readonly ends: 'corners' | 'each'
}

/** Not one expression: an integral, a search, a fit. Each step is one, evaluated on the inputs and the steps before. */
export interface Steps {
  readonly text: string
  readonly kind: 'integral' | 'search' | 'fit' | 'steps'
  steps(setup: Setup): readonly Step[]
}

export type Step = ReckonedStep

/** Nothing is computed: a choice among what the documents give, or a value read from a table. The test looks the value up among the inputs. */
export interface Definition {
  readonly text: string
  readonly kind: 'choice' | 'table'
}

/** Quantities of which there are as many as the setup has of something: one a check, one a zone. */
export type Family = (setup: Setup) => readonly Quantity[]

export type AreaQuantities = readonly (Quantity | Family)[]

/** Takes a definition that threw. */
export type QuantityFailure = (key: string, error: unknown) => void

/** The quantity of a setup. Whatever its definition throws loses this one alone. */
export function reckonedQuantity(quantity: Quantity, setup: Setup, failed?: QuantityFailure): Reckoned | undefined {
  const { key, title, dimension, unit, digits, source, validity, formula } = quantity
  try {
    if (quantity.applies?.(setup) === false) return undefined
    const given = Object.entries(quantity.inputs(setup)).filter(
      (entry): entry is [string, ReckonedInput] => entry[1] !== undefined,
    )
    const outcome = quantity.value(setup)
    const problem = quantity.problem?.(setup) ?? (outcome.ok ? undefined : outcome.problem)
    const steps = outcome.ok && typeof formula !== 'string' && 'steps' in formula ? formula.steps(setup) : []
    return {
      key,
      title,
      formula: textOf(formula),
      value: outcome.ok ? plain(outcome.value) : undefined,
      dimension,
      ...(steps.length > 0 && { steps }),
      inputs: given.map(([symbol, input]) => ({ ...input, symbol })),
      source,
      ...(validity !== undefined && { validity }),
      ...(unit !== undefined && { unit }),
      ...(digits !== undefined && { digits }),
      ...(problem && { problem }),
    }
  } catch (error) {
    failed?.(key, error)
    const problem = { reason: 'it failed inside Rollbook, and nothing is known of it' }
    return { key, title, formula: textOf(formula), value: undefined, dimension, inputs: [], source, problem }
  }
}

/** Its value alone: what its inputs say, and how it came about, is made for those that somebody is told of. */
export function valueAlone(quantity: Quantity, setup: Setup, failed?: QuantityFailure): number | Range | undefined {
  try {
    const outcome = quantity.applies?.(setup) === false ? undefined : quantity.value(setup)
    return outcome?.ok ? plain(outcome.value) : undefined
  } catch (error) {
    failed?.(quantity.key, error)
    return undefined
  }
}

export const textOf = (formula: Formula): string => (typeof formula === 'string' ? formula : formula.text)

/** A range of one value is that value. */
const plain = (value: number | Range): number | Range => (typeof value !== 'number' && isExact(value) ? value.typical : value)

/** What is picked from an outcome, or its problem. */
export const pick = <T>(outcome: Outcome<T>, of: (value: T) => number | Range): Outcome<number | Range> =>
  outcome.ok ? ok(of(outcome.value)) : outcome

/** What is there, or a refusal that names the key to fill in. */
export const known = (value: number | Range | undefined, input: string, reason: string): Outcome<number | Range> =>
  value === undefined ? refuse(input, reason) : ok(value)
