// Text that is not YAML: everything near it may be misread, in Rollbook and in every other program.
import { defineRule } from './rule.ts'
import { reportSyntax } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'syntax',
  severity: 'error',
  kinds: ['media', 'stock', 'printer', 'shop'],
  summary: 'The text is not YAML.',
  docs: `A quote, bracket or colon is missing, or a line is indented unlike its neighbours. The rest of the document is still read and checked as
far as it can be. There is nothing to ignore here: no other program will read the file either.`,
  check(context) {
    reportSyntax(context, 'syntax', (problem) => problem.detail)
  },
  examples: [
    {
      name: 'an open bracket',
      text: `profile: example
web: {tension: 20 N/m$0
`,
      message: 'A closing character is missing: look for an open quote, { or [.',
    },
    { name: 'plain YAML', text: 'profile: example\nweb: {tension: 20 N/m}\n' },
  ],
})
