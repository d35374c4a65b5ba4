// Adds entries of evidence to a profile: by the smallest edits, where the list has them by its dates, in the layout of the samples. What comes out is read
// again, and is refused where it holds anything else than what was there before and what was added.

import { startOfLine } from '../base/lines.ts'
import { applyEdits, editsOf } from '../base/text-edit.ts'
import { childOf, type MapSchema, type SchemaNode } from '../schema/schema.ts'
import { type MapNode, type Node, nodeAt, resolveAlias, type SeqNode } from '../syntax/tree.ts'
import { LiveDocument, type RollDocument } from './document.ts'
import { addItems, addKey, type Edit, lineBreak, refuse } from './edit.ts'
import { type EvidenceKind, evidenceIn, meaningOf } from './evidence.ts'
import type { NewEntry } from './evidence-new.ts'

export type Added = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly refused: string }

/** The profile's text with entries of one kind added. Of a section there can be one, where it has none yet. */
export function addEvidence(document: RollDocument<'media'>, kind: EvidenceKind, added: readonly NewEntry[]): Added {
  const { text } = document
  const edit = evidenceEdit(document, kind, added.map(written))
  if (!edit.ok) return edit
  const after = applyEdits(text, editsOf(text, edit.edits))
  const wanted = [...evidenceIn(document), ...added.map(({ entry }) => entry)]
  const fresh = new LiveDocument(document.file, 'media', after)
  const whole = fresh.tree.problems.length === 0 && isSame(evidenceIn(fresh), wanted)
  return whole ? { ok: true, text: after } : { ok: false, refused: 'It cannot be added here without changing something else.' }
}

/** Whether both hold the same entries, whatever their order. */
export function isSame(a: ReturnType<typeof evidenceIn>, b: ReturnType<typeof evidenceIn>): boolean {
  const told = (entries: typeof a): string =>
    entries
      .map(({ kind, cells }) => `${kind.name}\n${meaningOf(cells)}`)
      .sort()
      .join('\n\n')
  return told(a) === told(b)
}

/** An entry as it shall stand: on one line, or a section key by key. */
export interface WrittenEntry extends Pick<NewEntry, 'flow' | 'lines'> {
  readonly date: string
}

const written = ({ flow, lines, entry }: NewEntry): WrittenEntry => ({
  flow,
  lines,
  date: entry.cells.find(({ key }) => key === 'date')?.text ?? '',
})

/** Where new entries of one kind go, by their days, as edits that touch nothing else. */
export function evidenceEdit(
  { text, tree, schema: whole }: RollDocument,
  kind: EvidenceKind,
  entries: readonly WrittenEntry[],
): Edit {
  const added = sortedByDate(entries)
  if (tree.problems.length > 0) return refuse('Its text is broken.')
  const { root } = tree
  if (root?.kind !== 'map') return refuse('It holds no settings that can be read.')
  let map: MapNode = root
  let schema: SchemaNode = whole
  for (const [depth, key] of kind.path.entries()) {
    const value = map.pair(key)?.value
    const rest = kind.path.slice(depth + 1)
    if (value === undefined) {
      const after = schema.kind === 'map' ? keyBefore(map, schema, key) : undefined
      const edit = addKey(text, map, key, below(text, map, kind, rest, added), after)
      return depth === 0 ? setOff(text, edit) : edit
    }
    if (value.kind === 'alias') return refuse(`What stands under ${key} is shared through an alias (*). Write it out first.`)
    if (rest.length === 0)
      return value.kind === 'seq' && kind.form === 'list'
        ? addItems(text, value, placed(value, added))
        : refuse(`What stands under ${key} is ${kind.form === 'list' ? 'no list, or one that is empty' : 'there already'}.`)
    const inner = childOf(schema, key)
    if (value.kind !== 'map' || !inner) return refuse(`What stands under ${key} is no group of keys.`)
    map = value
    schema = inner
  }
  return refuse('There is no place for it.')
}

/** With a blank line before a section of its own, where the sections of a document have one. */
export function setOff(text: string, edit: Edit): Edit {
  if (!edit.ok || !/\n\r?\n(?=[a-z])/.test(text)) return edit
  const eol = lineBreak(text)
  return {
    ok: true,
    edits: edit.edits.map((one) => (one.newText.startsWith(eol) ? { ...one, newText: eol + one.newText } : one)),
  }
}

/** What stands behind a key that is not there yet: the keys that lead on from it, and the entries. */
function below(text: string, map: MapNode, kind: EvidenceKind, rest: readonly string[], added: readonly WrittenEntry[]): string {
  const flows = added.map(({ flow }) => flow)
  if (map.flow) {
    const inner = kind.form === 'list' ? `[${flows.join(', ')}]` : flows[0]!
    return rest.reduceRight((value, key) => `{ ${key}: ${value} }`, inner)
  }
  const start = map.pairs[0]?.start ?? 0
  const column = start - startOfLine(text, start)
  const line = (depth: number, words: string): string => `\n${' '.repeat(column + 2 * depth)}${words}`
  const heads = rest.map((key, depth) => line(depth + 1, `${key}:`))
  const lines = kind.form === 'list' ? flows.map((flow) => `- ${flow}`) : (added[0]?.lines ?? [])
  return [...heads, ...lines.map((words) => line(rest.length + 1, words))].join('')
}

/** The last key that stands before this one in the schema's order and is given. */
export const keyBefore = (map: MapNode, { properties }: MapSchema, key: string): string | undefined => {
  const order = [...properties.keys()]
  return order
    .slice(0, order.indexOf(key))
    .filter((k) => map.pair(k))
    .at(-1)
}

const dateOf = (item: Node): string => {
  const date = resolveAlias(nodeAt(item, ['date']))
  return date?.kind === 'scalar' ? date.text : ''
}

/** By their days; what is of one day keeps its order. */
const sortedByDate = (added: readonly WrittenEntry[]): readonly WrittenEntry[] =>
  [...added].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))

/** Where each belongs: as the list runs, from old to new or from new to old. Behind all others in a list that runs neither way. */
function placed({ items }: SeqNode, added: readonly WrittenEntry[]): { item: string; before: number }[] {
  const dates = items.map(dateOf)
  const runs = (sign: 1 | -1): boolean =>
    dates.every((date, i) => date !== '' && (i === 0 || date === dates[i - 1] || date > dates[i - 1]! === sign > 0))
  const rising = runs(1)
  if (!rising && !runs(-1)) return added.map(({ flow }) => ({ item: flow, before: items.length }))
  const later = (date: string, than: string): boolean => (rising ? date > than : date < than)
  return (rising ? added : [...added].reverse()).map((one) => {
    const place = dates.findIndex((date) => later(date, one.date))
    return { item: one.flow, before: place < 0 ? items.length : place }
  })
}
