// A check was measured with an instrument whose calibration had run out.
import { feedOf } from '../model/feed.ts'
import { defineRule } from './rule.ts'
import { relatedTo } from './support/alignment.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: [0.3 mm, 0.2 mm/m], calibrated: 2025-03-01, due: 2026-03-01}
`

export const rule = defineRule({
  code: 'instrument-overdue',
  severity: 'warning',
  kinds: ['media'],
  summary: 'A check was measured with an instrument past its calibration.',
  docs: `What a check proves rests on the rule's limit of error, and that holds until the day it is due again. Compare it with a better rule, write down the new date, and the
checks are good again if it was. Told once for each instrument, at the newest check that counts.`,
  check({ setup, report }) {
    const told = new Set<string>()
    for (const { check } of [...feedOf(setup).counted].reverse()) {
      const { date, with: instrument } = check
      const due = instrument && setup.shop.instruments.get(instrument.value)?.due
      if (!date || !due || told.has(instrument.value) || date.value <= due.value) continue
      told.add(instrument.value)
      report(
        instrument.place,
        `${instrument.value} was due for calibration on ${due.value}, and measured this check on ${date.value}.`,
        relatedTo(due.place, 'The day it was due.'),
      )
    }
  },
  examples: [
    {
      name: 'three weeks past',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: $0rule-1m$0}
${SHOP}`,
      message: 'rule-1m was due for calibration on 2026-03-01, and measured this check on 2026-03-24.',
    },
    {
      name: 'on its last day',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
${SHOP}`,
    },
  ],
})
