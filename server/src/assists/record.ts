// Records what was just read: a new entry of today where the list has it by its dates, of which the reading alone is left to type. Of what a profile has
// once, as its alignment, the one before stays above the new one as a comment, word for word.

import { RECORDINGS } from '../areas/generated/recordings.ts'
import type { NewReading, Recording } from '../areas/recording.ts'
import type { FeatureContext } from '../features/context.ts'
import { type EvidenceKind, evidenceKind } from '../model/evidence.ts'
import { placedEdit } from '../model/evidence-place.ts'
import { joined } from '../model/state-add.ts'
import type { Fix } from '../rules/rule.ts'
import { type MapNode, nodeAt } from '../syntax/tree.ts'
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
  const { before, edit } = placedEdit(context.document, kind, { flow: readingFlow(lines), lines, date: context.today })
  if (!edit.ok) return { title, edits: [], refused: edit.refused }
  const fix = { title, edits: edit.edits, snippet: true }
  const whole = withState(fix, state)
  return before.length === 0 ? whole : { ...whole, edits: joined([...before, ...whole.edits]) }
}
