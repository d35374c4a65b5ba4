// New evidence ready to fill in, as snippet text: what is read has its stops first, and what is known stands there to be changed behind them.
import type { NewReading, Part } from '../areas/recording.ts'
import type { MapSchema } from '../schema/schema.ts'
import { choice, dateStop, escapeSnippet, stop, stopBefore } from './new-check.ts'

/** The lines of an entry of today, a key each in the schema's order. `under` are the states that may be named; empty where it has to be asked for. */
export function readingLines(
  { properties }: MapSchema,
  { parts }: NewReading,
  today: string,
  under: readonly string[] | undefined,
): readonly string[] {
  const given = Object.entries(parts).flatMap(([key, part]) => (part ? [{ key, part }] : []))
  let n = 0
  const lines = new Map(given.flatMap(({ key, part }) => ('known' in part ? [] : [[key, toRead(part, () => ++n)]])))
  for (const { key, part } of given) if ('known' in part) lines.set(key, stop(++n, part.known))
  lines.set('date', dateStop(++n, today))
  if (under !== undefined) lines.set('under', choice(++n, under))
  return [...properties.keys()].flatMap((key) => (lines.has(key) ? [`${key}: ${lines.get(key)}`] : []))
}

/** The same on one line. */
export const readingFlow = (lines: readonly string[]): string => `{ ${lines.join(', ')} }`

function toRead(part: Exclude<Part, { known: string }>, next: () => number): string {
  if ('unit' in part) return stopBefore(next(), part.unit)
  if ('names' in part) return `{ ${part.names.map((name) => `${escapeSnippet(name)}: ${stop(next())}`).join(', ')} \\}`
  if ('count' in part) return `[${Array.from({ length: part.count }, () => stop(next())).join(', ')}]`
  return stop(next())
}
