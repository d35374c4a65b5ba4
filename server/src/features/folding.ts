// What can be folded away: sections, lists, items of several lines, texts in lines of their own, and comments of several lines.
import { LineIndex } from '../base/line-index.ts'
import type { Span } from '../base/span.ts'
import { dashOf, extentOf } from '../syntax/extent.ts'
import type { Node } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'

export interface Fold extends Span {
  readonly kind: 'region' | 'comment'
}

/** More folds help nobody to find a place. */
const MAX_FOLDS = 5000

/** Of two that begin on one line the longer one; none of a single line. */
export function folds({ document }: FeatureContext): readonly Fold[] {
  const { text, tree } = document
  const lines = new LineIndex(text)
  const byLine = new Map<number, Fold>()
  const add = (start: number, end: number, kind: Fold['kind'] = 'region'): void => {
    const line = lines.lineAt(start)
    const before = byLine.get(line)
    if (lines.lineAt(end) === line || (before && before.end >= end) || byLine.size >= MAX_FOLDS) return
    byLine.set(line, { start, end, kind })
  }
  const inside: Span[] = []
  const visit = (node: Node): void => {
    if (node.kind === 'map')
      for (const pair of node.pairs) {
        add(pair.start, extentOf(pair, text).end)
        visit(pair.value)
      }
    else if (node.kind === 'seq')
      for (const item of node.items) {
        add((node.flow ? undefined : dashOf(text, node.start, item.start)) ?? item.start, extentOf(item, text).end)
        visit(item)
      }
    else if (lines.lineAt(node.start) < lines.lineAt(node.end)) inside.push(node)
  }
  if (tree.root) visit(tree.root)
  for (const { start, end } of commentBlocks(lines, inside)) add(start, end, 'comment')
  return [...byLine.values()].sort((a, b) => a.start - b.start)
}

/** Comments on two or more lines in a row. What looks like one in a text of several lines is none. */
function* commentBlocks(lines: LineIndex, texts: readonly Span[]): Generator<Span> {
  let start = -1
  let end = -1
  let next = 0
  for (let line = 0; line < lines.lineCount; line++) {
    const from = lines.lineStart(line)
    const to = lines.lineEnd(line)
    while (next < texts.length && texts[next]!.end <= from) next++
    const inText = next < texts.length && texts[next]!.start < from
    if (!inText && /^\ufeff?[ \t]*#/.test(lines.text.slice(from, to))) {
      if (start < 0) start = from
      end = to
      continue
    }
    if (start >= 0) yield { start, end }
    start = -1
  }
  if (start >= 0) yield { start, end }
}
