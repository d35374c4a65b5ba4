// Adds answers to a document that is there: each by the smallest edit, in its place by the schema. Nothing that stands there is ever changed.
import { startOfLine } from '../../base/lines.ts'
import { applyEdits, editsOf } from '../../base/text-edit.ts'
import { addKey, type Edit, refuse } from '../../model/edit.ts'
import { keyBefore, setOff } from '../../model/evidence-add.ts'
import { childOf, type MapSchema, type SchemaNode } from '../../schema/schema.ts'
import { SyntaxTree } from '../../syntax/parse.ts'
import type { MapNode } from '../../syntax/tree.ts'
import type { Entry } from './entry.ts'
import { isOneLine, layout } from './layout.ts'

export type Added = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly refused: string }

export function withEntries(before: string, schema: MapSchema, entries: readonly Entry[]): Added {
  let text = before
  for (const [n, entry] of entries.entries()) {
    // A section that is begun only so that others stand in it needs no words of its own.
    if (entry.yaml === '{}' && entries.slice(n + 1).some(({ path }) => leads(entry.path, path))) continue
    const { root, problems } = SyntaxTree.parse(text)
    if (problems.length > 0) return refuse('The text of the document is broken; mend it first.')
    if (root === undefined && text.trim() === '') {
      text = layout(entries.slice(n))
      break
    }
    if (root?.kind !== 'map') return refuse('The document holds no keys that can be read.')
    const edit = addEntry(text, root, schema, entry)
    if (edit === undefined) continue
    if (!edit.ok) return edit
    text = applyEdits(text, editsOf(text, edit.edits))
  }
  return { ok: true, text }
}

const leads = (a: Entry['path'], b: Entry['path']): boolean => b.length > a.length && a.every((key, i) => key === b[i])

/** Undefined where a section that is only to be there is there. */
function addEntry(text: string, root: MapNode, schema: SchemaNode, { path, yaml }: Entry): Edit | undefined {
  let map = root
  let within: SchemaNode | undefined = schema
  for (const [depth, step] of path.entries()) {
    const key = String(step)
    const pair = map.pair(key)
    const last = depth === path.length - 1
    if (pair === undefined) {
      const after = within?.kind === 'map' ? keyBefore(map, within, key) : LAST
      const edit = addKey(text, map, key, below(text, map, path, depth, yaml), after)
      return depth === 0 ? setOff(text, edit) : map.flow && map.pairs.length === 0 ? padded(edit) : edit
    }
    const { value } = pair
    if (last)
      return yaml === '{}' && value.kind === 'map'
        ? undefined
        : refuse(`${path.join('.')} stands there already; change it in the document.`)
    if (value.kind !== 'map')
      return refuse(`What stands under ${key} is no group of keys that can be added to; write it in the document.`)
    within = within && childOf(within, key)
    map = value
  }
  return refuse('There is no place for it.')
}

/** No key has this name, so what is added stands behind the last one. */
const LAST = ''

/** What stands behind a key that is not there yet: the keys that lead on from it, in the layout of the samples, and the value. */
function below(text: string, map: MapNode, path: Entry['path'], depth: number, yaml: string): string {
  const rest = path.slice(depth + 1)
  if (rest.length === 0) return yaml
  const flow = (keys: Entry['path']): string =>
    keys.reduceRight<string>((value, key) => (key === 0 ? `[${value}]` : `{ ${key}: ${value} }`), yaml)
  if (map.flow || isOneLine(path.slice(0, depth + 1))) return flow(rest)
  const start = map.pairs[0]?.start ?? 0
  const column = start - startOfLine(text, start)
  const pad = ' '.repeat(column + 2)
  if (rest[0] === 0) return `\n${pad}- ${flow(rest.slice(1))}`
  const [key, ...more] = rest
  if (more.length === 0) return `\n${pad}${key}: ${yaml}`
  if (isOneLine(path.slice(0, depth + 2))) return `\n${pad}${key}: ${flow(more)}`
  return `\n${pad}${key}:\n${pad}  ${more.length === 1 ? `${more[0]}: ${yaml}` : `${more[0]}: ${flow(more.slice(1))}`}`
}

/** With blanks inside braces that were empty, as in the samples. */
const padded = (edit: Edit): Edit =>
  edit.ok ? { ok: true, edits: edit.edits.map((one) => ({ ...one, newText: ` ${one.newText} ` })) } : edit
