// Two numbers where one is due: nobody can tell which of them is keyed in.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'two-values',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'Two numbers stand where one is due.',
  docs: `A check was measured once and a setting is keyed in once: one number. A spread is written as an uncertainty, \`998.8 ±0.3 mm\`; several
readings are several checks. The setting counts as not given until then.`,
  check: (context) => reportBad(context, 'two-values'),
  examples: [
    {
      name: 'a range',
      text: 'feed: { checks: [{ measured: $0998.5-999.1$0 mm }] }\n',
      message: "'998.5-999.1' looks like a range; a length (mm, m, µm or in) is due.",
    },
    {
      name: 'one number and its uncertainty',
      text: 'feed: { checks: [{ measured: 998.8 ±0.3 mm }] }\n',
    },
  ],
})
