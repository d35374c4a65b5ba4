// A merge conflict that was saved as it fell out: two versions of the same lines, of which one was tested on press.
import type { TextEdit } from '../base/text-edit.ts'
import type { Conflict } from '../syntax/conflicts.ts'
import { defineRule, type Fix } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { type Lost, lostWith, together } from './support/conflict-sides.ts'
import { lineAt } from './support/lines.ts'
import { reportText } from './support/syntax-problems.ts'
import { plural } from './support/words.ts'

const MESSAGE =
  "A merge conflict is not settled here: until it is, the upper version ('HEAD') is read and the lower one ('night-shift') is not."

/** More conflicts than these are not told one by one. */
const MAX_CONFLICTS = 50

export const rule = defineRule({
  code: 'conflict-markers',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A merge conflict is not settled.',
  docs: `Two people changed the same lines, and both versions stand in the file. Until one is chosen, Rollbook reads the upper version and the
rest of the document as usual; other programs read nothing at all. Two new checks both happened, so both stay, the oldest first; of two corrections only one was
keyed in, and both cannot stand. There is nothing to ignore here.`,
  check(context) {
    reportText(context, 'conflict-markers')
    const { text, conflicts } = context.document.tree
    for (const conflict of conflicts.slice(0, MAX_CONFLICTS)) {
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
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
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
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
      testOnly: true,
    },
    {
      name: 'two checks, of which both stay in the order of their days',
      text: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
$0<<<<<<< HEAD$0
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    # after the new lot
    - { date: 2026-03-24, commanded: 1000 mm, measured: 998.4 mm, applied: 0 % }
=======
    - { date: 2026-03-22, commanded: 1000 mm, measured: 998.2 mm, applied: 0 % }
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-22, commanded: 1000 mm, measured: 998.2 mm, applied: 0 % }
    # after the new lot
    - { date: 2026-03-24, commanded: 1000 mm, measured: 998.4 mm, applied: 0 % }
suction: 2
`,
      fixes: [
        'Keep both, the oldest first [preferred]',
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
    },
    {
      name: 'a remark was added to a check that stands on both sides: it stays once',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, note: warm }
=======
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-24, commanded: 1000 mm, measured: 998.4 mm, applied: 0 % }
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, note: warm }
    - { date: 2026-03-24, commanded: 1000 mm, measured: 998.4 mm, applied: 0 % }
suction: 2
`,
      fixes: [
        'Keep both, the oldest first [preferred]',
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose what the other says of 1 entry",
      ],
      testOnly: true,
    },
    {
      name: 'each side says something else of one check: it would count twice',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, note: warm }
=======
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, skip: askew }
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, note: warm }
suction: 2
`,
      fixes: [
        "Keep the upper version ('HEAD') and lose what the other says of 1 entry",
        "Keep the lower version ('night-shift') and lose what the other says of 1 entry",
      ],
      testOnly: true,
    },
    {
      name: 'a strip would come to stand below another print',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998.6 mm, applied: 0 % }
=======
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %, same-print: true }
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998.6 mm, applied: 0 % }
suction: 2
`,
      fixes: [
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
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
    {
      name: 'settings of different names, markers without one',
      text: `$0<<<<<<<$0
gap: 2 mm
=======
# a place of its own
slot: 3
>>>>>>>
suction: 2
`,
      message: 'A merge conflict is not settled here: until it is, the upper version is read and the lower one is not.',
      after: `gap: 2 mm
suction: 2
`,
      fixes: ['Keep the upper version', 'Keep the lower version', 'Keep both, the upper one first'],
      testOnly: true,
    },
    {
      name: 'items without a date',
      text: `#- s.stock.yaml
stock: s
lots:
$0<<<<<<< HEAD$0
  - { lot: A-1 }
=======
  - { lot: A-2 }
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `stock: s
lots:
  - { lot: A-1 }
`,
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')", 'Keep both, the upper one first'],
      testOnly: true,
    },
    {
      name: 'checks over several lines, two of one day',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
    - date: 2026-03-24
      commanded: 1000 mm
      # read twice
      measured: 998.4 mm
      applied: 0 %
    # a dry day
=======
    - date: 2026-03-22
      commanded: 1000 mm
      measured: 998.2 mm
      applied: 0 %
    - date: 2026-03-24
      commanded: 2000 mm
      measured: 1997 mm
      applied: 0 %
    - date: 2026-03-24
      commanded: 3000 mm
      measured: 2995 mm
      applied: 0 %
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - date: 2026-03-22
      commanded: 1000 mm
      measured: 998.2 mm
      applied: 0 %
    - date: 2026-03-24
      commanded: 1000 mm
      # read twice
      measured: 998.4 mm
      applied: 0 %
    # a dry day
    - date: 2026-03-24
      commanded: 2000 mm
      measured: 1997 mm
      applied: 0 %
    - date: 2026-03-24
      commanded: 3000 mm
      measured: 2995 mm
      applied: 0 %
suction: 2
`,
      fixes: [
        'Keep both, the oldest first [preferred]',
        "Keep the upper version ('HEAD') and lose 3 entries of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
      testOnly: true,
    },
    {
      name: 'a side without a line',
      text: `gap: 2 mm
$0<<<<<<< HEAD$0
=======
slot: 3
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: 'gap: 2 mm\n',
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
      testOnly: true,
    },
    {
      name: 'a side of comments alone',
      text: `gap: 2 mm
$0<<<<<<< HEAD$0
# no slot yet
=======
slot: 3
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `gap: 2 mm
# no slot yet
`,
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
      testOnly: true,
    },
    {
      name: 'lines of different depth',
      text: `feed:
$0<<<<<<< HEAD$0
  correction: +0.12 %
=======
suction: 2
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `feed:
  correction: +0.12 %
`,
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
      testOnly: true,
    },
    {
      name: 'an item beside a setting',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
  - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
=======
  correction: +0.12 %
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `feed:
  checks:
  - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
`,
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift') and lose 1 entry of the other"],
      testOnly: true,
    },
    {
      name: 'a part of an item: two readings of one print',
      text: `feed:
  checks:
    - date: 2026-03-24
      commanded: 1000 mm
$0<<<<<<< HEAD$0
      measured: 998.4 mm
=======
      measured: 998.6 mm
>>>>>>> night-shift
      applied: 0 %
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - date: 2026-03-24
      commanded: 1000 mm
      measured: 998.4 mm
      applied: 0 %
`,
      fixes: [
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
      testOnly: true,
    },
    {
      name: 'a section of a day, and a setting beside it',
      text: `$0<<<<<<< HEAD$0
alignment:
  date: 2026-03-20
  two-way: {left: 2}
=======
alignment:
  date: 2026-03-22
  two-way: {left: 3}
gap: 2 mm
>>>>>>> night-shift
suction: 2
`,
      message: MESSAGE,
      after: `alignment:
  date: 2026-03-20
  two-way: {left: 2}
suction: 2
`,
      fixes: [
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
      testOnly: true,
    },
    {
      name: 'an item and what follows its list',
      text: `feed:
  checks:
$0<<<<<<< HEAD$0
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
=======
    - { date: 2026-03-21, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
slot: 3
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `feed:
  checks:
    - { date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
`,
      fixes: [
        "Keep the upper version ('HEAD') and lose 1 entry of the other",
        "Keep the lower version ('night-shift') and lose 1 entry of the other",
      ],
      testOnly: true,
    },
    {
      name: 'one setting of the other side too',
      text: `gap: 2 mm
$0<<<<<<< HEAD$0
slot: 3
=======
suction: 2
slot: 4
>>>>>>> night-shift
`,
      message: MESSAGE,
      after: `gap: 2 mm
slot: 3
`,
      fixes: ["Keep the upper version ('HEAD')", "Keep the lower version ('night-shift')"],
      testOnly: true,
    },
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

function choices(text: string, conflict: Conflict, upper: string, lower: string): readonly Fix[] {
  const { start, end, ours, theirs } = conflict
  const [above, below] = [ours, theirs].map((side) => text.slice(side.start, side.end)) as [string, string]
  const gone = (from: number, to: number): TextEdit => ({ start: from, end: to, newText: '' })
  const alone: readonly Fix[] = [
    {
      title: `Keep the upper version${upper}${lostText(lostWith(above, below))}`,
      edits: [gone(start, ours.start), gone(ours.end, end)],
    },
    {
      title: `Keep the lower version${lower}${lostText(lostWith(below, above))}`,
      edits: [gone(start, theirs.start), gone(theirs.end, end)],
    },
  ]
  const both = together(above, below)
  if (!both) return alone
  const edits =
    both.text === above + below
      ? [gone(start, ours.start), gone(ours.end, theirs.start), gone(theirs.end, end)]
      : [{ start, end, newText: both.text }]
  // What was measured or seen on two days was so on both: to leave one out loses it.
  return both.dated
    ? [{ title: 'Keep both, the oldest first', edits, preferred: true }, ...alone]
    : [...alone, { title: 'Keep both, the upper one first', edits }]
}

function lostText({ entries, words }: Lost): string {
  const entry = entries > 0 ? `lose ${plural(entries, 'entry', 'entries')} of the other` : ''
  const word = words > 0 ? `lose what the other says of ${plural(words, 'entry', 'entries')}` : ''
  const said = [entry, word].filter((part) => part !== '').join(' and ')
  return said === '' ? '' : ` and ${said}`
}
