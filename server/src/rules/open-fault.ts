// A fault that was seen and is not settled: what to try, in the order that this setup's numbers give.
import type { MediaDocument } from '../model/generated/documents.ts'
import { defineRule } from './rule.ts'
import { remediesFor, remedyText } from './support/faults/faults.ts'

/** How many remedies the message names; the hover has them all. */
const NAMED = 3

export const rule = defineRule({
  code: 'open-fault',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A fault was seen and is not settled yet.',
  docs: `Someone wrote down a fault and no date on which it was settled. What to try comes in the trade's order (common practice), moved up or down by what the numbers of this
profile say for and against each setting; one step on this machine is offered where it is safe. Change one thing at a time, print the same piece again, and write \`settled\` when
it is gone. Heat, moving carriages and rolls, and solvent vapour can hurt: the machine's and the material's own safety documents come first.`,
  check({ document, setup, report }) {
    for (const seen of (setup.own as MediaDocument).observed?.items ?? []) {
      const { fault } = seen
      if (!fault || seen.settled) continue
      const remedies = remediesFor(document, setup, fault.value)
      if (remedies.length === 0) continue
      const named = remedies
        .slice(0, NAMED)
        .map((r, i) => `${i + 1}. ${remedyText(r)}${r.reason === undefined ? '' : ` (${r.reason})`}`)
      report(fault.place, `${fault.value} is not settled. To try, in this order: ${named.join('; ')}.`, {
        fixes: () => remedies.map((r) => r.step),
      })
    }
  },
  examples: [
    {
      name: 'a stale feed check is looked at first',
      text: `#- e.media.yaml
profile: e
feed:
  correction: +0.20 %
  checks:
    - {date: 2025-11-30, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
observed:
  - {date: 2026-03-30, fault: $0length-short$0, note: 5 m banner came out short}
`,
      message:
        'length-short is not settled. To try, in this order: 1. look at feed.correction (the newest check is 121 days old, and one proves the feed for 30: check again first); 2. lower web.tension; 3. lower suction.',
    },
    {
      name: 'settled',
      text: `#- e.media.yaml
profile: e
observed:
  - {date: 2026-03-10, fault: length-short, settled: 2026-03-12}
`,
    },
  ],
})
