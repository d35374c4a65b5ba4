// What the statistics tests share: the value of an outcome that must be one, and the problem of one that must refuse.
import type { CalcProblem, Outcome } from '../../server/src/base/outcome.ts'

export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`refused: ${outcome.problem.input}: ${outcome.problem.reason}`)
  return outcome.value
}

export function refusal<T>(outcome: Outcome<T>): CalcProblem {
  if (outcome.ok) throw new Error(`expected a refusal, got ${JSON.stringify(outcome.value)}`)
  return outcome.problem
}

/** Every number inside a value, however deep: what must never be NaN. */
export function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  if (value === null || typeof value !== 'object') return []
  return Object.values(value).flatMap(numbersIn)
}
