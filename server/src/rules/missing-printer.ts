// A printer that is not there: what it can be set to is not known, so nothing is checked against it.
import { MAX_TEXT } from '../syntax/parse.ts'
import { defineRule } from './rule.ts'
import { reportMissing } from './support/references.ts'

export const rule = defineRule({
  code: 'missing-printer',
  severity: 'error',
  kinds: ['media'],
  summary: 'A profile names a printer that is not there.',
  docs: `What can be set, in which steps and within which limits, stands in the printer's own document. Without it a profile cannot be checked, and what
to key in cannot be told. Look for a slip in the name.`,
  check: (context) => reportMissing(context, 'printer', context.setup.own.printer),
  examples: [
    {
      name: 'a slip in the name',
      text: `printer: $0bay-11$0
#- bay-1.printer.yaml
printer: bay-1
`,
      message: "There is no printer 'bay-11' in this shop; did you mean 'bay-1'?",
      after: 'printer: bay-1\n',
      fixes: ["Write 'bay-1'"],
    },
    {
      name: 'nothing like it',
      text: 'printer: $0somewhere-else$0\n',
      message: "There is no printer 'somewhere-else' in this shop.",
    },
    {
      name: 'a document too large to be read',
      text: `printer: $0bay-1$0\n#- bay-1.printer.yaml\nprinter: bay-1\nnotes: ${'x'.repeat(MAX_TEXT)}\n`,
      message: "The document of printer 'bay-1', bay-1.printer.yaml, cannot be read.",
      testOnly: true,
    },
    { name: 'a printer of this shop', text: 'printer: bay-1\n#- bay-1.printer.yaml\nprinter: bay-1\n' },
    { name: 'a name that is no name is told by another rule', text: 'printer: Some Thing\n', testOnly: true },
  ],
})
