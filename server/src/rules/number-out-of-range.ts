// A plain number that cannot be: a count of nothing, a slot below the first.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { issuesOf } from './support/issues.ts'

const WORDS = { 'at-least': 'at least', 'at-most': 'at most', above: 'always above', below: 'always below' } as const

export const rule = defineRule({
  code: 'number-out-of-range',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number is beyond anything possible.',
  docs: `Counts begin at one, memory places too, and levels at nought. Beyond that a number is a slip, and the setting counts as not given. What
this printer has is another matter, and told by other rules.`,
  check(context) {
    for (const { issue, name, span } of issuesOf(context, 'out-of-range')) {
      context.report(span, `'${name}' is ${issue.value}; it is ${WORDS[issue.bound]} ${issue.limit}.`)
    }
  },
  examples: [
    { name: 'slot nought', text: 'slot: $00$0\n', message: "'slot' is 0; it is at least 1." },
    { name: 'a level below none', text: 'suction: $0-1$0\n', message: "'suction' is -1; it is at least 0." },
    {
      name: 'no friction at all',
      text: '#- example.stock.yaml\nfriction: $00$0\n',
      message: "'friction' is 0; it is always above 0.",
      testOnly: true,
    },
    { name: 'possible numbers', text: 'slot: 1\nsuction: 0\n' },
  ],
})
