// The readings of a zone were taken at another setting, and long ago.

import { DAY } from '../../../model/dates.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { newestFirst } from '../../../rules/support/newest.ts'
import { heatOf } from '../facts.ts'
import { WHERE } from '../path.ts'
import { SAME_SETTING } from '../readings.ts'
import { onExample, setText } from '../shared.ts'

export const rule = defineRule({
  code: 'heat-readings-old',
  severity: 'hint',
  risk: 'harm',
  due: true,
  kinds: ['media'],
  summary: 'The web was read at another heater setting, longer ago than the shop trusts a check.',
  docs: `A reading shows how far the web stays behind its heater, and that carries over to other settings: so old readings are still reckoned with. But they were taken in another season,
perhaps with another air flow, and nobody has looked at the web since the setting was changed. Read it once more. The time is the shop's \`recheck.feed\`. Caution: aim the thermometer from
outside the guards.`,
  check({ setup, report }) {
    const days = setup.shop.recheck.feed.value / DAY
    for (const zone of heatOf(setup).zones) {
      const { set, readings } = zone
      if (!set || readings.some((r) => Math.abs(r.set - set.value.si) <= SAME_SETTING)) continue
      const [newest] = newestFirst(readings.filter(({ age }) => age !== undefined))
      if (!newest || newest.age! <= days) continue
      report(
        newest.reading.set!.place,
        `Read the web ${WHERE[zone.zone]} again: it was last read ${newest.age} days ago at ${formatQuantity(newest.reading.set!.value)}, and ${setText(zone)} is set now.`,
      )
    }
  },
  examples: [
    {
      name: 'changed since',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-01-12, zone: platen, set: $040 °C$0, web: 38 °C}
`),
      message: 'Read the web on the platen again: it was last read 78 days ago at 40 °C, and 45 °C is set now.',
    },
    {
      name: 'old, but of this setting',
      text: onExample(`heat:
  platen: 40 °C
  readings:
    - {date: 2026-01-12, zone: platen, set: 104 °F, web: 38 °C}
`),
    },
    {
      name: 'recent',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-03-20, zone: platen, set: 40 °C, web: 38 °C}
`),
      testOnly: true,
    },
    {
      name: 'the newest of three tells',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-01-10, zone: platen, set: 36 °C, web: 34 °C}
    - {date: 2026-01-12, zone: platen, set: $040 °C$0, web: 38 °C}
    - {date: 2026-01-11, zone: platen, set: 37 °C, web: 35 °C}
`),
      message: 'Read the web on the platen again: it was last read 78 days ago at 40 °C, and 45 °C is set now.',
      testOnly: true,
    },
    {
      name: 'one of them is of this setting',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-01-12, zone: platen, set: 45.5 °C, web: 43 °C}
    - {date: 2026-01-12, zone: platen, set: 40 °C, web: 38 °C}
`),
      testOnly: true,
    },
    {
      name: 'on the last day',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-03-01, zone: platen, set: 40 °C, web: 38 °C}
`),
      testOnly: true,
    },
    {
      name: 'no date',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {zone: platen, set: 40 °C, web: 38 °C}
`),
      testOnly: true,
    },
  ],
})
