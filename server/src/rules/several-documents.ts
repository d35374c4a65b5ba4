// A second document behind the first in one file: whatever it sets is not read.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportSyntax } from './support/syntax-problems.ts'

export const rule = defineRule({
  code: 'several-documents',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A file holds more than one document.',
  docs: `YAML lets several documents follow each other in one file, each behind a line of three dashes. Here one file is one document, named
like its file, so that everything can be found by its name. Only the first one is read. Move the others into files of their own.`,
  check(context) {
    reportSyntax(
      context,
      'several-documents',
      () => 'A second document begins here, and only the first one of a file is read. Move this one into a file of its own.',
    )
  },
  examples: [
    {
      name: 'two profiles in one file',
      text: 'profile: example\n$0---$0\nprofile: another\n',
      message: 'A second document begins here, and only the first one of a file is read. Move this one into a file of its own.',
    },
    { name: 'one document', text: 'profile: example\n' },
    { name: 'one document behind its three dashes', text: '---\nprofile: example\n', testOnly: true },
  ],
})
