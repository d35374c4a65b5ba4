// Fine picks and length checks contradict each other: the cause is not the feed, and no number mends it.

import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { AS_NOW } from '../examples.ts'
import { feedOf } from '../facts.ts'
import { fineOf } from '../fine.ts'
import { disagreementText } from '../words.ts'

export const rule = defineRule({
  code: 'fine-against-ruler',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The ruler and the fine feed picks disagree.',
  docs: `The ruler measures the length of a print, the fine pattern shows how the passes meet; with the right feed both are right. Where they ask for corrections that differ by more
than the uncertainties of both, one of the two is not about the feed: the web is stretched by suction or tension and shrinks after the print zone, it grows in the heat, it slips, or a roller runs out of round. No
number is offered, since either would spoil the other. Look at \`suction\`, \`web.tension\` and \`heat\`, then print both patterns again under the same settings.
${READ_PATTERN}`,
  check({ setup, report }) {
    const found = fineOf(setup, 'disagrees')
    if (found) report(found.at, disagreementText(feedOf(setup)))
  },
  examples: [
    {
      name: 'the length is right and the passes gape',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  checks:
    - {date: 2026-03-23, commanded: 2000 mm, measured: 2000.2 mm, applied: +0.24 %}
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1999.8 mm, applied: +0.24 %}
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: $0[4, 4, 4]$0}
${AS_NOW}`,
      message:
        'The ruler and the fine picks disagree: 2 checks ask for +0.24 % ±0.068 %, the picks for +0.37 % ±0.018 %. The cause is not the feed, so no number is offered: look at suction, tension, heat and the rollers, then print both patterns again.',
    },
    {
      name: 'both ask for the same',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 2000 mm, applied: +0.24 %}
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: [1, 0, 1]}
${AS_NOW}`,
    },
  ],
})
