// Text where a number with a unit is due: the setting is not given.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'not-a-quantity',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A text stands where a number with a unit is due.',
  docs: `The key takes a measured value, and what stands there is none. The setting counts as not given. A remark belongs behind a \`#\` or
below \`notes\`.`,
  check: (context) => reportBad(context, 'not-a-quantity'),
  examples: [
    {
      name: 'a word for a gap',
      text: 'gap: $0low$0\n',
      message: "'low' is not a number with a unit; a length (mm, m, µm or in) is due.",
    },
    {
      name: 'about so much',
      text: 'gap: $0~2 mm$0\n',
      message: "'~2 mm' is not a number with a unit; a length (mm, m, µm or in) is due.",
      after: 'gap: 2 mm\n',
      fixes: ["Write '2 mm'"],
    },
    {
      name: 'an empty text',
      text: "gap: $0''$0\n",
      message: 'There is no value; a length (mm, m, µm or in) is due.',
      testOnly: true,
    },
    {
      name: 'a number with a unit',
      text: 'gap: 2 mm # low\n',
    },
  ],
})
