// A tab where spaces must indent: what stands behind it belongs to nothing, so a whole section may be lost without a sign.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportText } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'tab-indent',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A line is indented with a tab.',
  docs: `YAML indents with spaces only, because no two programs agree on how wide a tab is. The lines behind the tab are not read until it is
replaced. The offered edit aligns every tabbed line of the section with the line it follows, two spaces a level; where that would be a
guess, nothing is offered. There is nothing to ignore here.`,
  check: (context) => reportText(context, 'tab-indent'),
  examples: [
    {
      name: 'a section indented with tabs',
      text: 'heat:\n$0\t$0before: 30 °C\n\tplaten: 40 °C\nsuction: 2\n',
      message: 'A tab stands where spaces must indent. What it indents cannot be read; the rest of the document is.',
      after: 'heat:\n  before: 30 °C\n  platen: 40 °C\nsuction: 2\n',
      fixes: ['Indent with spaces [preferred] [form]'],
    },
    {
      name: 'a list indented with a tab',
      text: 'feed:\n  checks:\n$0\t$0- { date: 2026-03-14 }\n',
      message: 'A tab stands where spaces must indent. What it indents cannot be read; the rest of the document is.',
      after: 'feed:\n  checks:\n    - { date: 2026-03-14 }\n',
      fixes: ['Indent with spaces [preferred] [form]'],
      testOnly: true,
    },
    {
      name: 'a tab before a neighbour',
      text: 'feed:\n  correction: 0.1 %\n$0\t$0checks: []\n',
      message: 'A tab stands where spaces must indent. What it indents cannot be read; the rest of the document is.',
      after: 'feed:\n  correction: 0.1 %\n  checks: []\n',
      fixes: ['Indent with spaces [preferred] [form]'],
      testOnly: true,
    },
    {
      name: 'a tab inside brackets over two lines',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14,\n$0\t$0commanded: 1000 mm }\n',
      message: 'A tab stands where spaces must indent. What it indents cannot be read; the rest of the document is.',
      after: 'feed:\n  checks:\n    - { date: 2026-03-14,\n        commanded: 1000 mm }\n',
      fixes: ['Indent with spaces [preferred] [form]'],
      testOnly: true,
    },
    { name: 'spaces', text: 'heat:\n  before: 30 °C\n' },
    { name: 'a tab behind the colon is harmless', text: 'gap:\t2 mm\n' },
  ],
})
