// What was written before something was put right: left in a comment on its line, or in the note of its entry.
import { addKey, type Edit, refuse, replaceValue } from '../../model/edit.ts'
import { EVIDENCE, type EvidenceKind } from '../../model/evidence.ts'
import { keyBefore } from '../../model/evidence-add.ts'
import { childOf, type SchemaNode } from '../../schema/schema.ts'
import { type MapNode, type Node, nodeAt, type ScalarNode } from '../../syntax/tree.ts'

/** Behind all that stands on the line of a value: "date was 2027-03-14, corrected 2026-03-31". */
export function commented(text: string, { end: from }: Pick<Node, 'end'>, trace: string): Edit {
  const end = /\r?\n|$/.exec(text.slice(from))!.index + from
  const rest = text.slice(from, end)
  const at = from + rest.trimEnd().length
  return { ok: true, edits: [{ start: at, end: at, newText: /(?:^|\s)#/.test(rest) ? `; ${trace}` : ` # ${trace}` }] }
}

/** What keeps the trace of a reading of a profile that is put right today, whose value stands at a path; undefined where none was read there. */
export function tracedReading(
  text: string,
  file: string,
  root: Node | undefined,
  path: readonly (string | number)[],
  today: string,
): Edit | undefined {
  const node = nodeAt(root, path)
  const kind = EVIDENCE.find((one) => one.path.every((key, i) => path[i] === key))
  const depth = kind && kind.path.length + (kind.form === 'list' ? 1 : 0)
  const key = path.slice(depth)
  const entry = nodeAt(root, path.slice(0, depth))
  if (node?.kind !== 'scalar' || !kind || entry?.kind !== 'map' || !isReading(kind.entry, key)) return undefined
  const trace = `${key.map((step) => (typeof step === 'number' ? step + 1 : step)).join('.')} was ${node.text}, corrected ${today}`
  return node.shared || node.style !== 'plain' ? REFUSED : traced(text, file, kind, entry, node, trace)
}

const REFUSED = refuse('The reading is quoted, or shared through an alias (*): change it by hand, and note what was written.')

/** A number that was read or picked, and not a day or a name. */
function isReading(entry: SchemaNode, key: readonly (string | number)[]): boolean {
  let schema: SchemaNode | undefined = entry
  for (const step of key) schema = schema && childOf(schema, step)
  const leaf = schema?.kind === 'list' ? schema.single : schema
  return leaf?.kind === 'leaf' && leaf.accepts.some(({ type }) => type === 'quantity' || type === 'integer' || type === 'number')
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
