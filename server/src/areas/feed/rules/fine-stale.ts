// Fine picks belong to the correction they were printed with; at another one they say nothing.

import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { AS_NOW } from '../examples.ts'
import { feedOf } from '../facts.ts'

export const rule = defineRule({
  code: 'fine-stale',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The fine feed picks were printed at another correction.',
  docs: `The fine pattern says by how many steps the advance of each pass should change from what it was when the pattern was printed. After the correction
has changed by more than a step, the picks no longer apply, and they are left out. Print the fine pattern again; it takes a minute.
${READ_PATTERN}`,
  check({ setup, report }) {
    const fine = feedOf(setup).reckoning?.fine
    const own = setup.own.feed?.fine
    if (!own || (fine?.use !== 'stale' && fine?.use !== 'unusable')) return
    report(
      own.applied?.place ?? own.$,
      `${fine.use === 'stale' ? 'Print the fine pattern again' : 'Look at the fine pattern'}: the picks are left out, since ${fine.reason}.`,
    )
  },
  examples: [
    {
      name: 'the correction has moved on',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1995.2 mm, applied: 0 %}
  fine: {date: 2026-02-01, applied: $0+0.12 %$0, under: as-now, picks: [1, 0, 1]}
${AS_NOW}`,
      message:
        "Print the fine pattern again: the picks are left out, since they were printed at +0.12 %, and today's correction is +0.241 %.",
    },
    {
      name: 'printed at today’s correction',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1995.2 mm, applied: 0 %}
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: [1, 0, 1]}
${AS_NOW}`,
    },
  ],
})
