// Length checks that do not say how warm the web was, on a platen warm enough to matter.

import { degrees, webText } from '../../../model/heat-words.ts'
import { rangeText, strainWords, valueText } from '../../../model/range-words.ts'
import { defineRule } from '../../../rules/rule.ts'
import { newestFirst } from '../../../rules/support/newest.ts'
import { feedOf } from '../../feed/facts.ts'
import { heatOf } from '../facts.ts'
import { onExample } from '../shared.ts'

export const rule = defineRule({
  code: 'platen-feed-growth',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'A length check does not say how warm the web was, and the platen lengthens it beyond the tolerance.',
  docs: `A web on a warm platen is longer than the print will be on the wall. Whether the pattern was measured warm or an hour later is then worth more than the shop's whole length
tolerance. Note the web's temperature with each check (\`web\`): lengths are then brought to the reference temperature by the stock's expansion. A pattern that has lain in the room for
an hour has the room's temperature.`,
  check({ setup, report }) {
    const { growth, zones } = heatOf(setup)
    const { counted, tolerance } = feedOf(setup)
    if (!growth.ok) return
    const { low, high } = growth.value
    if (Math.min(Math.abs(low), Math.abs(high)) <= tolerance || low * high <= 0) return
    const silent = counted.filter((e) => !e.check.web && e.check.measured)
    const [newest] = newestFirst(silent)
    const platen = zones.find((z) => z.zone === 'platen')?.web
    if (!newest || !platen?.ok) return
    const { units, referenceTemperature } = setup.shop
    const words = strainWords(units)
    const count = silent.length === 1 ? 'This check does' : `This check and ${silent.length - 1} more do`
    report(
      newest.check.measured!.place,
      `${count} not say how warm the web was. At ${webText(platen.value.leave, units)} on the platen it is ${rangeText(growth.value, 'relative', words)} longer than at ${degrees(referenceTemperature.value, units)}, and the tolerance is ${valueText(tolerance, 'relative', words)}.`,
    )
  },
  examples: [
    {
      name: 'warm platen, silent check',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: $0999.1 mm$0, applied: 0 %}
heat: {platen: 45 °C}
`),
      message:
        'This check does not say how warm the web was. At 43 °C (41 to 43) on the platen it is 1.4 mm/m (1.3 to 1.4) longer than at 23 °C, and the tolerance is 0.5 mm/m.',
    },
    {
      name: 'the check says it',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, web: 24 °C}
heat: {platen: 45 °C}
`),
    },
    {
      name: 'two of them, in US units',
      text: `${onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 40 in, measured: 39.9 in, applied: 0 %}
    - {date: 2026-03-21, commanded: 40 in, measured: $039.9 in$0, applied: 0 %}
heat: {platen: 113 °F}
`)}#- rollbook.yaml
shop: S
units: us
`,
      message:
        'This check and 1 more do not say how warm the web was. At 109 °F (106 to 110) on the platen it is 0.14 % (0.13 to 0.14) longer than at 73.4 °F, and the tolerance is 0.05 %.',
      testOnly: true,
    },
    {
      name: 'a film that hardly grows',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %}
heat: {platen: 45 °C}
`,
        '#- s.stock.yaml\nstock: s\nfamily: film-pet\nthickness: 100 µm\nexpansion: 17 ppm/K\nwidths: [1270 mm]\n',
      ),
      testOnly: true,
    },
  ],
})
