// A unit that nobody knows: the value cannot be used.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'unknown-unit',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A unit is not known.',
  docs: `The number stands there, but what it counts cannot be told: the setting counts as not given. Often a letter slipped, or the unit is written
otherwise here; the nearest known ones are offered.`,
  check: (context) => reportBad(context, 'unknown-unit'),
  examples: [
    {
      name: 'a mistyped unit',
      text: 'gap: 2.0 $0mn$0\n',
      message: "'mn' is not a unit; did you mean '2.0 mm'?",
      fixes: ["Write '2.0 mm'"],
    },
    {
      name: 'another spelling',
      text: 'gap: 0.08 $0inches$0\n',
      message: "'inches' is not a unit; did you mean '0.08 in'?",
      after: 'gap: 0.08 in\n',
      fixes: ["Write '0.08 in' [preferred]"],
    },
    {
      name: 'words behind the unit',
      text: 'drying: { run-out: 8 $0min or so$0 }\n',
      message: "'min or so' is more than a unit; only '8 min' can stand here.",
      after: 'drying: { run-out: 8 min }\n',
      fixes: ["Write '8 min'"],
    },
    {
      name: 'known units',
      text: 'gap: 0.08 in\ndrying: { run-out: 8 min }\n',
    },
  ],
})
