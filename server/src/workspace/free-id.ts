// Names for profiles that are made: none that another profile or its file has.
import { lastPart } from '../base/uri.ts'
import type { Shelf } from '../model/shelf.ts'

/** The first of `names` that is free; else the first of all with a number behind it, from 2. A file in `blank` takes no name. */
export function freeId(shelf: Shelf, names: readonly [string, ...string[]], blank: ReadonlySet<string> = new Set()): string {
  const files = new Set([...shelf.all('media')].flatMap(({ file }) => (blank.has(file) ? [] : [lastPart(file)])))
  const free = (id: string): boolean => shelf.withId('media', id).length === 0 && !files.has(`${id}.media.yaml`)
  const found = names.find(free)
  if (found !== undefined) return found
  for (let n = 2; ; n++) if (free(`${names[0]}-${n}`)) return `${names[0]}-${n}`
}
