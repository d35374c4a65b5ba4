// Fixes that write one setting of a profile, wherever it stands now: its own value is replaced, one of a base is written over in the profile. And
// those that take a setting out.
import { startOfLine } from '../../base/lines.ts'
import type { RollDocument } from '../../model/document.ts'
import { addKey, type Edit, replaceValue } from '../../model/edit.ts'
import { schemaAt } from '../../schema/schema.ts'
import { type MapNode, type Pair, resolveAlias } from '../../syntax/tree.ts'
import type { Fix } from '../rule.ts'

/** Writes `text` at a setting such as `['heat', 'platen']`. */
export function writeSetting(
  document: RollDocument,
  path: readonly string[],
  text: string,
  title: string,
  preferred = false,
): Fix {
  const edit = settingEdit(document, path, text)
  return edit.ok ? { title, edits: edit.edits, ...(preferred && { preferred }) } : { title, edits: [], refused: edit.refused }
}

/** Takes a setting out, with the sections that are empty without it, where it stands alone on its lines. */
export function removeSetting(document: RollDocument, path: readonly (string | number)[], title: string): Fix {
  const edit = removalEdit(document, path)
  return edit.ok ? { title, edits: edit.edits } : { title, edits: [], refused: edit.refused }
}

function settingEdit(document: RollDocument, path: readonly string[], text: string): Edit {
  let map = document.tree.root
  for (let i = 0; i < path.length; i++) {
    const [key, rest] = [path[i]!, path.slice(i + 1)]
    if (map?.kind !== 'map') return { ok: false, refused: 'The profile is not a list of settings yet.' }
    const pair = map.pair(key)
    if (!pair) return addKey(document.text, map, key, nested(rest, text), LAST)
    if (rest.length === 0) return replaceValue({ file: document.file, node: pair.value }, text)
    if (pair.value.kind === 'alias') return { ok: false, refused: 'The section is shared through an alias; write it out first.' }
    if (pair.value.kind === 'scalar') return { ok: false, refused: `Something else stands at ${key}; write it by hand.` }
    map = resolveAlias(pair.value)
  }
  return { ok: false, refused: 'There is no such setting.' }
}

/** No key has this name, so what is added stands behind the last one. */
const LAST = ''

const nested = (path: readonly string[], text: string): string =>
  path.length === 0 ? text : `{ ${path[0]}: ${nested(path.slice(1), text)} }`

/** Takes out a key that need not be there; nothing is offered for one that must, or for an item of a list. */
export function leaveOut(document: RollDocument, path: readonly (string | number)[]): Fix | undefined {
  const key = path.at(-1)
  const parent = schemaAt(document.kind, path.slice(0, -1))
  if (parent?.kind !== 'map' || typeof key !== 'string') return undefined
  const due = [...parent.required, ...(parent.requiredUnless?.keys ?? [])].includes(key)
  return due ? undefined : removeSetting(document, path, `Leave '${key}' out`)
}

function removalEdit(document: RollDocument, path: readonly (string | number)[]): Edit {
  const { text } = document
  let map = document.tree.root
  let first: { start: number; end: number } | undefined
  for (const key of path) {
    if (typeof key === 'number') {
      map = map?.kind === 'seq' ? resolveAlias(map.items[key]) : undefined
      first = undefined
      continue
    }
    const pair = map?.kind === 'map' ? map.pair(key) : undefined
    if (map?.kind !== 'map' || !pair) return { ok: false, refused: 'There is no such setting.' }
    if (map.flow && map.pairs.length > 1) return removalInLine(text, map, pair)
    // A section with one entry goes with it; what has others stays.
    if (map.pairs.length > 1 || !first) first = { start: pair.start, end: pair.end }
    map = resolveAlias(pair.value)
  }
  if (!first) return { ok: false, refused: 'There is no such setting.' }
  const lineStart = startOfLine(text, first.start)
  const last = text.slice(0, first.end).trimEnd().length
  const breakAt = text.indexOf('\n', last)
  const lineEnd = breakAt < 0 ? text.length : breakAt + 1
  const alone = text.slice(lineStart, first.start).trim() === '' && text.slice(last, lineEnd).trim() === ''
  if (!alone || /(?:^|\s)#/.test(text.slice(first.start, last)))
    return { ok: false, refused: 'Something else stands on the same line; take it out by hand.' }
  return { ok: true, edits: [{ start: lineStart, end: lineEnd, newText: '' }] }
}

/** Takes one entry out of a mapping in braces, with the comma beside it. */
function removalInLine(text: string, map: MapNode, pair: Pair): Edit {
  const at = map.pairs.indexOf(pair)
  const [before, after] = [map.pairs[at - 1], map.pairs[at + 1]]
  // Behind a key without a value its space goes too, but the one before the bracket stays.
  const ownEnd = pair.end + (/^[ \t]+(?=,)/.exec(text.slice(pair.end, after?.start ?? pair.end))?.[0].length ?? 0)
  const [start, end] = before ? [before.end, ownEnd] : [pair.start, after?.start ?? pair.end]
  if (text.slice(start, end).includes('#'))
    return { ok: false, refused: 'A comment stands between it and its neighbour; take it out by hand.' }
  return { ok: true, edits: [{ start, end, newText: '' }] }
}
