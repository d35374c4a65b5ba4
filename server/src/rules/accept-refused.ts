// What can hurt somebody is not a matter of opinion.
import type { RollDocument } from '../model/document.ts'
import { defineRule } from './rule.ts'
import { acceptancesOf } from './support/acceptance.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { removeComment } from './support/remove-comment.ts'

export const rule = defineRule({
  code: 'accept-refused',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A danger cannot be accepted by a comment.',
  docs: `An error about heat, clearance, vapour or tension can hurt somebody or the machine. It is answered by another setting or by a measurement, never by a
comment, and a shop cannot set it less strict. When in doubt follow the machine's and the material's own documents.`,
  check(context) {
    const { document, dangers } = context
    const { text, root } = document.tree
    for (const { code, span } of acceptancesOf({ text, root }))
      if (dangers.includes(code))
        context.report(
          span,
          `'${code}' tells of what can hurt somebody or the machine: a comment does not change that. Change the setting, or answer it by a measurement.`,
          { fixes: () => [removeComment(text, span, 'Take out the comment')] },
        )
    if (document.kind !== 'shop') return
    for (const [code, { place, value }] of (document as RollDocument<'shop'>).content?.rules?.entries ?? [])
      if (dangers.includes(code) && value !== 'error')
        context.report(
          place,
          `'${code}' tells of what can hurt somebody or the machine: it stays an error, whatever the shop says here.`,
        )
  },
  examples: [
    {
      name: 'the web is torn',
      text: `profile: banner
$0# rollbook-accept web-too-hot until 2027-03-01: it has always been like this$0
suction: 3
`,
      message:
        "'web-too-hot' tells of what can hurt somebody or the machine: a comment does not change that. Change the setting, or answer it by a measurement.",
      after: `profile: banner
suction: 3
`,
      fixes: ['Take out the comment'],
    },
    {
      name: 'a shop that would not hear of it',
      text: '#- rollbook.yaml\nshop: S\nrules: { web-too-hot: $0ignore$0 }\n',
      message: "'web-too-hot' tells of what can hurt somebody or the machine: it stays an error, whatever the shop says here.",
    },
    { name: 'what only looks bad', text: '#- rollbook.yaml\nshop: S\nrules: { bands-light: ignore }\n' },
  ],
})
