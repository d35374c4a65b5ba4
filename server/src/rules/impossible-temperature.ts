// A temperature below absolute zero: a sign or a unit slipped.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'impossible-temperature',
  severity: 'error',
  risk: 'harm',
  kinds: ALL_KINDS,
  summary: 'A temperature is below absolute zero.',
  docs: `Nothing is colder than −273.15 °C. The value counts as not given. Look at the sign and at the unit.`,
  check: (context) => reportBad(context, 'impossible-temperature'),
  examples: [
    {
      name: 'a slipped sign',
      text: 'heat: { platen: $0-400 °C$0 }\n',
      message: "'-400 °C' is below absolute zero; nothing is colder than -273.15 °C.",
    },
    {
      name: 'a temperature',
      text: 'heat: { platen: 40 °C }\n',
    },
  ],
})
