// An acceptance has a last day: after it the finding counts again.

import { defineRule } from './rule.ts'
import { acceptancesOf, isWhole } from './support/acceptance.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { removeComment } from './support/remove-comment.ts'

export const rule = defineRule({
  code: 'accept-expired',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'What was accepted for a while is to be looked at again.',
  docs: `Whoever accepted a finding said until when. That day is over, and the finding counts again. Settle what it tells of; or, if it may still stay, look at it
again and write a later day.`,
  due: true,
  check(context) {
    const { document, codes } = context
    const { text, root } = document.tree
    for (const acceptance of acceptancesOf({ text, root }))
      if (isWhole(acceptance) && codes.includes(acceptance.code) && acceptance.until! < context.today)
        context.report(
          acceptance.span,
          `'${acceptance.code}' was accepted until ${acceptance.until}, which is over: ${acceptance.reason}. It counts again.`,
          { fixes: () => [removeComment(text, acceptance.span, 'Take out the comment')] },
        )
  },
  examples: [
    {
      name: 'a day that is over',
      text: `profile: banner
$0# rollbook-accept suction-stretch until 2026-03-01: tested on the wall$0
suction: 3
`,
      message: "'suction-stretch' was accepted until 2026-03-01, which is over: tested on the wall. It counts again.",
      after: `profile: banner
suction: 3
`,
      fixes: ['Take out the comment'],
    },
    {
      name: 'a day to come',
      text: `profile: banner
# rollbook-accept suction-stretch until 2027-03-01: tested on the wall
suction: 3
`,
    },
  ],
})
