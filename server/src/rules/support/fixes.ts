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
