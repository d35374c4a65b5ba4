// What our own fix for a conflict, *Keep both*, makes of a text with markers.
import { together } from '../../server/src/rules/support/conflict-sides.ts'
import { maskConflicts } from '../../server/src/syntax/conflicts.ts'

/** The text with each conflict settled for which the fix is offered; the others stay. */
export function settled(text: string): string {
  let out = ''
  let done = 0
  for (const { start, end, ours, theirs } of maskConflicts(text).conflicts) {
    const both = together(text.slice(ours.start, ours.end), text.slice(theirs.start, theirs.end))
    out += text.slice(done, start) + (both?.text ?? text.slice(start, end))
    done = end
  }
  return out + text.slice(done)
}
