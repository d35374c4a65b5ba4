// What the tests of the physical areas share: profiles with keys taken out at random, and results searched for numbers that are none.
import fc from 'fast-check'
import { expect } from 'vitest'
import type { Setup } from '../../server/src/model/setup.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'

export async function setupOf(source: string): Promise<Setup> {
  const fixture = parseFixture(source)
  const setup = (await openFixture(fixture)).context(fixture.file)?.setup
  if (!setup) throw new Error('the fixture has no setup')
  return setup
}

/** Every number in a value, however deep; places in documents are left out. */
export function numbersIn(value: unknown, into: number[] = []): number[] {
  if (typeof value === 'number') into.push(value)
  else if (value instanceof Map) for (const item of value.values()) numbersIn(item, into)
  else if (Array.isArray(value)) for (const item of value) numbersIn(item, into)
  else if (typeof value === 'object' && value !== null)
    for (const [key, item] of Object.entries(value))
      if (!['place', '$', 'node', 'check', 'reading'].includes(key)) numbersIn(item, into)
  return into
}

/** Whether two results are the same but for the last digits. */
export function expectAlike(a: unknown, b: unknown): void {
  const [one, two] = [numbersIn(a), numbersIn(b)]
  expect(two.length).toBe(one.length)
  one.forEach((x, i) => {
    expect(Math.abs(two[i]! - x)).toBeLessThanOrEqual(1e-9 + 1e-6 * Math.abs(x))
  })
}

/** Lines of a fixture gone, and numbers turned into hostile ones, at random. */
export const halfFilled = (source: string): fc.Arbitrary<string> => {
  const lines = source.split('\n')
  return fc
    .record({
      gone: fc.array(fc.nat(lines.length - 1), { maxLength: 6 }),
      hostile: fc.array(
        fc.record({ line: fc.nat(lines.length - 1), number: fc.constantFrom('0', '-5', '1e9', '1e-9', '1000000', '.') }),
        { maxLength: 3 },
      ),
    })
    .map(({ gone, hostile }) => {
      const out = lines.map((line, i) => {
        const bad = hostile.find((h) => h.line === i)
        return bad && !line.startsWith('#') ? line.replace(/-?\d+(?:\.\d+)?(?= )/, bad.number) : line
      })
      return out.filter((line, i) => line.startsWith('#') || !gone.includes(i)).join('\n')
    })
}
