// An acceptance that is not whole accepts nothing, and says so.
import { nearest } from '../base/nearest.ts'
import { renamedRule } from '../schema/renamed.ts'
import { defineRule } from './rule.ts'
import { acceptancesOf } from './support/acceptance.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'accept-miswritten',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'A comment that accepts a finding lacks something.',
  docs: `A finding may be accepted for a while, by a comment above what it is about or behind it: \`# rollbook-accept RULE until YYYY-MM-DD: why\`. The rule's
code, a last day and a reason are all needed: whoever reads the document in a year wants to know who thought what. A comment that lacks one of them, or
names a rule that there is not, accepts nothing.`,
  check(context) {
    const { document, codes } = context
    const { text, root } = document.tree
    for (const { code, codeSpan, span, until, reason } of acceptancesOf({ text, root })) {
      if (code !== '' && !codes.includes(code)) {
        const near = renamedRule(code, codes) ?? nearest(code, codes)
        context.report(
          codeSpan,
          `There is no rule '${code}'${near === undefined ? '' : `; did you mean '${near}'?`}${near === undefined ? ': nothing is accepted.' : ' Nothing is accepted.'}`,
          {
            fixes: () => (near === undefined ? [] : [{ title: `Write '${near}'`, edits: [{ ...codeSpan, newText: near }] }]),
          },
        )
        continue
      }
      const lacking = [
        ...(code === '' ? ['the code of a rule'] : []),
        ...(until === undefined ? ["a last day ('until 2027-03-01')"] : []),
        ...(reason === undefined ? ["a reason behind a colon (': tested on the wall')"] : []),
      ]
      if (lacking.length > 0) context.report(span, `Nothing is accepted: the comment lacks ${listed(lacking)}.`)
    }
  },
  examples: [
    {
      name: 'without a day and a reason',
      text: `profile: banner
$0# rollbook-accept suction-stretch$0
suction: 3
`,
      message:
        "Nothing is accepted: the comment lacks a last day ('until 2027-03-01') and a reason behind a colon (': tested on the wall').",
    },
    {
      name: 'a day that there is not',
      text: `profile: banner
$0# rollbook-accept suction-stretch until 2027-02-30: tested on the wall$0
suction: 3
`,
      message: "Nothing is accepted: the comment lacks a last day ('until 2027-03-01').",
      testOnly: true,
    },
    {
      name: 'without the rule',
      text: `profile: banner
suction: 3  $0# rollbook-accept: fine$0
`,
      message: "Nothing is accepted: the comment lacks the code of a rule and a last day ('until 2027-03-01').",
      testOnly: true,
    },
    {
      name: 'a mistyped rule',
      text: `profile: banner
# rollbook-accept $0suction-strech$0 until 2027-03-01: tested on the wall
suction: 3
`,
      message: "There is no rule 'suction-strech'; did you mean 'suction-stretch'? Nothing is accepted.",
      after: `profile: banner
# rollbook-accept suction-stretch until 2027-03-01: tested on the wall
suction: 3
`,
      fixes: ["Write 'suction-stretch'"],
    },
    {
      name: 'a rule that is like none',
      text: `profile: banner
# rollbook-accept $0xyzzy$0 until 2027-03-01: tested on the wall
suction: 3
`,
      message: "There is no rule 'xyzzy': nothing is accepted.",
      testOnly: true,
    },
    {
      name: 'whole',
      text: `profile: banner
# rollbook-accept suction-stretch until 2027-03-01: tested on the wall
suction: 3
`,
    },
    {
      name: 'a text and no comment',
      text: `profile: banner
title: "see # rollbook-accept"
`,
      testOnly: true,
    },
  ],
})
