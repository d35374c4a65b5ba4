// Aliases that stand for aliases that stand for aliases: a few lines that would fill any memory.
import { ALIAS_LIMIT } from '../syntax/plain.ts'
import { type Node, resolveAlias } from '../syntax/tree.ts'
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'

const LIMIT = String(ALIAS_LIMIT).replace(/(?=000$)/, ' ')

export const rule = defineRule({
  code: 'alias-limit',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'Aliases stand for too many values.',
  docs: `Aliases (\`*name\`) and merge keys (\`<<\`) may stand for ${LIMIT} values in one document, all together. What goes beyond is not read: a few
lines of aliases of aliases would otherwise fill any memory. Write the values out.`,
  check(context) {
    const { document } = context
    document.structure()
    if (!document.aliasesExceeded) return
    const at = firstAlias(document.tree.root)
    const message = `Aliases (*name) and merge keys (<<) stand for more than ${LIMIT} values in this document, from here on. What goes beyond is not read: write the values out.`
    context.report(at ?? { start: 0, end: 1 }, message)
  },
  examples: [
    {
      name: 'too many aliases',
      text: `x-one: &one 1\nx-all: [$0*one$0${', *one'.repeat(ALIAS_LIMIT)}]\n`,
      message: `Aliases (*name) and merge keys (<<) stand for more than ${LIMIT} values in this document, from here on. What goes beyond is not read: write the values out.`,
      testOnly: true,
    },
    { name: 'a few aliases', text: 'x-one: &one 40 °C\nheat: { platen: *one, after: *one }\n' },
    {
      name: 'a merge key deep inside',
      text: 'x-one: &one { a: 1 }\n',
      testOnly: true,
    },
  ],
})

/** The first alias or merge key in the order of the text. */
function firstAlias(root: Node | undefined): { readonly start: number; readonly end: number } | undefined {
  const waiting: Node[] = root ? [root] : []
  for (let node = waiting.pop(); node; node = waiting.pop()) {
    if (node.kind === 'alias') return node
    if (node.kind === 'seq') for (let i = node.items.length - 1; i >= 0; i--) waiting.push(node.items[i]!)
    if (node.kind !== 'map') continue
    const merge = node.pairs.find((p) => p.key?.text === '<<' && resolveAlias(p.value))
    if (merge?.key) return merge.key
    for (let i = node.pairs.length - 1; i >= 0; i--) waiting.push(node.pairs[i]!.value)
  }
  return undefined
}
