// A reading that was mistyped is put right with a trace: it is there to be typed over, and what was written stays readable in the note of its entry, or in
// a comment on its line where such an entry has no note. Whoever reads the file later, or merges it, sees that it was one print and not two.
import { tracedReading } from '../rules/support/trace.ts'
import { locate } from '../syntax/locate.ts'
import type { Assist } from './assist.ts'
import { escapeSnippet, stop } from './new-check.ts'

const TITLE = 'Correct this reading, and keep what was written'

export const correctReading: Assist = {
  id: 'correct-reading',
  summary: 'Put a mistyped reading right, with a trace of what was written.',
  kind: 'refactor',
  at({ document: { kind, text, file, tree }, today }, span) {
    const at = kind === 'media' && tree.problems.length === 0 ? locate(tree.root, span.start) : undefined
    if (at?.on !== 'value' || at.node.kind !== 'scalar' || at.node.text === '') return []
    const { node, path } = at
    const edit = tracedReading(text, file, tree.root, path, today)
    if (!edit) return []
    if (!edit.ok) return [{ title: TITLE, edits: [], refused: edit.refused }]
    const others = edit.edits.map((one) => ({ ...one, newText: escapeSnippet(one.newText) }))
    return [
      { title: TITLE, edits: [{ start: node.start, end: node.end, newText: overtyped(node.text) }, ...others], snippet: true },
    ]
  },
}

/** The number selected, with its unit behind it. */
function overtyped(text: string): string {
  const [, number, rest] = /^([-+−]?[\d./ ]*\d)(.*)$/s.exec(text) ?? []
  return number === undefined ? stop(1, text) : `${stop(1, number)}${escapeSnippet(rest ?? '')}`
}
