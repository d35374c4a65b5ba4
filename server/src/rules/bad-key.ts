// A name or level that the shop chose itself, written in a way that nothing can refer to.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { writeKey } from './support/fixes.ts'
import { issuesOf, keySpanIn } from './support/issues.ts'
import { pairOf } from './support/mistakes.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'bad-key',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A name chosen by the shop is not written as names are.',
  docs: `Modes, instruments and inks are lower-case words joined by hyphens; levels of suction or tension are whole numbers. Profiles refer to them by
these names, so they are written in one way only.`,
  check(context) {
    for (const found of issuesOf(context, 'bad-key')) {
      const { issue, node } = found
      const key = pairOf(node, issue.key)?.key
      const right = issue.suggestion
      const meant = right === undefined ? '.' : `; did you mean '${right}'?`
      const what = issue.expected === 'a whole number' ? 'a level is a whole number' : `names are ${issue.expected}`
      context.report(keySpanIn(context, found, issue.key), `${quoted(issue.key)} cannot be a name here: ${what}${meant}`, {
        fixes: () => (key && right !== undefined && !pairOf(node, right) ? [writeKey(key, right, true)] : []),
      })
    }
  },
  examples: [
    {
      name: 'a mode with a space',
      text: '#- example.printer.yaml\nmodes:\n  $0Fine 16$0: { resolution: 720 x 720 dpi, passes: 16 }\n',
      message: "'Fine 16' cannot be a name here: names are lower-case words joined by hyphens; did you mean 'fine-16'?",
      after: 'modes:\n  fine-16: { resolution: 720 x 720 dpi, passes: 16 }\n',
      fixes: ["Write 'fine-16' [preferred]"],
    },
    {
      name: 'a level in words',
      text: '#- example.printer.yaml\nsuction: { levels: { $0level 2$0: 200 Pa } }\n',
      message: "'level 2' cannot be a name here: a level is a whole number; did you mean '2'?",
      after: 'suction: { levels: { 2: 200 Pa } }\n',
      fixes: ["Write '2' [preferred]"],
    },
    {
      name: 'names and levels',
      text: '#- example.printer.yaml\nmodes: { fine-16: { passes: 16 } }\nsuction: { levels: { 2: 200 Pa } }\n',
    },
    {
      name: 'nothing to make a name of',
      text: `#- example.printer.yaml
modes: { $0"§§"$0: { passes: 16 } }
`,
      message: "'§§' cannot be a name here: names are lower-case words joined by hyphens.",
      testOnly: true,
    },
    {
      name: 'the right name is taken',
      text: `#- example.printer.yaml
modes: { fine-16: { passes: 8 }, $0Fine 16$0: { passes: 16 } }
`,
      message: "'Fine 16' cannot be a name here: names are lower-case words joined by hyphens; did you mean 'fine-16'?",
      testOnly: true,
    },
  ],
})
