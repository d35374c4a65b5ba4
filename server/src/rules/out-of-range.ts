// A value that cannot be: no printer, stock or room has it, so it is left out of every reckoning.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { beyond } from './support/bounds.ts'
import { writeValue } from './support/fixes.ts'

const WORDS = {
  'at-least': 'it is at least',
  'at-most': 'it is at most',
  above: 'it is always above',
  below: 'it is always below',
} as const

export const rule = defineRule({
  code: 'out-of-range',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A value is beyond anything possible.',
  docs: `The limits here are wide: beyond them a value is nonsense, such as a length of nothing or an ink limit of two thousand per cent. The value
counts as not given. What this printer can do is another matter, and told by other rules. Look for a slipped point, sign or unit; values that
would be usual are offered.`,
  check(context) {
    for (const { bad, problem, name, text, bound, slips } of beyond(context, 'out-of-range')) {
      context.report(bad.place, `'${name}' is ${text}; ${WORDS[problem.side]} ${bound}.`, {
        fixes: () => slips.map((slip) => writeValue(bad.place, slip)),
      })
    }
  },
  examples: [
    {
      name: 'a nought too many',
      text: 'colour: { ink-limit: $02600 %$0 }\n',
      message: "'ink-limit' is 2600 %; it is at most 1600 %.",
      after: 'colour: { ink-limit: 260 % }\n',
      fixes: ["Write '260 %'", "Write '2600 mm/m'"],
    },
    {
      name: 'a slipped sign',
      text: 'feed: { checks: [{ measured: $0-998.8 mm$0 }] }\n',
      message: "'measured' is -998.8 mm; it is always above 0 mm.",
      after: 'feed: { checks: [{ measured: 998.8 mm }] }\n',
      fixes: ["Write '998.8 mm'"],
    },
    {
      name: 'metres for millimetres, in the unit it is written in',
      text: 'gap: $02 m$0\n',
      message: "'gap' is 2 m; it is at most 0.1 m.",
      after: 'gap: 2 mm\n',
      fixes: ["Write '2 mm'"],
    },
    {
      name: 'in a list',
      text: '#- rollbook.yaml\nclimate: { temperature: [18 °C, $0260 °C$0] }\n',
      message: "'temperature' is 260 °C; it is at most 60 °C.",
      after: 'climate: { temperature: [18 °C, 26 °C] }\n',
      fixes: ["Write '26 °C'"],
      testOnly: true,
    },
    {
      name: 'nothing at all',
      text: 'feed: { checks: [{ measured: $00 mm$0 }] }\n',
      message: "'measured' is 0 mm; it is always above 0 mm.",
      testOnly: true,
    },
    { name: 'possible', text: 'colour: { ink-limit: 260 % }\n' },
  ],
})
