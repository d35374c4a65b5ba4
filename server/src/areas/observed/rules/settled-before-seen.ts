// A fault put right before it was seen.
import { defineRule } from '../../../rules/rule.ts'
import { relatedTo } from '../../landing/shared.ts'

export const rule = defineRule({
  code: 'settled-before-seen',
  severity: 'error',
  kinds: ['media'],
  summary: 'A fault is settled before the day it was seen.',
  docs: `A fault is seen first and put right later. The other way round one of the two days is mistyped, and the history of the profile tells the wrong story: which setting cured
the fault is read off these dates.`,
  check({ setup, report }) {
    for (const { date, settled } of setup.own.observed?.items ?? []) {
      if (!date || !settled || settled.value >= date.value) continue
      report(
        settled.place,
        `Settled on ${settled.value}, but seen on ${date.value}: one of the two days is wrong.`,
        relatedTo(date.place, 'The day it was seen.'),
      )
    }
  },
  examples: [
    {
      name: 'last year for this year',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-01-20, fault: bands-dark, settled: $02025-01-22$0 }
`,
      message: 'Settled on 2025-01-22, but seen on 2026-01-20: one of the two days is wrong.',
      related: ['The day it was seen. 2026-01-20'],
    },
    {
      name: 'on the same day',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-01-20, fault: bands-dark, settled: 2026-01-20 }
`,
    },
  ],
})
