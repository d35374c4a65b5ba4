// The best patch of a fine pattern is its last one: the true best may lie beyond the pattern, so the picks say only "at least".
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { AS_NOW } from '../examples.ts'
import { fineOf } from '../fine.ts'

export const rule = defineRule({
  code: 'fine-last-patch',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A fine feed pick is the last patch of its row.',
  docs: `The eye takes the best patch that is there. Where that is the last of the row, a better one may lie beyond it: the picks then say only that the advance wants at least
that much, and no correction is reckoned from them. Correct the length by the ruler first, key that in, and print the fine pattern again: the best patch then lies near the middle.
Where it does not although the length is right, the cause is not the feed: look at suction, tension and heat.
${READ_PATTERN}`,
  check({ setup, report }) {
    const found = fineOf(setup, 'last-patch')
    if (found)
      report(
        found.at,
        `Correct the length by the ruler first, then print the fine pattern again: the picks are left out, since ${found.fine.reason}.`,
      )
  },
  examples: [
    {
      name: 'all at the end',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 2000 mm, applied: +0.24 %}
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: $0[5, 5, 4]$0}
${AS_NOW}`,
      message:
        'Correct the length by the ruler first, then print the fine pattern again: the picks are left out, since a pick in the last patch (left, middle) says only "at least 4.7 patches more feed": the best one may lie beyond the pattern.',
    },
    {
      name: 'one before the end',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: [4, 4.5, 4]}
${AS_NOW}`,
      testOnly: true,
    },
  ],
})
