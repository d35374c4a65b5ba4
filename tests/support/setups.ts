// Setups of a fixture's first profile, documents with keys taken out at random, and every number of a result: for tests of the model.
import type { Setup } from '../../server/src/model/setup.ts'
import { openFixture, parseFixture } from './fixture.ts'

/** The setup of a fixture's marked or first profile. */
export async function setupFrom(source: string, today?: string): Promise<Setup> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  const setup = analysis.context(fixture.file)?.setup
  if (!setup) throw new Error('the fixture has no profile')
  return setup
}

/** The fixture without some of its entries, in flow mappings too; file headers and the keys that name a document stay. */
export function withoutLines(source: string, keep: Iterable<boolean>): string {
  const choice = keep[Symbol.iterator]()
  const stays = (): boolean => choice.next().value === true
  return source
    .split('\n')
    .filter((line) => line === '' || /^#- |^(?:profile|stock|printer):/.test(line) || /^\S+:$/.test(line) || stays())
    .map((line) =>
      /\{.*\}/.test(line) ? line.replace(/[a-z-]+: [^,{}[\]]+(?:, |(?=\}))/g, (entry) => (stays() ? entry : '')) : line,
    )
    .join('\n')
}

/** Every number in a result, however deep. */
export function* everyNumber(value: unknown, seen = new Set<unknown>()): Generator<number> {
  if (typeof value === 'number') yield value
  if (typeof value !== 'object' || value === null || seen.has(value)) return
  seen.add(value)
  for (const inner of value instanceof Map ? value.values() : Object.values(value)) yield* everyNumber(inner, seen)
}
