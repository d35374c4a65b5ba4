// One key of a document given a value, by the smallest edit: a value that stands there is replaced, a key that does not is added in its place. What was measured
// keeps a trace of what was read before; what else is evidence, and a state, stays as somebody wrote it. Whether the value may stand there the rules say afterwards.
import { applyEdits, editsOf } from '../../base/text-edit.ts'
import { addDays } from '../../model/dates.ts'
import type { RollDocument } from '../../model/document.ts'
import { addKey, type Edit, plainOrQuoted, refuse, replaceValue } from '../../model/edit.ts'
import { EVIDENCE } from '../../model/evidence.ts'
import { keyBefore } from '../../model/evidence-add.ts'
import { joined } from '../../model/state-add.ts'
import { tracedReading } from '../../rules/support/trace.ts'
import type { SchemaNode } from '../../schema/schema.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { scalarText } from '../new/entry.ts'
import { type Added, withEntries } from '../new/into.ts'
import { placeOfKey } from './key-place.ts'

/** The text of a document that says this. `today` is YYYY-MM-DD. */
export function withValue(document: RollDocument, key: string, typed: string, today: string): Added {
  const { text, tree, schema: whole, file } = document
  if (tree.problems.length > 0) return refuse('The text of the document is broken; mend it first.')
  const place = placeOfKey(document, key)
  if ('refused' in place) return refuse(place.refused)
  const { path, schema } = place
  const { kind, value, yaml } = written(schema, dayOf(schema, typed, today))
  if (yaml === undefined) return refuse('It is a group: give one of its keys a value.')
  const node = nodeAt(tree.root, path)
  const isEvidence = document.kind === 'media' && EVIDENCE.some((one) => one.path.every((step, i) => path[i] === step))
  if (document.kind === 'media' && path[0] === 'conditions')
    return refuse('What a state says is never changed: measurements stand under it.')
  let edit: Edit | undefined
  if (node && isEvidence) {
    const trace = tracedReading(text, file, tree.root, path, today)
    if (trace && !trace.ok) return trace
    const own = trace && replaceValue({ file, node }, value)
    if (!own) return refuse('It is evidence, and stays as it was written down.')
    edit = own.ok ? { ok: true, edits: joined([...own.edits, ...trace.edits]) } : own
  } else if (node?.kind === 'seq' && node.flow && !node.shared && kind === 'list')
    edit = { ok: true, edits: [{ start: node.start, end: node.end, newText: yaml }] }
  else if (node)
    edit =
      kind === 'list' ? refuse('Its values have a line each: change them in the document.') : replaceValue({ file, node }, value)
  else {
    const entry = path.some((step) => typeof step === 'number') ? nodeAt(tree.root, path.slice(0, -1)) : undefined
    const inner = entry && placeOfKey(document, key.split('.').slice(0, -1).join('.'))
    if (!entry) return withEntries(text, whole, [{ path, yaml }])
    if (entry.kind !== 'map' || !inner || 'refused' in inner) return refuse('There is no place for it.')
    const after = inner.schema.kind === 'map' ? keyBefore(entry, inner.schema, String(path.at(-1))) : undefined
    edit = addKey(text, entry, String(path.at(-1)), yaml, after)
  }
  return edit.ok ? { ok: true, text: applyEdits(text, editsOf(text, edit.edits)) } : edit
}

/** As the document would say it; without `yaml` where no one value can stand. */
function written(
  schema: SchemaNode,
  typed: string,
): { readonly kind: 'value' | 'list'; readonly value: string; readonly yaml?: string } {
  if (schema.kind === 'list' && schema.items.kind === 'leaf' && (typed.includes(',') || !schema.single)) {
    const items = typed.replace(/^\[(.*)\]$/, '$1').split(',')
    return { kind: 'list', value: typed, yaml: `[${items.map((item) => scalarText(schema.items, item.trim())).join(', ')}]` }
  }
  const leaf = schema.kind === 'list' ? schema.single : schema
  if (leaf?.kind !== 'leaf') return { kind: 'value', value: typed, ...(leaf?.kind === 'any' && { yaml: plainOrQuoted(typed) }) }
  return { kind: 'value', value: typed, yaml: scalarText(leaf, typed) }
}

/** What a person calls a day. */
export function dayOf(schema: SchemaNode, typed: string, today: string): string {
  const takesDay = schema.kind === 'leaf' && schema.accepts.some(({ type }) => type === 'date')
  return !takesDay ? typed : typed === 'today' ? today : typed === 'yesterday' ? addDays(today, -1) : typed
}
