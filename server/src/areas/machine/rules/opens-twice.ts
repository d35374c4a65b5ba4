// An event that names one kind of evidence twice: perhaps another was meant.
import type { Place } from '../../../model/field.ts'
import { defineRule, type Fix } from '../../../rules/rule.ts'
import type { Node } from '../../../syntax/tree.ts'

export const rule = defineRule({
  code: 'opens-twice',
  severity: 'hint',
  kinds: ['printer'],
  summary: 'An event names a kind of evidence twice.',
  docs: `What an event opens is a list of kinds of evidence. One that is named twice opens no more than named once; perhaps another kind was meant, and goes
on being trusted.`,
  check({ document, report }) {
    for (const { opens } of document.content?.events?.items ?? []) {
      const seen = new Set<string>()
      for (const { value, place } of opens?.items ?? []) {
        if (seen.has(value)) {
          const fixes = () => [without(document.text, opens!.$, place)]
          report(place, `'${value}' is named twice: once is enough, or another kind is meant.`, { unnecessary: true, fixes })
        }
        seen.add(value)
      }
    }
  },
  examples: [
    {
      name: 'twice the feed',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: 2026-03-10, what: serviced, opens: [feed, heat, $0feed$0] }\n',
      message: "'feed' is named twice: once is enough, or another kind is meant.",
      after: 'events:\n  - { date: 2026-03-10, what: serviced, opens: [feed, heat] }\n',
      fixes: ['Take the second one out'],
      unnecessary: true,
    },
    {
      name: 'a list of lines',
      text: '#- bay-1.printer.yaml\nevents:\n  - date: 2026-03-10\n    what: serviced\n    opens:\n      - feed\n      - $0feed$0\n',
      message: "'feed' is named twice: once is enough, or another kind is meant.",
      unnecessary: true,
      testOnly: true,
    },
    {
      name: 'each once',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: 2026-03-10, what: serviced, opens: [feed, heat] }\n',
    },
  ],
})

/** Takes an item out of a list between brackets, with the comma before it. */
function without(text: string, list: Place, item: Place): Fix | undefined {
  const seq: Node = list.node
  if (seq.kind !== 'seq' || !seq.flow || list.aliased || item.aliased) return undefined
  const before = seq.items[seq.items.indexOf(item.node) - 1]
  if (!before || !/^\s*,\s*$/.test(text.slice(before.end, item.node.start))) return undefined
  return { title: 'Take the second one out', edits: [{ start: before.end, end: item.node.end, newText: '' }] }
}
