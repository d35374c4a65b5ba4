// A reading that was mistyped is put right with a trace: it is there to be typed over, and what was written stays readable in the note of its entry, or in
// a comment on its line where such an entry has no note. Whoever reads the file later, or merges it, sees that it was one print and not two.
import { addKey, type Edit, replaceValue } from '../model/edit.ts'
import { EVIDENCE, type EvidenceKind } from '../model/evidence.ts'
import { keyBefore } from '../model/evidence-add.ts'
import { commented } from '../rules/support/trace.ts'
import { childOf, type SchemaNode } from '../schema/schema.ts'
import { locate } from '../syntax/locate.ts'
import { type MapNode, nodeAt, type ScalarNode } from '../syntax/tree.ts'
import type { Assist } from './assist.ts'
import { escapeSnippet, stop } from './new-check.ts'

const TITLE = 'Correct this reading, and keep what was written'

export const correctReading: Assist = {
  id: 'correct-reading',
  summary: 'Put a mistyped reading right, with a trace of what was written.',
  kind: 'refactor',
  at({ document: { kind: which, text, file, tree }, today }, span) {
    const at = which === 'media' && tree.problems.length === 0 ? locate(tree.root, span.start) : undefined
    if (at?.on !== 'value' || at.node.kind !== 'scalar' || at.node.text === '') return []
    const { node, path } = at
    const kind = EVIDENCE.find((one) => one.path.every((key, i) => path[i] === key))
    const depth = kind && kind.path.length + (kind.form === 'list' ? 1 : 0)
    const key = path.slice(depth)
    const entry = nodeAt(tree.root, path.slice(0, depth))
    if (!kind || entry?.kind !== 'map' || !isReading(kind.entry, key)) return []
    const trace = `${key.map((step) => (typeof step === 'number' ? step + 1 : step)).join('.')} was ${node.text}, corrected ${today}`
    const edit = node.shared || node.style !== 'plain' ? REFUSED : traced(text, file, kind, entry, node, trace)
    if (!edit.ok) return [{ title: TITLE, edits: [], refused: edit.refused }]
    const others = edit.edits.map((one) => ({ ...one, newText: escapeSnippet(one.newText) }))
    return [
      { title: TITLE, edits: [{ start: node.start, end: node.end, newText: overtyped(node.text) }, ...others], snippet: true },
    ]
  },
}

const refuse = (refused: string): Edit => ({ ok: false, refused })

const REFUSED = refuse('The reading is quoted, or shared through an alias (*): change it by hand, and note what was written.')

/** A number that was read or picked, and not a day or a name. */
function isReading(entry: SchemaNode, key: readonly (string | number)[]): boolean {
  let schema: SchemaNode | undefined = entry
  for (const step of key) schema = schema && childOf(schema, step)
  const leaf = schema?.kind === 'list' ? schema.single : schema
  return leaf?.kind === 'leaf' && leaf.accepts.some(({ type }) => type === 'quantity' || type === 'integer' || type === 'number')
}

/** The number selected, with its unit behind it. */
function overtyped(text: string): string {
  const [, number, rest] = /^([-+−]?[\d./ ]*\d)(.*)$/s.exec(text) ?? []
  return number === undefined ? stop(1, text) : `${stop(1, number)}${escapeSnippet(rest ?? '')}`
}

function traced(
  text: string,
  file: string,
  { entry: schema }: EvidenceKind,
  entry: MapNode,
  node: ScalarNode,
  trace: string,
): Edit {
  if (!schema.properties.has('note')) return commented(text, node, trace)
  const note = entry.pair('note')?.value
  if (note === undefined) return addKey(text, entry, 'note', `'${trace.replaceAll("'", "''")}'`, keyBefore(entry, schema, 'note'))
  if (note.kind !== 'scalar' || note.text === '')
    return refuse('The note of this entry is empty: write by hand what was read before.')
  return replaceValue({ file, node: note }, `${note.text}; ${trace}`)
}
