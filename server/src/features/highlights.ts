// Everything in one document that is called by the name under the cursor; of an anchor and its aliases, each of them.
import type { Span } from '../base/span.ts'
import { type Mention, mentionsIn, namingAt } from '../model/names.ts'
import { locate } from '../syntax/locate.ts'
import { type AliasNode, type Node, resolveAlias } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'

export interface Highlight {
  readonly span: Span
  /** A name is given here, rather than called by. */
  readonly gives: boolean
}

export function highlights({ document }: FeatureContext, offset: number): readonly Highlight[] {
  const { root } = document.tree
  const at = locate(root, offset)
  if (at?.node.kind === 'alias') return aliasesOf(root!, at.node)
  if (at?.node.kind !== 'scalar') return []
  const { text } = at.node
  const naming = namingAt(document.kind, at.path, at.on, text)
  if (!naming) return []
  // The same name may be reached through several aliases.
  const found = new Map<number, Mention>()
  for (const mention of mentionsIn(document.kind, root, { of: naming.of, name: text })) found.set(mention.node.start, mention)
  return [...found.values()]
    .sort((a, b) => a.node.start - b.node.start)
    .map(({ node, role }) => ({ span: { start: node.start, end: node.end }, gives: role === 'gives' }))
}

/** What an alias stands for, on its first line, and all aliases that stand for it. */
function aliasesOf(root: Node, { target }: AliasNode): readonly Highlight[] {
  if (!target) return []
  const found: Highlight[] = [{ span: headOf(target), gives: true }]
  const visit = (node: Node): void => {
    if (node.kind === 'alias' && node.target === target) found.push({ span: { start: node.start, end: node.end }, gives: false })
    else if (node.kind === 'map') for (const { value } of node.pairs) visit(value)
    else if (node.kind === 'seq') node.items.forEach(visit)
  }
  visit(root)
  return found
}

/** The value an alias stands for; of a group, its first key. */
export function headOf(target: Node): Span {
  const node = resolveAlias(target) ?? target
  const first = node.kind === 'map' ? (node.pairs[0]?.key ?? node) : node.kind === 'seq' ? (node.items[0] ?? node) : node
  return { start: first.start, end: first.end }
}
