// The days on which something happened that a document tells of: checks, readings, picks, deliveries, events. The day an instrument is due lies ahead,
// and the last day of a time may.
import type { RollDocument } from '../../model/document.ts'
import type { F } from '../../model/field.ts'
import { isField, pathsWhere, valuesAt } from './values.ts'

const HAPPENED = pathsWhere(
  (node) => node.kind === 'leaf' && node.accepts.some((a) => a.type === 'date') && !/\.(?:due|to)$/.test(node.path),
)

/** In the order of the format. */
export const daysOf = (document: RollDocument): readonly F<string>[] =>
  (HAPPENED.get(document.kind) ?? []).flatMap((steps) =>
    valuesAt(document.content, steps).filter((value): value is F<string> => isField(value) && typeof value.value === 'string'),
  )

/** The newest day, not after today, that documents tell of. */
export function newestDay(documents: readonly RollDocument[], today: string): string | undefined {
  let newest: string | undefined
  for (const document of documents)
    for (const { value } of daysOf(document)) if (value <= today && (newest === undefined || value > newest)) newest = value
  return newest
}
