// The checks of a profile stand out of order.
import { defineRule } from './rule.ts'
import { relatedTo } from './support/alignment.ts'

export const rule = defineRule({
  code: 'check-order',
  severity: 'hint',
  kinds: ['media'],
  summary: 'The feed checks are not in the order of their dates.',
  docs: `Checks stand oldest first, so that a new one is always the last line and a merge shows what was added. One out of order is often one with a mistyped date, and dates decide which checks
count. Put the date right or move the line; what is reckoned does not change with the order.`,
  check({ setup, report }) {
    let before: { readonly value: string; readonly place: Parameters<typeof relatedTo>[0] } | undefined
    for (const { date } of setup.own.feed?.checks?.items ?? []) {
      if (!date) continue
      if (before && date.value < before.value) {
        report(
          date.place,
          `This check of ${date.value} stands after one of ${before.value}: the oldest comes first.`,
          relatedTo(before.place, 'The later one.'),
        )
        return
      }
      before = date
    }
  },
  examples: [
    {
      name: 'a mistyped month',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: $02026-02-24$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message: 'This check of 2026-02-24 stands after one of 2026-03-20: the oldest comes first.',
    },
    {
      name: 'oldest first, two on one day',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
    },
  ],
})
