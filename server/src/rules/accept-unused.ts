// An acceptance that holds nothing back would hide the next finding of its rule.

import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'accept-unused',
  severity: 'hint',
  kinds: ALL_KINDS,
  summary: 'A comment accepts a finding that is not there.',
  docs: `The finding that was accepted here has gone, or the comment has moved away from it. Take the comment out: it would hide the same finding when it comes
again for another reason.`,
  check() {
    // Found when all other rules have run: see run.ts.
  },
  examples: [
    {
      name: 'nothing there to accept',
      text: `profile: banner
$0# rollbook-accept duplicate-key until 2027-03-01: merged by hand$0
suction: 3
`,
      message:
        "Nothing of 'duplicate-key' is found here: there is nothing to accept. Take the comment out, so that it hides nothing later.",
      after: `profile: banner
suction: 3
`,
      fixes: ['Take out the comment'],
      unnecessary: true,
    },
    {
      name: 'behind another entry than the one meant',
      text: `profile: banner
suction: 3  $0# rollbook-accept unknown-key until 2027-03-01: an old name$0
suktion: 3
`,
      message:
        "Nothing of 'unknown-key' is found here: there is nothing to accept. Take the comment out, so that it hides nothing later.",
      after: `profile: banner
suction: 3
suktion: 3
`,
      fixes: ['Take out the comment'],
      unnecessary: true,
      testOnly: true,
    },
    {
      name: 'what is accepted is there',
      text: `profile: banner
suktion: 3  # rollbook-accept unknown-key until 2027-03-01: an old name
`,
    },
  ],
})
