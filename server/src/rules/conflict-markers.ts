// A merge conflict that was saved as it fell out: two versions of the same lines, of which one was tested on press.
import type { Conflict } from '../syntax/conflicts.ts'
import { defineRule, type Fix } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { lineAt } from './support/lines.ts'
import { reportText } from './support/syntax-problems.ts'

const MESSAGE =
  "A merge conflict is not settled here: until it is, the upper version ('HEAD') is read and the lower one ('night-shift') is not."

/** More conflicts than these are not told one by one. */
const MOST = 50

export const rule = defineRule({
  code: 'conflict-markers',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A merge conflict is not settled.',
  docs: `Two people changed the same lines, and both versions stand in the file. Until one is chosen, Rollbook reads the upper version and the
rest of the document as usual; other programs read nothing at all. Two new checks can usually both stay; of two corrections only one was
keyed in. There is nothing to ignore here.`,
  check(context) {
    reportText(context, 'conflict-markers')
    const { text, conflicts } = context.document.tree
    for (const conflict of conflicts.slice(0, MOST)) {
      const [ours, theirs] = labels(text, conflict)
      const message = `A merge conflict is not settled here: until it is, the upper version${ours} is read and the lower one${theirs} is not.`
      context.report(lineAt(text, conflict.start), message, { fixes: () => choices(text, conflict, ours, theirs) })
    }
  },
  examples: [
    {
      name: 'two corrections',
      text: `feed:
$0<<<<<<< HEAD$0
  correction: +0.12 %
=======
  correction: +0.18 %
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  correction: +0.12 %
suction: 2
`,
    },
    {
      name: 'with the common ancestor, at the end of the file',
      text: `gap: 2 mm
$0<<<<<<< HEAD$0
suction: 2
||||||| 1a2b3c4
suction: 1
=======
suction: 3
>>>>>>> night-shift`,
      message: MESSAGE,
      after: 'gap: 2 mm\nsuction: 2\n',
      testOnly: true,
    },
    {
      name: 'half a conflict',
      text: `gap: 2 mm
suction: 3
$0>>>>>>> night-shift$0
slot: 1
`,
      message:
        'A line of a merge conflict is left over here, and the others of its conflict are gone. Decide which lines stay and delete this one.',
      testOnly: true,
    },
    { name: 'settled', text: 'feed:\n  correction: +0.12 %\n' },
  ],
})

/** What stands behind the markers: the names of the two sides, each ready to follow a word. */
function labels(text: string, { start, theirs }: Conflict): readonly [string, string] {
  const label = (at: number): string => {
    const { start: from, end } = lineAt(text, at)
    const name = text.slice(from + 7, end).trim()
    return name === '' ? '' : ` ('${name}')`
  }
  return [label(start), label(theirs.end)]
}

function choices(text: string, { start, end, ours, theirs }: Conflict, upper: string, lower: string): readonly Fix[] {
  const side = ({ start: from, end: to }: { readonly start: number; readonly end: number }): string => text.slice(from, to)
  const keep = (title: string, newText: string): Fix => ({ title, edits: [{ start, end, newText }] })
  return [
    keep(`Keep the upper version${upper}`, side(ours)),
    keep(`Keep the lower version${lower}`, side(theirs)),
    keep('Keep both, the upper one first', side(ours) + side(theirs)),
  ]
}
