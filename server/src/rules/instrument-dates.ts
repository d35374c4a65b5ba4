// An instrument due for calibration before it was calibrated, or in doubt until a day before the first: one of the two days is wrong.
import { type F, keySpan } from '../model/field.ts'
import { defineRule, type RuleContext } from './rule.ts'
import { swapValues } from './support/fixes.ts'

export const rule = defineRule({
  code: 'instrument-dates',
  severity: 'error',
  risk: 'length',
  kinds: ['shop'],
  summary: 'The days of an instrument are in the wrong order.',
  docs: `An instrument is calibrated first and due again later, and what is in doubt or found wrong is so from its first day to its last. The other way
round one of the days is mistyped: checks made with the instrument may rest on a calibration that has run out, or are left out for days on which it was
good. Until it is put right, it counts for all days between the two.`,
  check(context) {
    for (const [name, { calibrated, due, errors, suspect }] of context.document.content?.instruments?.entries ?? []) {
      for (const { from, to } of errors?.items ?? []) reportTime(context, name, 'has this error', from, to)
      for (const { from, to } of suspect?.items ?? []) reportTime(context, name, 'is in doubt', from, to)
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
      name: 'in doubt until the day before',
      text: `#- rollbook.yaml
instruments:
  steel-rule-1m:
    suspect:
      - { from: 2026-03-20, to: $02026-03-12$0, why: dropped }
`,
      message: "'steel-rule-1m' is in doubt from 2026-03-20 to 2026-03-12: the last day comes later.",
      after: `instruments:
  steel-rule-1m:
    suspect:
      - { from: 2026-03-12, to: 2026-03-20, why: dropped }
`,
      fixes: ['Swap the two days'],
      related: ['The first day. 2026-03-20'],
    },
    {
      name: 'wrong until the year before',
      text: `#- rollbook.yaml
instruments: { tape: { errors: [{ from: 2026-01-20, to: $02025-02-20$0, error: 0.4 mm/m }] } }
`,
      message: "'tape' has this error from 2026-01-20 to 2025-02-20: the last day comes later.",
      fixes: ['Swap the two days'],
      related: ['The first day. 2026-01-20'],
      testOnly: true,
    },
    {
      name: 'in doubt for one day',
      text: '#- rollbook.yaml\ninstruments: { tape: { suspect: [{ from: 2026-03-20, to: 2026-03-20, why: lost }] } }\n',
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

function reportTime(
  { document, report }: RuleContext<'shop'>,
  name: string,
  what: string,
  from: F<string> | undefined,
  to: F<string> | undefined,
): void {
  if (!from || !to || to.value >= from.value) return
  report(to.place, `'${name}' ${what} from ${from.value} to ${to.value}: the last day comes later.`, {
    related: [{ file: from.place.file, span: from.place.node, message: 'The first day.' }],
    fixes: () => [swapValues(document.text, from.place, to.place, 'Swap the two days')],
  })
}
