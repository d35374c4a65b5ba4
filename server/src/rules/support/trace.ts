// What was written before something was put right, left in a comment on its line.
import type { Edit } from '../../model/edit.ts'
import type { Node } from '../../syntax/tree.ts'

/** Behind all that stands on the line of a value: "date was 2027-03-14, corrected 2026-03-31". */
export function commented(text: string, { end: from }: Pick<Node, 'end'>, trace: string): Edit {
  const end = /\r?\n|$/.exec(text.slice(from))!.index + from
  const rest = text.slice(from, end)
  const at = from + rest.trimEnd().length
  return { ok: true, edits: [{ start: at, end: at, newText: /(?:^|\s)#/.test(rest) ? `; ${trace}` : ` # ${trace}` }] }
}
