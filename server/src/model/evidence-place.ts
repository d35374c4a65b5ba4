// One more entry of evidence in a profile: in its list by its day, or, of what a profile has once, below the one before, which stays as a comment word for word.
import { startOfLine } from '../base/lines.ts'
import type { TextEdit } from '../base/text-edit.ts'
import { nodeAt, type Pair } from '../syntax/tree.ts'
import type { RollDocument } from './document.ts'
import type { Edit } from './edit.ts'
import type { EvidenceKind } from './evidence.ts'
import { evidenceEdit, type WrittenEntry } from './evidence-add.ts'

/** Where an entry goes, and what is made a comment for it. */
export function placedEdit(
  document: RollDocument,
  kind: EvidenceKind,
  entry: WrittenEntry,
): { readonly before: readonly TextEdit[]; readonly edit: Edit } {
  const { text, tree } = document
  const { lines } = entry
  const map = nodeAt(tree.root, kind.path.slice(0, -1))
  const pair = kind.form === 'section' && map?.kind === 'map' ? map.pair(kind.path.at(-1)!) : undefined
  if (!pair || map?.kind !== 'map') {
    return { before: [], edit: evidenceEdit(document, kind, [entry]) }
  }
  const refused = (reason: string) => ({ before: [], edit: { ok: false, refused: reason } as const })
  if (tree.problems.length > 0) return refused('Its text is broken.')
  if (map.flow || map.shared || pair.value.shared || pair.value.kind === 'alias')
    return refused(`What stands under ${pair.key?.text} shares its lines or its values with others. Write it by hand.`)
  const { starts, end, indent } = linesOf(text, pair)
  const eol = text.includes('\r\n') ? '\r\n' : '\n'
  const added = [`${pair.key?.text}:`, ...lines.map((line) => `  ${line}`)].map((line) => `${eol}${indent}${line}`).join('')
  return {
    before: starts.map((start) => ({ start, end: start, newText: '# ' })),
    edit: { ok: true, edits: [{ start: end, end, newText: added }] },
  }
}

/** The lines of an entry of a group: where each begins behind the group's indentation, but for blank ones, and where the last one ends. */
function linesOf(text: string, { key, start, value }: Pair): { starts: readonly number[]; end: number; indent: string } {
  const from = key?.start ?? start
  const indent = text.slice(startOfLine(text, from), from)
  const last = text.slice(0, value.end).trimEnd().length
  const end = lineEnd(text, Math.max(last, from))
  const starts: number[] = []
  for (let at = startOfLine(text, from); at < end; at = text.indexOf('\n', at) + 1) {
    if (text.slice(at, lineEnd(text, at)).trim() !== '') starts.push(at + indent.length)
    if (!text.slice(at).includes('\n')) break
  }
  return { starts, end, indent }
}

function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at)
  if (end < 0) return text.length
  return text[end - 1] === '\r' ? end - 1 : end
}
