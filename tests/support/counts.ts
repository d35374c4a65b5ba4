// How much is tried: `npm test` a seeded tenth of what is counted, `npm run test:long` all of it.
import { seed } from './seed.ts'

/** Whether all is tried: by `npm run test:long`. */
export const isWhole = process.env.COUNTS === 'whole'

/** How often a property is tried: a tenth, or another part where one try takes long. */
export const runs = (whole: number, part = 10): number => (isWhole ? whole : Math.ceil(whole / part))

/** A seeded tenth of cases that are all of one kind, or of another part of them; at least one. */
export function some<T>(all: readonly T[], part = 10): readonly T[] {
  if (isWhole) return all
  const kept = all.filter((_, i) => (Math.imul(i + 1, 0x9e3779b1) + seed) % part === 0)
  return kept.length > 0 ? kept : all.slice(0, 1)
}
