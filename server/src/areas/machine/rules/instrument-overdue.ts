// Checks were measured with an instrument on the day it was due for calibration, or later: also one that was declared due because it fell.

import type { F } from '../../../model/field.ts'
import { defineRule } from '../../../rules/rule.ts'
import { feedOf } from '../../feed/facts.ts'
import { relatedTo } from '../../landing/shared.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: [0.3 mm, 0.2 mm/m], calibrated: 2025-03-01, due: 2026-03-01}
`

/** A check that rests on an instrument from the day on which that was due. */
interface Doubtful {
  readonly date: string
  readonly instrument: F<string>
  readonly due: F<string>
}

export const rule = defineRule({
  code: 'instrument-overdue',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check was measured with an instrument past its calibration.',
  docs: `What a check proves rests on the rule's limit of error, and that holds until the day it is due: what is measured on that day and after it is doubtful. A rule that was
dropped or bent is due on the day it happened, or where nobody knows that day, on the day after it was last known to be right. Compare it with a better rule and write down the new
dates if it is right: the checks are good again. If it is not, leave these checks out with \`skip\` and measure their prints again. Told once for each instrument, at the
newest check that counts.`,
  check({ setup, report }) {
    const doubtful = new Map<string, Doubtful[]>()
    for (const { check } of feedOf(setup).counted) {
      const { date, with: instrument } = check
      const due = instrument && setup.shop.instruments.get(instrument.value)?.due
      if (!date || !due || date.value < due.value) continue
      doubtful.set(instrument.value, [...(doubtful.get(instrument.value) ?? []), { date: date.value, instrument, due }])
    }
    for (const [name, checks] of doubtful) {
      const newest = checks.reduce((last, check) => (check.date >= last.date ? check : last))
      const measured =
        checks.length === 1
          ? `measured this check on ${newest.date}`
          : `measured ${checks.length} of the checks that count since, this one on ${newest.date}`
      const message = `${name} was due for calibration on ${newest.due.value}, and ${measured}: compare it with a better rule before you trust ${checks.length === 1 ? 'it' : 'them'}.`
      report(newest.instrument.place, message, relatedTo(newest.due.place, 'The day it was due.'))
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
      message:
        'rule-1m was due for calibration on 2026-03-01, and measured 2 of the checks that count since, this one on 2026-03-24: compare it with a better rule before you trust them.',
      related: ['The day it was due. 2026-03-01'],
    },
    {
      name: 'on the day it was declared due, since it fell',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: $0rule-1m$0}
${SHOP}`,
      message:
        'rule-1m was due for calibration on 2026-03-01, and measured this check on 2026-03-01: compare it with a better rule before you trust it.',
      related: ['The day it was due. 2026-03-01'],
      testOnly: true,
    },
    {
      name: 'the day before',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-02-28, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
${SHOP}`,
    },
  ],
})
