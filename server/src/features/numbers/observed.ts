// Faults that were seen: everything there is to try, in the order that this setup's numbers give, each with its reason.

import { remediesFor, remedyText } from '../../rules/support/faults/faults.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { escapeMarkdown } from '../markdown.ts'
import type { NumbersSection } from './numbers.ts'

export const observedNumbers: NumbersSection = {
  paths: ['observed'],
  render(setup, path, document) {
    const item = nodeAt(setup.own.observed?.$.node, path.slice(1, 2))
    const seen = setup.own.observed?.items.find((o) => o.$.node === item)
    if (!seen?.fault || seen.settled) return undefined
    const lines = remediesFor(document, setup, seen.fault.value).map(
      (r, i) => `${i + 1}. **${escapeMarkdown(remedyText(r))}**: ${escapeMarkdown(r.reason ?? 'common practice')}`,
    )
    return lines.length ? `To try, in this order:\n\n${lines.join('\n')}` : undefined
  },
}
