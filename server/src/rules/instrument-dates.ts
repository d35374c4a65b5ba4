// An instrument due for calibration before it was calibrated: one of the two days is wrong, and it may be out of date without a sign.
import { keySpan } from '../model/field.ts'
import { defineRule } from './rule.ts'

export const rule = defineRule({
  code: 'instrument-dates',
  severity: 'error',
  risk: 'length',
  kinds: ['shop'],
  summary: 'An instrument is due before it was calibrated.',
  docs: `An instrument is calibrated first and due again later. The other way round one of the days is mistyped, and checks made with the
instrument may rest on a calibration that has run out.`,
  check(context) {
    for (const [name, { calibrated, due }] of context.document.content?.instruments?.entries ?? []) {
      if (!calibrated || !due || due.value > calibrated.value) continue
      const message = `'${name}' is due on ${due.value}, but was calibrated on ${calibrated.value}: the day it is due comes later.`
      context.report(due.place, message, {
        related: [{ file: calibrated.place.file, span: keySpan(calibrated.place), message: 'The day it was calibrated.' }],
      })
    }
  },
  examples: [
    {
      name: 'a year too early',
      text: '#- rollbook.yaml\ninstruments:\n  steel-rule-1m: { kind: rule, calibrated: 2026-02-10, due: $02025-02-10$0 }\n',
      message: "'steel-rule-1m' is due on 2025-02-10, but was calibrated on 2026-02-10: the day it is due comes later.",
      related: ['The day it was calibrated. calibrated'],
    },
    {
      name: 'due a year later',
      text: '#- rollbook.yaml\ninstruments:\n  steel-rule-1m: { calibrated: 2026-02-10, due: 2027-02-10 }\n',
    },
    {
      name: 'due on the day it was calibrated',
      text: `#- rollbook.yaml
shop: S
instruments: {steel-rule-1m: {calibrated: 2026-03-01, due: $02026-03-01$0}}
`,
      message: "'steel-rule-1m' is due on 2026-03-01, but was calibrated on 2026-03-01: the day it is due comes later.",
      related: ['The day it was calibrated. calibrated'],
      testOnly: true,
    },
  ],
})
