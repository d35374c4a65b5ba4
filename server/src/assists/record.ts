// Records what was just read: a new entry of today where the list has it by its dates, of which the reading alone is left to type. Of what a profile has
// once, as its alignment, the one before stays above the new one as a comment, word for word.

import { RECORDINGS } from '../areas/generated/recordings.ts'
import type { NewReading, Recording } from '../areas/recording.ts'
import { startOfLine } from '../base/lines.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Edit } from '../model/edit.ts'
import { type EvidenceKind, evidenceKind } from '../model/evidence.ts'
import { evidenceEdit } from '../model/evidence-add.ts'
import { joined } from '../model/state-add.ts'
import type { Fix } from '../rules/rule.ts'
import { type MapNode, nodeAt, type Pair } from '../syntax/tree.ts'
import type { Assist } from './assist.ts'
import { readingFlow, readingLines } from './new-reading.ts'
import { type NamedProposal, namesToChoose, statesToName } from './state-under.ts'
import { withState } from './with-state.ts'

/** Feed checks have an assist of their own. */
export const RECORD: readonly Assist[] = RECORDINGS.filter(({ kind }) => kind !== 'feed.checks').map(recording)

function recording(what: Recording): Assist {
  const kind = evidenceKind(what.kind)!
  return {
    id: `record-${what.kind.replace('.', '-')}`,
    summary: `Record ${what.words} of today.`,
    kind: 'record',
    records: what.kind,
    at(context, span) {
      const { document, setup } = context
      const { root } = document.tree
      if (document.kind !== 'media' || root?.kind !== 'map' || !setup) return []
      const isWhole = span.start === 0 && document.text.slice(span.end).trim() === ''
      if (!isWhole && !touchesKey(root, kind.path, span)) return []
      const states = kind.entry.properties.has('under') ? statesToName(context) : []
      const [only] = states.length === 1 ? states : []
      const under = namesToChoose(context, states)
      return what.entries(setup).map((reading) => fixOf(context, kind, what.words, reading, under, only))
    },
  }
}

/** Whether the cursor is at a key on the way to the evidence: at `heat` as at `readings`, and not at the settings beside it. */
function touchesKey(root: MapNode, path: readonly string[], span: { readonly start: number; readonly end: number }): boolean {
  return path.some((key, depth) => {
    const map = nodeAt(root, path.slice(0, depth))
    const pair = map?.kind === 'map' ? map.pair(key) : undefined
    return pair?.key !== undefined && span.start <= pair.key.end && pair.key.start <= span.end
  })
}

function fixOf(
  context: FeatureContext,
  kind: EvidenceKind,
  words: string,
  reading: NewReading,
  under: readonly string[] | undefined,
  state: NamedProposal | undefined,
): Fix {
  const which = reading.which === undefined ? '' : ` ${reading.which}`
  const title = `Record ${words} of today${which}`
  const lines = readingLines(kind.entry, reading, context.today, under)
  const { before, edit } = placed(context, kind, lines)
  if (!edit.ok) return { title, edits: [], refused: edit.refused }
  const fix = { title, edits: edit.edits, snippet: true }
  const whole = withState(fix, state)
  return before.length === 0 ? whole : { ...whole, edits: joined([...before, ...whole.edits]) }
}

/** Where the entry goes, and what is made a comment for it. */
function placed(
  { document, today }: FeatureContext,
  kind: EvidenceKind,
  lines: readonly string[],
): { readonly before: Fix['edits']; readonly edit: Edit } {
  const { text, tree } = document
  const map = nodeAt(tree.root, kind.path.slice(0, -1))
  const pair = kind.form === 'section' && map?.kind === 'map' ? map.pair(kind.path.at(-1)!) : undefined
  if (!pair || map?.kind !== 'map') {
    const added = [{ flow: readingFlow(lines), lines, date: today }]
    return { before: [], edit: evidenceEdit(document, kind, added) }
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
