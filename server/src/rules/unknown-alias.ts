// An alias that stands for nothing: the value it was to repeat is not there.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { reportSyntax } from './support/syntax-problems.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'unknown-alias',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'An alias stands for nothing.',
  docs: `\`*name\` repeats the value that \`&name\` marks further up. Without such a mark the value is missing, and other programs refuse the whole
file. A text that begins with a star needs quotes.`,
  check(context) {
    reportSyntax(context, 'unknown-alias', ({ detail }) => {
      const name = quoted(detail)
      return `Nothing above is marked as ${name}, so this value is missing. Mark the value to repeat with '&${detail.slice(0, 40)}', or write the value out.`
    })
  },
  examples: [
    {
      name: 'no such mark',
      text: 'heat: { platen: $0*everyday$0, fan: true }\n',
      message:
        "Nothing above is marked as 'everyday', so this value is missing. Mark the value to repeat with '&everyday', or write the value out.",
    },
    { name: 'a marked value', text: 'heat: { before: &everyday 40 °C, platen: *everyday }\n' },
  ],
})
