// The newest lot of the stock was never checked: its thickness, coating or winding may feed differently.

import { shortened } from '../../../base/shortened.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { feedOf } from '../facts.ts'

export const rule = defineRule({
  code: 'feed-lot',
  severity: 'warning',
  risk: 'length',
  due: true,
  kinds: ['media'],
  summary: 'The newest lot of the stock has no feed check.',
  docs: `Lots differ in thickness and surface, and with them the feed (common practice). The stock's document says a newer lot has come in than the one
the checks were made on. Print one pattern on the new lot. Ignore it while the old lot is still being used up.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { evidence, newest } = feedOf(setup)
    const lots = (setup.stock?.lots?.items ?? []).filter((l) => l.lot && l.received && l.received.value <= setup.today)
    const latest = lots.reduce<(typeof lots)[number] | undefined>(
      (best, l) => (!best || l.received!.value > best.received!.value ? l : best),
      undefined,
    )
    if (!latest?.lot || !newest || !evidence.some((e) => e.check.lot)) return
    const lot = String(latest.lot.value)
    if (evidence.some((e) => String(e.check.lot?.value) === lot && e.leftOut !== 'skipped')) return
    const at = newest.check.lot ?? newest.check.date
    report(
      at?.place ?? newest.check.$,
      `Print the feed pattern on lot ${shortened(lot)} and add a check: it came in on ${latest.received!.value} and has none yet; the newest was made on ${newest.check.lot ? `lot ${shortened(String(newest.check.lot.value))}` : 'a lot not named'}.`,
      {
        related: [
          {
            file: latest.$.file,
            span: latest.$.node,
            message: `Lot ${shortened(lot)}.`,
          },
        ],
      },
    )
  },
  examples: [
    {
      name: 'a new lot came in',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-10, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %, lot: $0A-1$0}
#- s.stock.yaml
stock: s
lots:
  - {lot: A-1, received: 2026-01-10}
  - {lot: A-2, received: 2026-03-20}
`,
      message:
        'Print the feed pattern on lot A-2 and add a check: it came in on 2026-03-20 and has none yet; the newest was made on lot A-1.',
      related: ['Lot A-2. {lot: A-2, received: 2026-03-20}'],
    },
    {
      name: 'the new lot is checked',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %, lot: A-2}
#- s.stock.yaml
stock: s
lots:
  - {lot: A-1, received: 2026-01-10}
  - {lot: A-2, received: 2026-03-20}
`,
    },
    {
      name: 'the newest of three, in no order, after a check of no lot',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-02-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %, lot: A-1}
    - {date: $02026-02-02$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
#- s.stock.yaml
stock: s
lots: [{lot: A-1, received: 2026-01-10}, {lot: A-3, received: 2026-03-31}, {lot: A-2, received: 2026-03-01}]
`,
      message:
        'Print the feed pattern on lot A-3 and add a check: it came in on 2026-03-31 and has none yet; the newest was made on a lot not named.',
      related: ['Lot A-3. {lot: A-3, received: 2026-03-31}'],
      testOnly: true,
    },
  ],
})
