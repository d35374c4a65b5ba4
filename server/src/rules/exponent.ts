// A number with an exponent, which people misread by powers of ten.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'exponent',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number has an exponent.',
  docs: `\`1.5e-3 m\` and \`1.5e3 m\` differ by one small mark and a factor of a million. Numbers are written out here, with a unit that suits their size.`,
  check: (context) => reportBad(context, 'exponent'),
  examples: [
    {
      name: 'a small number',
      text: 'gap: $01.5e-3$0 m\n',
      message: "'1.5e-3' has an exponent; write the number out, '0.0015 m'.",
      after: 'gap: 0.0015 m\n',
      fixes: ["Write '0.0015 m' [preferred]"],
    },
    {
      name: 'written out',
      text: 'gap: 1.5 mm\n',
    },
  ],
})
