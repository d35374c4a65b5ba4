// A number without its unit: millimetres read as inches make a head touch the media.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'missing-unit',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number has no unit.',
  docs: `Every measured value carries its unit, so that a profile means the same in every shop and to every program. A bare number is not guessed at:
the setting counts as not given until its unit is written. There is nothing to ignore here.`,
  check: (context) => reportBad(context, 'missing-unit'),
  examples: [
    {
      name: 'a gap without a unit',
      text: 'gap: $02.0$0\n',
      message: "'2.0' has no unit; a length (mm, m, µm or in) is due.",
      after: 'gap: 2.0 mm\n',
      fixes: ['Add mm'],
    },
    {
      name: 'in quotes',
      text: 'web: { tension: "$020.5$0" }\n',
      message: "'20.5' has no unit; a line tension (N/m or lbf/in) is due.",
      after: 'web: { tension: "20.5 N/m" }\n',
      fixes: ['Add N/m'],
      testOnly: true,
    },
    {
      name: 'shared through an anchor',
      text: 'heat: { before: &warm $040$0, platen: *warm }\n',
      message: "'40' has no unit; a temperature (°C or °F) is due.",
      after: 'heat: { before: &warm 40 °C, platen: *warm }\n',
      fixes: ['Add °C'],
      testOnly: true,
    },
    {
      name: 'shared through a merge key',
      text: 'feed:\n  checks:\n    - &one { date: 2026-03-14, commanded: $01000$0, measured: 999 mm, applied: 0 % }\n    - { <<: *one, measured: 998 mm }\n',
      message: "'1000' has no unit; a length (mm, m, µm or in) is due.",
      fixes: ['Add mm'],
      testOnly: true,
    },
    {
      name: 'with its unit',
      text: 'gap: 2.0 mm\n',
    },
    {
      name: 'a level of the machine has none',
      text: 'suction: 2\nweb: { tension: 3 }\n',
    },
    {
      name: 'a number below no level of any machine is told as such',
      text: 'suction: -1\n',
      testOnly: true,
    },
  ],
})
