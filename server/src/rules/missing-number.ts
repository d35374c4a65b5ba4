// A unit whose number is still to come, as an added check has it: not a mistake yet, but nothing that counts either.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'
import { spotOf } from './support/places.ts'
import { leaveOut } from './support/setting.ts'

export const rule = defineRule({
  code: 'missing-number',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'A unit has no number yet.',
  docs: `Where a check or a reading is added, the unit stands there already and only the number is to be typed. Until then the value counts as not
given, and a check without its measured length is left out of the reckoning. Write what was measured, never what should have come out; leave out
what was not measured.`,
  check: (context) =>
    reportBad(context, 'missing-number', ({ place }) => [leaveOut(context.document, spotOf(context.document, place.node).path)]),
  examples: [
    {
      name: 'a check that is being measured',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1000 mm, measured: $0mm$0, applied: 0 % }\n',
      message: "'mm' has no number yet; write it before the unit.",
    },
    {
      name: 'a temperature that was not measured',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 %, web: $0°C$0 }\n',
      message: "'°C' has no number yet; write it before the unit.",
      after: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 % }\n',
      fixes: ["Leave 'web' out"],
    },
    {
      name: 'on a line of its own',
      text: 'heat:\n  before: $0°C$0\n  platen: 42 °C\n',
      message: "'°C' has no number yet; write it before the unit.",
      after: 'heat:\n  platen: 42 °C\n',
      fixes: ["Leave 'before' out"],
      testOnly: true,
    },
    {
      name: 'an item of a list',
      text: '#- example.printer.yaml\ncarriage: { gaps: [1.5 mm, $0mm$0] }\n',
      message: "'mm' has no number yet; write it before the unit.",
      testOnly: true,
    },
    { name: 'a number with its unit', text: 'gap: 2 mm\n' },
  ],
})
