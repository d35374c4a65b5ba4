// The result of a calculation that can refuse: a value, or a problem that names the input at fault. The core never throws for user input.

/** Why a calculation could not be done: which input is at fault, and one plain sentence in the shop's language. */
export interface CalcProblem {
  readonly input: string
  readonly reason: string
}

export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: CalcProblem }

export const ok = <T>(value: T): Outcome<T> => ({ ok: true, value })

export const refuse = (input: string, reason: string): Outcome<never> => ({ ok: false, problem: { input, reason } })

/** Refuses unless every named input is a finite number (and above zero where listed in `positive`). Returns the first problem, or undefined. */
export function firstProblem(
  inputs: Readonly<Record<string, number | undefined>>,
  positive: readonly string[] = [],
): CalcProblem | undefined {
  for (const [input, value] of Object.entries(inputs)) {
    if (value === undefined) return { input, reason: `${input} is missing` }
    if (!Number.isFinite(value)) return { input, reason: `${input} is not a finite number` }
    if (value <= 0 && positive.includes(input)) return { input, reason: `${input} must be above zero` }
  }
  return undefined
}
