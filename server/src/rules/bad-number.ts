// A number that is written in a way that can be misread.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'bad-number',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number is written in a way that can be misread.',
  docs: `Digits stand together and the decimal mark is a point with digits on both sides, so that every program reads the same number. The setting counts as
not given until then.`,
  check: (context) => reportBad(context, 'bad-number'),
  examples: [
    {
      name: 'digits in groups',
      text: 'feed: { checks: [{ commanded: $01 000$0 mm }] }\n',
      message: "'1 000' has its digits in groups; write them together, '1000 mm'.",
      after: 'feed: { checks: [{ commanded: 1000 mm }] }\n',
      fixes: ["Write '1000 mm' [preferred]"],
    },
    {
      name: 'two points',
      text: 'gap: $02.0.0$0 mm\n',
      message: "'2.0.0' has two decimal points; a length (mm, m, µm or in) is due.",
    },
    {
      name: 'plain digits',
      text: 'feed: { checks: [{ commanded: 1000 mm }] }\n',
    },
  ],
})
