// Makes fixes of edits, and fixes that write another value, in one wording.
import { type Edit, replaceKey, replaceValue } from '../../model/edit.ts'
import type { Place } from '../../model/field.ts'
import type { ScalarNode } from '../../syntax/tree.ts'
import type { Fix } from '../rule.ts'

/** A fix of an edit; one that is refused says why. */
export function fixOf(title: string, edit: Edit, preferred = false): Fix {
  return edit.ok ? { title, edits: edit.edits, ...(preferred && { preferred }) } : { title, edits: [], refused: edit.refused }
}

/** Writes another value in place of one that cannot stand. */
export const writeValue = (place: Place, text: string, preferred = false): Fix =>
  fixOf(`Write '${text}'`, replaceValue(place, text, 'mend'), preferred)

/** Writes another key. */
export const writeKey = (key: ScalarNode, text: string, preferred = false): Fix =>
  fixOf(`Write '${text}'`, replaceKey(key, text), preferred)

/** Writes each of two values where the other stands, as it is written. Undefined where one is reached through an alias. */
export function swapValues(text: string, first: Place, second: Place, title: string, preferred = false): Fix | undefined {
  if (first.aliased || second.aliased) return undefined
  const [a, b] = [first.node, second.node]
  return {
    title,
    edits: [
      { start: a.start, end: a.end, newText: text.slice(b.start, b.end) },
      { start: b.start, end: b.end, newText: text.slice(a.start, a.end) },
    ],
    ...(preferred && { preferred }),
  }
}
