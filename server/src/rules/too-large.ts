// A file too large to be a document written by people: nothing of it is read.
import { MAX_LINES, MAX_TEXT } from '../syntax/parse.ts'
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportSyntax } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'too-large',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A document is too large to be read.',
  docs: `Documents up to 2 MB and up to ${MAX_LINES.toLocaleString('en-US')} lines are read; a year of hourly checks is a third of that. A larger file is most likely something else that was saved
under this name. The other documents of the shop are read as usual, but nothing is known of this one.`,
  check(context) {
    const what = context.document.tree.root ? 'What stands here' : 'This document'
    reportSyntax(context, 'too-large', ({ detail }) => `${what} is not read: ${detail} Is it the right file?`)
  },
  examples: [
    {
      name: 'a text of more than 2 MB',
      text: `$0profile: example$0\nnotes: ${'x'.repeat(MAX_TEXT)}\n`,
      message: 'This document is not read: it is 2.0 MB large, and documents up to 2 MB are read. Is it the right file?',
      testOnly: true,
    },
    {
      name: 'a text of very many lines',
      text: `$0profile: example$0\n${'gap: 2 mm\n'.repeat(MAX_LINES)}`,
      message: 'This document is not read: it has 100,002 lines, and documents of up to 100,000 are read. Is it the right file?',
      testOnly: true,
    },
    {
      name: 'a list of very many items on a line',
      text: `profile: example\n$0notes$0: [${'1,'.repeat(200_000)}1]\n`,
      message: 'What stands here is not read: more than 400,000 words and signs hang together in it. Is it the right file?',
      testOnly: true,
    },
    { name: 'a text of common size', text: 'profile: example\n' },
  ],
})
