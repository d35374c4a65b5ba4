// A web was measured so cold that the air's moisture may condense on it.

import { degrees, kelvins } from '../../../model/heat-words.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { onExample } from '../../heat/shared.ts'
import { climateOf } from '../facts.ts'

export const rule = defineRule({
  code: 'condensation-risk',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'A web is so cold that moisture of the air may condense on it.',
  docs: `A roll from a cold van or store is unwound in a warm, damp room: below the dew point it gets wet, and within 3 K above it there is no margin (ISO 8502-4, from memory; a guide
from painting steel). Ink beads and does not bond, paper cockles, and the length that was measured is that of a cold web. Let rolls stand wrapped in the room until they have its
temperature, a day for a full one (common practice), and repeat the check. Caution: wet surfaces and live heaters do not go together; the machine's safety documents come first.`,
  check({ setup, report }) {
    const { units } = setup.shop
    for (const { evidence, condensation, temperature, humidity } of climateOf(setup).checks) {
      const web = evidence.check.web
      if (!condensation || condensation.safe || !web || !temperature || !humidity) continue
      if (evidence.leftOut !== undefined || !evidence.recent) continue
      const { dewPoint, margin, required } = condensation
      const gap = kelvins(Math.abs(margin), units)
      const lies =
        margin < 0 ? `${gap} below it: water condenses on it` : `only ${gap} above it, and ${kelvins(required, units)} are wanted`
      report(
        web.place,
        `In air of ${formatQuantity(temperature.value)} and ${formatQuantity(humidity.value)} water condenses below ${degrees(dewPoint, units)}; this web of ${formatQuantity(web.value)} lies ${lies}.`,
      )
    }
  },
  examples: [
    {
      name: 'a roll from the van',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: $08 °C$0, climate: {temperature: 22 °C, humidity: 55 %RH}}
`),
      message:
        'In air of 22 °C and 55 %RH water condenses below 12.6 °C; this web of 8 °C lies 4.6 K below it: water condenses on it.',
    },
    {
      name: 'barely above the dew point, in °F',
      text: `${onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: $057 °F$0, climate: {temperature: 72 °F, humidity: 55 %RH}}
`)}#- rollbook.yaml
shop: S
units: us
`,
      message:
        'In air of 72 °F and 55 %RH water condenses below 55 °F; this web of 57 °F lies only 2 °F above it, and 5.4 °F are wanted.',
      testOnly: true,
    },
    {
      name: 'as warm as the room',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: 22 °C, climate: {temperature: 22 °C, humidity: 55 %RH}}
`),
    },
    {
      name: 'an old check',
      text: onExample(`feed:
  checks:
    - {date: 2025-11-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: 8 °C, climate: {temperature: 22 °C, humidity: 55 %RH}}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: 22 °C, climate: {temperature: 22 °C, humidity: 55 %RH}}
`),
      testOnly: true,
    },
    {
      name: 'less than a kelvin above the dew point',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: $013 °C$0, climate: {temperature: 22 °C, humidity: 55 %RH}}
`),
      message:
        'In air of 22 °C and 55 %RH water condenses below 12.6 °C; this web of 13 °C lies only 0.4 K above it, and 3 K are wanted.',
      testOnly: true,
    },
  ],
})
