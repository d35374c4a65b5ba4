// The alignment is older than the shop allows.
import { addDays } from '../../../model/dates.ts'
import { plainNumber } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { MACHINE } from '../../machine/examples.ts'
import { isVoid, landingOf } from '../facts.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
recheck: {alignment: 60 d}
`

export const rule = defineRule({
  code: 'alignment-stale',
  severity: 'warning',
  risk: 'look',
  due: true,
  kinds: ['media'],
  summary: 'The alignment is older than the shop allows.',
  docs: `Heads are cleaned, knocked and exchanged, and drop speed changes with ink and temperature; nobody writes each of it down. The shop says in
\`recheck: alignment:\` how long an alignment is trusted. Print the pattern and write the picks down, even where they come out the same: the date is what counts. Not told where
the alignment is void for another reason, since that asks for the same pattern.
${READ_PATTERN}`,
  check({ setup, report }) {
    const facts = landingOf(setup)
    const date = setup.own.alignment?.date
    const { since, recheckDays } = facts
    if (!date || since?.age === undefined || since.age <= recheckDays || isVoid(facts)) return
    const due = addDays(date.value, Math.floor(recheckDays))
    report(
      date.place,
      `Print the alignment pattern: the last one is ${since.age} days old, and the shop aligns again after ${plainNumber(recheckDays, 4)} days: it was due on ${due}.`,
    )
  },
  examples: [
    {
      name: 'from last year',
      text: `#- e.media.yaml
profile: e
alignment:
  date: $02025-12-31$0
${SHOP}`,
      message:
        'Print the alignment pattern: the last one is 90 days old, and the shop aligns again after 60 days: it was due on 2026-03-01.',
    },
    {
      name: 'of this month',
      text: `#- e.media.yaml
profile: e
alignment:
  date: 2026-03-02
${SHOP}`,
    },
    {
      name: 'on the last day',
      text: `#- e.media.yaml
profile: e
alignment:
  date: 2026-01-30
${SHOP}`,
      testOnly: true,
    },
    {
      name: 'in whole days',
      text: `#- e.media.yaml
profile: e
printer: p
mode: standard
alignment: {date: $02026-01-01$0, two-way: {cyan: 0, magenta: 0, yellow: 0, black: 0}}
${MACHINE}#- rollbook.yaml
shop: S
recheck: {alignment: 1000 h}
`,
      message:
        'Print the alignment pattern: the last one is 89 days old, and the shop aligns again after 41.67 days: it was due on 2026-02-11.',
      testOnly: true,
    },
  ],
})
