// An uncertainty that cannot be read: the check would count for more or for less than it is worth.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'bad-uncertainty',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'The uncertainty of a value cannot be read.',
  docs: `A value may carry its uncertainty: \`499.4 ±0.3 mm\`. It decides how much a check counts beside others. One unit stands behind both
numbers, and the uncertainty is above zero; where nothing is known of it, leave it out and the instrument's own is taken.`,
  check: (context) => reportBad(context, 'bad-uncertainty'),
  examples: [
    {
      name: 'no number behind ±',
      text: 'gap: 2.0 $0± mm$0\n',
      message: "The number after ± is missing; write the uncertainty there, or leave the ± out, '2.0 mm'.",
      after: 'gap: 2.0 mm\n',
      fixes: ["Write '2.0 mm'"],
    },
    {
      name: 'the unit twice',
      text: 'gap: 2.0 $0mm ±0.1 mm$0\n',
      message: "The unit is written once, behind the uncertainty: '2.0 ±0.1 mm'.",
      after: 'gap: 2.0 ±0.1 mm\n',
      fixes: ["Write '2.0 ±0.1 mm' [preferred]"],
    },
    {
      name: 'value and uncertainty',
      text: 'gap: 2.0 ±0.1 mm\n',
    },
  ],
})
