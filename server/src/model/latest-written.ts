// The newest day that a profile tells of: it was written then or later.
import { EVIDENCE } from './evidence.ts'
import type { F, List } from './field.ts'
import type { MediaDocument } from './generated/documents.ts'

interface Dated {
  readonly date?: F<string>
}

/** Of all its evidence; undefined where none has a day. */
export function latestWritten(own: MediaDocument): string | undefined {
  const days = EVIDENCE.flatMap(({ path, form }) => {
    const held = path.reduce<unknown>((at, key) => (at as Readonly<Record<string, unknown>> | undefined)?.[key], own)
    if (held === undefined) return []
    const entries = form === 'list' ? (held as List<Dated>).items : [held as Dated]
    return entries.flatMap(({ date }) => date?.value ?? [])
  })
  return days.sort().at(-1)
}
