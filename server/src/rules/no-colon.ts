// A line of bare words where `key: value` is due: the setting it was meant to give is not given.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportText } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'no-colon',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A line has no colon between key and value.',
  docs: `A key ends in a colon and a space. Without them the line is only words, its setting is not given, and the lines below may be drawn into
it. Everything else in the document is still read. There is nothing to ignore here.`,
  check: (context) => reportText(context, 'no-colon'),
  examples: [
    {
      name: 'no colon',
      text: 'profile: example\n$0gap 1.5 mm$0\nsuction: 2\n',
      message: "'gap 1.5 mm' has no colon between a key and its value; did you mean 'gap: 1.5 mm'?",
      after: 'profile: example\ngap: 1.5 mm\nsuction: 2\n',
      fixes: ["Write 'gap: 1.5 mm' [preferred]"],
    },
    {
      name: 'no space behind the colon',
      text: 'profile: example\n$0gap:1.5 mm$0\nsuction: 2\n',
      message: "A space is missing behind the colon of 'gap:1.5 mm'; did you mean 'gap: 1.5 mm'?",
      after: 'profile: example\ngap: 1.5 mm\nsuction: 2\n',
      fixes: ["Write 'gap: 1.5 mm' [preferred]"],
    },
    {
      name: 'in a section, a letter slipped too',
      text: 'feed:\n  $0corection +0.18 %$0 # new\n  checks: []\n',
      message: "'corection +0.18 %' has no colon between a key and its value; did you mean 'correction: +0.18 %'?",
      after: 'feed:\n  correction: +0.18 % # new\n  checks: []\n',
      fixes: ["Write 'correction: +0.18 %'"],
    },
    {
      name: 'the last line of a section',
      text: 'heat:\n  before: 30 °C\n  $0platen = 40 °C$0\nsuction: 2\n',
      message: "'platen = 40 °C' has no colon between a key and its value; did you mean 'platen: 40 °C'?",
      after: 'heat:\n  before: 30 °C\n  platen: 40 °C\nsuction: 2\n',
      fixes: ["Write 'platen: 40 °C' [preferred]"],
      testOnly: true,
    },
    {
      name: 'the only line of a section',
      text: 'feed:\n  $0correction +0.18 %$0\n',
      message: "'correction +0.18 %' has no colon between a key and its value; did you mean 'correction: +0.18 %'?",
      after: 'feed:\n  correction: +0.18 %\n',
      fixes: ["Write 'correction: +0.18 %' [preferred]"],
      testOnly: true,
    },
    {
      name: 'inside brackets',
      text: 'feed:\n  fine: { $0date 2026-01-01$0, applied: 0 %, picks: [0] }\n',
      message: "'date 2026-01-01' has no colon between a key and its value; did you mean 'date: 2026-01-01'?",
      after: 'feed:\n  fine: { date: 2026-01-01, applied: 0 %, picks: [0] }\n',
      fixes: ["Write 'date: 2026-01-01' [preferred]"],
      testOnly: true,
    },
    {
      name: 'an ink of an alignment',
      text: 'alignment: { one-way: { $0cyan 0$0, magenta: 0 } }\n',
      message: "'cyan 0' has no colon between a key and its value; did you mean 'cyan: 0'?",
      after: 'alignment: { one-way: { cyan: 0, magenta: 0 } }\n',
      fixes: ["Write 'cyan: 0' [preferred]"],
      testOnly: true,
    },
    {
      name: 'a key being typed',
      text: 'profile: example\n$0feed$0\n',
      message: "'feed' has no colon between a key and its value; did you mean 'feed:'?",
      after: 'profile: example\nfeed:\n',
      fixes: ["Write 'feed:' [preferred]"],
      testOnly: true,
    },
    {
      name: 'words that are no key',
      text: 'profile: example\n$0remember the milk$0\n',
      message: "'remember the milk' has no colon between a key and its value.",
      testOnly: true,
    },
    { name: 'key, colon, space, value', text: 'profile: example\ngap: 1.5 mm\n' },
  ],
})
