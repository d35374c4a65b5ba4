// A number beyond anything a printer knows: a key was held down.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'number-overflow',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number has more digits than any value here.',
  docs: `No length, temperature or pressure in a print shop has so many digits. The setting counts as not given. Look for a key that was held down or
for two values that ran together.`,
  check: (context) => reportBad(context, 'number-overflow'),
  examples: [
    {
      name: 'a key held down',
      text: 'gap: $09999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999 mm\n',
      message:
        "'9999999999999999999999999999999999999999…' has more digits than any value here; a length (mm, m, µm or in) is due.",
      testOnly: true,
    },
    {
      name: 'an exponent beyond any use',
      text: 'gap: $01e99$0 mm\n',
      message: "'1e99' is beyond any value here; a length (mm, m, µm or in) is due.",
    },
    {
      name: 'a number of common size',
      text: 'gap: 2 mm\n',
    },
  ],
})
