// One entry more in a list of a document, or in what a profile has once: a check, a reading, a read-back, an event, a lot. Where its list has it by its day;
// what is there already is told, and nothing that is not given is made up.
import { applyEdits, editsOf } from '../../base/text-edit.ts'
import { LiveDocument, type RollDocument } from '../../model/document.ts'
import { refuse } from '../../model/edit.ts'
import { cellSchema, type EvidenceKind, entriesOf, evidenceIn, evidenceKind } from '../../model/evidence.ts'
import { isSame } from '../../model/evidence-add.ts'
import { HeldEvidence } from '../../model/evidence-held.ts'
import { apart, type Given, newEntry } from '../../model/evidence-new.ts'
import { placedEdit } from '../../model/evidence-place.ts'
import type { AddedState } from '../../model/state-add.ts'
import { joined } from '../../model/state-add.ts'
import { placeOfKey } from './key-place.ts'
import { dayOf } from './set-value.ts'

export type Recorded =
  | { readonly ok: true; readonly text: string /** The entry as it stands now. */; readonly flow: string }
  /** `held` where all that it says is there. */
  | { readonly ok: false; readonly refused: string; readonly held?: true }

/** The list, or the section, of a dotted key. */
export function kindAt(document: RollDocument, key: string): EvidenceKind | { readonly refused: string } {
  const known = document.kind === 'media' ? evidenceKind(key) : undefined
  if (known) return known
  const place = placeOfKey(document, key)
  if ('refused' in place) return place
  const { path, schema } = place
  const { items } = schema.kind === 'list' ? schema : { items: undefined }
  if (document.kind === 'media' || items?.kind !== 'map') return { refused: 'It is no list that entries are added to.' }
  return { name: key, path: path.map(String), form: 'list', entry: items, document: document.kind }
}

/** `cells` are keys and what was typed; `today` is YYYY-MM-DD. `repeats` where somebody says that it was measured again. */
export function withEntry(
  document: RollDocument,
  kind: EvidenceKind,
  cells: readonly (readonly [key: string, typed: string])[],
  { today, repeats, state }: { readonly today: string; readonly repeats: boolean; readonly state?: AddedState | undefined },
): Recorded {
  if (state && !state.ok) return refuse(state.refused)
  const all = state ? [...cells, ['under', state.name] as const] : cells
  const read = newEntry(
    kind,
    all.flatMap(([key, typed]) => givenOf(kind, key, typed, today)),
  )
  if (!read.ok) return refuse(`${read.reason}.`)
  const { entry, flow, lines } = read.made
  const date = entry.cells.find(({ key }) => key === 'date')?.text ?? ''
  if (date > today) return refuse(`${date} is still to come.`)
  const there = entriesOf(document, kind)
  const standing = new HeldEvidence(kind, there, repeats).standing(entry, 0)
  if (standing.is === 'held' && !repeats) return { ...refuse('It is there already.'), held: true }
  if (standing.is === 'differs' && kind.form === 'list' && kind.entry.required.length > 1)
    return refuse(`Such an entry is there already, otherwise: ${standing.how}. If it was measured again, --repeats takes it.`)
  const { before, edit } = placedEdit(document, kind, { flow, lines, date })
  if (!edit.ok) return edit
  const edits = joined([...before, ...edit.edits, ...(state?.edits ?? [])])
  const text = applyEdits(document.text, editsOf(document.text, edits))
  const after = new LiveDocument(document.file, document.kind, text)
  // One that a profile has once takes the place of the one before, which stays as a comment.
  const kept = (one: RollDocument) => (one.kind === 'media' ? evidenceIn(one as RollDocument<'media'>) : entriesOf(one, kind))
  const stay = kept(document).filter((one) => kind.form === 'list' || one.kind !== kind)
  if (after.tree.problems.length > 0 || !isSame(kept(after), [...stay, entry]))
    return refuse('It cannot be added here without changing something else.')
  return { ok: true, text, flow }
}

/** '499.4 ±0.3 mm' is a number, its uncertainty and a unit; words stay whole. */
function givenOf(kind: EvidenceKind, key: string, typed: string, today: string): readonly Given[] {
  const schema = cellSchema(kind, key)
  const isQuantity = schema?.kind === 'leaf' && schema.accepts.some(({ type }) => type === 'quantity')
  if (!isQuantity) return [{ key, part: 'value', unit: undefined, text: schema ? dayOf(schema, typed, today) : typed }]
  const [, value, spread, rest] = /^(.*?)\s*±\s*([\d.]+)\s*(.*)$/.exec(typed) ?? []
  const [text, unit] = apart(value === undefined ? typed : `${value} ${rest}`)
  const own: Given = { key, part: 'value', unit, text }
  return spread === undefined ? [own] : [own, { key, part: 'spread', unit, text: spread }]
}
