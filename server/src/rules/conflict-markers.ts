// A merge conflict that was saved as it fell out: two versions of the same lines, of which one was tested on press.
import type { Conflict } from '../syntax/conflicts.ts'
import { defineRule, type Fix } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
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

function choices(text: string, conflict: Conflict, upper: string, lower: string): readonly Fix[] {
  const { start, end } = conflict
  const [ours, theirs] = [conflict.ours, conflict.theirs].map((side) => text.slice(side.start, side.end)) as [string, string]
  const keep = (title: string, newText: string, preferred = false): Fix => ({
    title,
    edits: [{ start, end, newText }],
    ...(preferred && { preferred }),
  })
  const both = together(ours, theirs)
  const alone = [
    keep(`Keep the upper version${upper}${both?.lost(theirs, ours) ?? ''}`, ours),
    keep(`Keep the lower version${lower}${both?.lost(ours, theirs) ?? ''}`, theirs),
  ]
  if (!both) return alone
  // What was measured or seen on two days was so on both: to leave one out loses it.
  return both.dated
    ? [keep('Keep both, the oldest first', both.text, true), ...alone]
    : [...alone, keep('Keep both, the upper one first', both.text)]
}

interface Together {
  readonly text: string
  /** Whether it is records of days that stand together. */
  readonly dated: boolean
  /** How many records of one side are not among the other's, ready to follow a title. */
  lost(of: string, among: string): string
}

/** Both sides one after the other, where both can stand: items of a list, or settings of different names. */
function together(ours: string, theirs: string): Together | undefined {
  const [upper, lower] = [blocksOf(ours), blocksOf(theirs)]
  if (!upper || !lower || upper.indent !== lower.indent || upper.items !== lower.items) return undefined
  if (!upper.items) {
    const names = new Set(upper.blocks.map(nameOf))
    const apart = lower.blocks.every((block) => !names.has(nameOf(block)))
    return apart ? { text: ours + theirs, dated: false, lost: () => '' } : undefined
  }
  const all = [...upper.blocks, ...lower.blocks.filter((block) => !upper.blocks.includes(block))]
  const dated = all.every((block) => dateOf(block) !== undefined)
  if (!dated) return { text: all.join(''), dated, lost: () => '' }
  const byDate = all.sort((a, b) => (dateOf(a)! < dateOf(b)! ? -1 : dateOf(a)! > dateOf(b)! ? 1 : 0))
  return {
    text: byDate.join(''),
    dated,
    lost(of, among) {
      const kept = new Set(blocksOf(among)?.blocks)
      const n = blocksOf(of)?.blocks.filter((block) => !kept.has(block)).length ?? 0
      return n === 0 ? '' : ` and lose ${plural(n, 'entry', 'entries')} of the other`
    },
  }
}

interface Blocks {
  /** Each item or setting with the comment lines above it, as whole lines. */
  readonly blocks: readonly string[]
  readonly indent: string
  /** Items of a list, or else settings. */
  readonly items: boolean
}

/** Undefined for a side that is empty, or is only a part of an item or of a setting. */
function blocksOf(side: string): Blocks | undefined {
  const lines = side.split(/(?<=\n)/)
  const first = lines.find((line) => /^[ \t]*[^\s#]/.test(line))
  const indent = first === undefined ? undefined : /^[ \t]*/.exec(first)![0]
  if (first === undefined || indent === undefined) return undefined
  const items = first.startsWith(`${indent}- `)
  const blocks: string[] = []
  let above = ''
  for (const line of lines) {
    const begins = line.startsWith(indent) && (items ? line.startsWith('- ', indent.length) : nameOf(line.slice(indent.length)))
    const loose = /^[ \t]*(?:#.*)?\r?\n?$/.test(line)
    if (loose) above += line
    else if (begins) {
      blocks.push(above + line)
      above = ''
    } else if (blocks.length > 0 && /^[ \t]/.test(line.slice(indent.length)) && line.startsWith(indent)) {
      blocks.push(blocks.pop()! + above + line)
      above = ''
    } else return undefined
  }
  if (above !== '') blocks.push(blocks.pop()! + above)
  return { blocks, indent, items }
}

/** The name a setting's lines begin with. */
const nameOf = (block: string): string | undefined =>
  /^(?:[ \t]*(?:#.*)?\r?\n)*[ \t]*([\w$][\w .-]*):(?:[ \t\r\n]|$)/.exec(block)?.[1]

const dateOf = (item: string): string | undefined => /(?:^|[\s{,-])date:[ \t]*['"]?(\d{4}-\d\d-\d\d)/.exec(item)?.[1]
