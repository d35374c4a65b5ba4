// Lists and groups nested so deep that programs run out of room: nobody writes that by hand.
import type { Span } from '../base/span.ts'
import { heightOf, type Node } from '../syntax/tree.ts'
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { indentOf, lineAt, visible } from './support/lines.ts'

/** How deep lists and groups may be nested; the format itself needs five levels. */
const MAX_DEPTH = 100

const MESSAGE = `Lists or groups are nested more than ${MAX_DEPTH} deep here. No document needs that, and many programs fail on it.`

export const rule = defineRule({
  code: 'too-deep',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'Lists or groups are nested too deep.',
  docs: `The format needs five levels. Text nested more than ${MAX_DEPTH} deep is damaged or made to do harm; some programs fail on it, and beyond a few
thousand levels it is not read here either. The other documents of the shop are read as usual.`,
  check(context) {
    const { tree } = context.document
    const unread = tree.problems.find((p) => p.code === 'too-deep')
    // Where a program ran out of room says nothing; the line it happened on does.
    if (unread) context.report(visible(tree.text, keyOfLine(tree.text, unread.start)), MESSAGE)
    else if (tree.root && heightOf(tree.root) > MAX_DEPTH) {
      const { start } = tooDeepIn(tree.root)
      context.report(visible(tree.text, { start, end: start + 1 }), MESSAGE)
    }
  },
  examples: [
    {
      name: 'brackets in brackets',
      text: `profile: example\nnotes: ${'['.repeat(MAX_DEPTH - 1)}$0${'['.repeat(101)}x${']'.repeat(MAX_DEPTH + 100)}\n`,
      message: MESSAGE,
      testOnly: true,
    },
    {
      name: 'brackets beyond any stack',
      text: `profile: example\n$0notes$0: ${'['.repeat(100_000)}\n`,
      message: MESSAGE,
      testOnly: true,
    },
    { name: 'a list in a list', text: 'notes: [[1, 2], [3, 4]]\n' },
    {
      name: 'a hundred deep',
      text: `profile: example
notes: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
`,
      testOnly: true,
    },
  ],
})

function keyOfLine(text: string, at: number): Span {
  const { start } = lineAt(text, at)
  const from = start + indentOf(text, start).length
  return { start: from, end: from + (/^[\w-]+/.exec(text.slice(from))?.[0].length ?? 1) }
}

/** The first node that stands deeper than may be. */
function tooDeepIn(root: Node): Node {
  let at = root
  for (let depth = 0; depth < MAX_DEPTH; depth++)
    at = childrenOf(at).reduce((best, child) => (heightOf(child) > heightOf(best) ? child : best))
  return at
}

const childrenOf = (node: Node): readonly Node[] =>
  node.kind === 'map' ? node.pairs.map((p) => p.value) : node.kind === 'seq' ? node.items : []
