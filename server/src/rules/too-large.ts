// A file too large to be a document written by people: nothing of it is read.
import { MAX_TEXT } from '../syntax/parse.ts'
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportSyntax } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'too-large',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A document is too large to be read.',
  docs: `Documents up to 2 MB are read; a year of hourly checks is a tenth of that. A larger file is most likely something else that was saved
under this name. The other documents of the shop are read as usual, but nothing is known of this one.`,
  check(context) {
    reportSyntax(
      context,
      'too-large',
      (problem) =>
        `This document is ${problem.detail} large, and none of it is read; documents up to 2 MB are. Is it the right file?`,
    )
  },
  examples: [
    {
      name: 'a text of more than 2 MB',
      text: `$0profile: example$0\nnotes: ${'x'.repeat(MAX_TEXT)}\n`,
      message: 'This document is 2.0 MB large, and none of it is read; documents up to 2 MB are. Is it the right file?',
      testOnly: true,
    },
    { name: 'a text of common size', text: 'profile: example\n' },
  ],
})
