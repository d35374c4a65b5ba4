// A new entry of evidence together with the state that it is under, where that has to be written as well.
import { joined } from '../model/state-add.ts'
import type { Fix } from '../rules/rule.ts'
import { escapeSnippet } from './new-check.ts'
import type { NamedProposal } from './state-under.ts'

/** With the state written behind it; the cursor ends in the entry. */
export function withState(fix: Fix, state: NamedProposal | undefined): Fix {
  if (fix.refused !== undefined || !state || state.edits.length === 0) return fix
  const written = state.edits.map((edit) => ({ ...edit, newText: escapeSnippet(edit.newText) }))
  // Where the state is the last that is written, the cursor still ends in the entry.
  return { ...fix, edits: joined([...fix.edits.map((edit) => ({ ...edit, newText: `${edit.newText}$0` })), ...written]) }
}
