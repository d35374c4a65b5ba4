// Feeds a calculation what no calculation should be fed, one input at a time and several at once, and insists on an answer or a
// named problem.
import fc from 'fast-check'
import { expect } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'

const HOSTILE = [
  0,
  -0,
  -1,
  1e308,
  -1e308,
  5e-324,
  1e-300,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  Number.NaN,
  undefined,
]

/** The names of the inputs that were refused, so that a test can say which it expects to be. */
export function withstand<I extends object>(calculate: (input: I) => Outcome<unknown>, good: I): string[] {
  expect(calculate(good), 'the good input').toMatchObject({ ok: true })
  const numbers = Object.keys(good).filter((key) => isNumeric((good as Record<string, unknown>)[key]))
  const refused = new Set<string>()
  for (const key of numbers) {
    for (const value of HOSTILE) {
      for (const put of [value, { low: value, typical: value, high: value }]) {
        if (typeof put === 'object' && typeof (good as Record<string, unknown>)[key] === 'number') continue
        const problem = sound(calculate({ ...good, [key]: put } as I), `${key} = ${String(value)}`)
        if (problem) refused.add(problem)
      }
    }
  }
  const scrambled = fc.record(Object.fromEntries(numbers.map((key) => [key, fc.oneof(fc.constantFrom(...HOSTILE), fc.double())])))
  fc.assert(fc.property(scrambled, (some) => void sound(calculate({ ...good, ...some } as I), JSON.stringify(some))))
  return [...refused].sort()
}

const isNumeric = (value: unknown): boolean =>
  typeof value === 'number' || (typeof value === 'object' && value !== null && 'typical' in value)

/** Checks that an outcome is finite throughout or a problem with a name and a sentence; gives the name. */
function sound(outcome: Outcome<unknown>, what: string): string | undefined {
  if (outcome.ok) {
    expect(finiteThroughout(outcome.value), `${what} gives ${JSON.stringify(outcome.value)}`).toBe(true)
    return undefined
  }
  expect(outcome.problem.input, what).not.toBe('')
  expect(outcome.problem.reason.length, what).toBeGreaterThan(10)
  expect(outcome.problem.reason, what).not.toMatch(/NaN|Infinity|undefined|null|\[object/)
  return outcome.problem.input
}

function finiteThroughout(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  if (Array.isArray(value)) return value.every(finiteThroughout)
  if (typeof value !== 'object' || value === null) return true
  const entries = Object.values(value)
  if ('low' in value && 'typical' in value && 'high' in value) {
    const { low, typical, high } = value as { low: number; typical: number; high: number }
    if (!(low <= typical && typical <= high)) return false
  }
  return entries.every(finiteThroughout)
}

/** The value of an outcome that must be there. */
export function answer<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.problem.input}: ${outcome.problem.reason}`)
  return outcome.value
}
