// No check is recent enough to prove today's feed: lots, seasons and rollers have changed since.

import { addDays } from '../../../model/dates.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { EXAMPLE_SHOP } from '../examples.ts'
import { feedOf } from '../facts.ts'

export const rule = defineRule({
  code: 'feed-stale',
  severity: 'warning',
  risk: 'length',
  due: true,
  kinds: ['media'],
  summary: 'The newest feed check is older than the shop allows.',
  docs: `A feed correction drifts with the lot, the season and the wear of the rollers. The shop says in \`recheck: feed:\` how long a check proves the
number. Print one pattern and write it down; if it agrees, nothing else changes. Until then the last checks are still reckoned with, and said to be old.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { newest, stale, recheckDays } = feedOf(setup)
    if (!stale || !newest?.check.date) return
    const due = addDays(newest.check.date.value, Math.floor(recheckDays))
    report(
      newest.check.date.place,
      `Print the feed pattern and add a check: the newest is ${newest.age} days old, and the shop checks again after ${Number(recheckDays.toFixed(1))} days: one was due on ${due}.`,
    )
  },
  examples: [
    {
      name: 'three months old',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: $02025-12-31$0, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %}
${EXAMPLE_SHOP}`,
      message:
        'Print the feed pattern and add a check: the newest is 90 days old, and the shop checks again after 30 days: one was due on 2026-01-30.',
    },
    {
      name: 'a check of last week',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2025-12-31, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %}
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %}
${EXAMPLE_SHOP}`,
    },
    {
      name: 'in whole days',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: $02026-01-01$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
#- rollbook.yaml
shop: S
recheck: {feed: 1000 h}
`,
      message:
        'Print the feed pattern and add a check: the newest is 89 days old, and the shop checks again after 41.7 days: one was due on 2026-02-11.',
      testOnly: true,
    },
  ],
})
