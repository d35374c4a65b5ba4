// A value of another sort than its key takes: degrees where a length is due.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'wrong-dimension',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A value is of the wrong sort.',
  docs: `A length is due and a temperature stands there, or the like: most likely the value slipped into the wrong line. The setting counts as not
given. Where two sorts truly measure the same, such as a difference of temperature, the conversion is offered.`,
  check: (context) => reportBad(context, 'wrong-dimension'),
  examples: [
    {
      name: 'degrees for a gap',
      text: 'gap: $02.0 °C$0\n',
      message: "'2.0 °C' is a temperature; a length is due, in mm, m, cm, µm, in, ft or mil.",
    },
    {
      name: 'a step in degrees',
      text: '#- example.printer.yaml\nheaters: { platen: { step: $01 °C$0 } }\n',
      message: "'1 °C' is a temperature; a temperature difference is due, in K or °F.",
      after: 'heaters: { platen: { step: 1 K } }\n',
      fixes: ['Convert to K [preferred]'],
    },
    {
      name: 'the right sort',
      text: 'gap: 2.0 mm\n',
    },
  ],
})
