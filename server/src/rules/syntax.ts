// Text that is not YAML: everything near it may be misread, in Rollbook and in every other program.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportSyntax, reportText } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'syntax',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'The text is not YAML.',
  docs: `A quote, bracket or comma is missing, or a line is indented unlike its neighbours. The rest of the document is still read and checked as
far as it can be. There is nothing to ignore here: no other program will read the file either.`,
  check(context) {
    reportText(context, 'syntax')
    reportSyntax(context, 'unread', (problem) => problem.detail)
  },
  examples: [
    {
      name: 'an open bracket',
      text: `profile: example
web: $0{$0tension: 20 N/m
suction: 2
`,
      message: 'This bracket is not closed: its } is missing. What follows it cannot be read; the rest of the document is.',
    },
    {
      name: 'an open quote',
      text: `profile: example
title: $0"$0Banner, matt
suction: 2
`,
      message: 'This quote is not closed: its " is missing. What follows it cannot be read; the rest of the document is.',
    },
    {
      name: 'a missing comma',
      text: `feed:
  fine: { date: 2026-03-14 $0applied$0: 0 %, picks: [0, 0, 0] }
`,
      message: "A comma is missing before 'applied'.",
      after: `feed:
  fine: { date: 2026-03-14, applied: 0 %, picks: [0, 0, 0] }
`,
      fixes: ['Add a comma [preferred]'],
    },
    {
      name: 'a line indented too deep',
      text: `heat:
  before: 30 °C
   $0platen$0: 40 °C
  after: 44 °C
`,
      message:
        "'platen' is indented deeper than 'before' above it, which has a value already. Lines that belong together begin in one column.",
      after: `heat:
  before: 30 °C
  platen: 40 °C
  after: 44 °C
`,
      fixes: ["Align 'platen' with 'before'"],
    },
    {
      name: 'a colon inside a value',
      text: 'title: $0Banner: matt\ngap: 2 mm\n',
      message: 'A second colon follows on this line. Put the next key on its own line, or the value in quotes.',
      after: "title: 'Banner: matt'\ngap: 2 mm\n",
      fixes: ['Put the value in quotes'],
    },
    {
      name: 'an invisible character',
      text: 'title: Banner$0\u0007$0 matt\n',
      message: 'A control character (U+0007) stands here. It cannot be seen; delete it.',
      after: 'title: Banner matt\n',
      fixes: ['Delete the invisible character [preferred]'],
      testOnly: true,
    },
    {
      name: 'an item outside its list',
      text: 'gap: 2 mm\n$0-$0 { date: 2026-03-14 }\n',
      message: 'An item of a list stands here outside any list. Indent it below the key it belongs to.',
      testOnly: true,
    },
    {
      name: 'a comma missing in a list',
      text: '#- rollbook.yaml\nclimate: { temperature: [18 °C $026 °C$0] }\n',
      message: "A comma is missing before '26 °C'.",
      after: 'climate: { temperature: [18 °C, 26 °C] }\n',
      fixes: ['Add a comma [preferred]'],
      testOnly: true,
    },
    {
      name: 'a first line off the margin',
      text: ' $0profile$0: example\ngap: 2 mm\nsuction: 2\n',
      message:
        "'profile' is indented, and the lines below it begin at the margin. Lines that belong together begin in one column.",
      after: 'profile: example\ngap: 2 mm\nsuction: 2\n',
      fixes: ["Move 'profile' to the margin [preferred]"],
      testOnly: true,
    },
    { name: 'plain YAML', text: 'profile: example\nweb: {tension: 20 N/m}\n' },
    { name: 'brackets inside a text', text: "notes: don't [ever { do that\nweb: {tension: 20 N/m}\n", testOnly: true },
  ],
})
