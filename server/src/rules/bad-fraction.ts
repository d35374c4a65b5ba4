// A fraction of an inch that cannot be read.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'bad-fraction',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A fraction cannot be read.',
  docs: `Inches may be written with a fraction: \`19 11/16 in\`, a space before it and a slash in it. Other units take decimals only. The setting counts
as not given until then.`,
  check: (context) => reportBad(context, 'bad-fraction'),
  examples: [
    {
      name: 'a hyphen before the fraction',
      text: 'gap: $00-3/32$0 in\n',
      message: "'0-3/32' joins inches and fraction by a hyphen; put a space, '0 3/32 in'.",
      after: 'gap: 0 3/32 in\n',
      fixes: ["Write '0 3/32 in' [preferred]"],
    },
    {
      name: 'a fraction of a millimetre',
      text: 'gap: $03/2$0 mm\n',
      message: "Fractions are for inches only; write '1.5 mm'.",
      after: 'gap: 1.5 mm\n',
      fixes: ["Write '1.5 mm' [preferred]"],
    },
    {
      name: 'divided by zero',
      text: 'gap: $03/0$0 in\n',
      message: "'3/0' divides by zero; the number below the slash is above zero, as in '11/16 in'.",
    },
    {
      name: 'inches and a fraction',
      text: 'gap: 3/32 in\n',
    },
  ],
})
