// Faults that were seen: everything there is to try, in the order that this setup's numbers give, each with its reason.

import { escapeMarkdown } from '../../base/markdown.ts'
import type { NumbersSection } from '../../features/numbers.ts'
import { nodeAt } from '../../syntax/tree.ts'
import { adviceFor, type Remedy, remedyText } from './faults.ts'

/** As many are told of in a hover; the page and the finding have all. */
const SHOWN = 4

export const hover: NumbersSection = {
  paths: ['observed'],
  render(setup, path, document) {
    const item = nodeAt(setup.own.observed?.$.node, path.slice(1, 2))
    const seen = setup.own.observed?.items.find((o) => o.$.node === item)
    if (!seen?.fault || seen.settled) return undefined
    const advice = adviceFor(document, setup, seen.fault.value, seen)
    if (!advice) return undefined
    const told = (r: Remedy, mark: string): string =>
      `${mark} **${escapeMarkdown(remedyText(r))}**: ${escapeMarkdown(r.reason ?? r.words)}`
    const groups = [
      ['To try on this setup, in this order', advice.remedies.map((r, i) => told(r, `${i + 1}.`))],
      ['Ruled out by its numbers', advice.against.map((r) => told(r, '-'))],
    ] as const
    const parts = groups.flatMap(([title, lines]) =>
      lines.length > 0 ? [`${title}:\n\n${lines.slice(0, SHOWN).join('\n')}`] : [],
    )
    const [first] = advice.remedies
    return { verdict: first && `First: ${escapeMarkdown(remedyText(first))}.`, told: parts }
  },
}
