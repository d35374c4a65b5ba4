// A print that was made after its fault was seen.
import { defineRule } from '../../../rules/rule.ts'
import { relatedTo } from '../../landing/shared.ts'

export const rule = defineRule({
  code: 'printed-after-seen',
  severity: 'error',
  kinds: ['media'],
  summary: 'A print is made after the day its fault was seen.',
  docs: `A print is made first, and its fault is seen then. The other way round one of the two days is mistyped, and a complaint is answered with the settings and the evidence of the wrong
day.`,
  check({ setup, report }) {
    for (const { date, printed } of setup.own.observed?.items ?? []) {
      if (!date || !printed || printed.value <= date.value) continue
      report(
        printed.place,
        `Printed on ${printed.value}, but its fault was seen on ${date.value}: one of the two days is wrong.`,
        relatedTo(date.place, 'The day it was seen.'),
      )
    }
  },
  examples: [
    {
      name: 'next year for this year',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-01-20, fault: bands-dark, printed: $02027-01-12$0 }
`,
      message: 'Printed on 2027-01-12, but its fault was seen on 2026-01-20: one of the two days is wrong.',
      related: ['The day it was seen. 2026-01-20'],
    },
    {
      name: 'on the same day',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-01-20, fault: bands-dark, printed: 2026-01-20 }
`,
    },
  ],
})
