// Readings of the web's temperature that cannot both be right, or that lie above the heater they were taken at.
import { READING_UNCERTAINTY } from '../../../calc/coupling.ts'
import { degrees, kelvins } from '../../../model/heat-words.ts'
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { newestFirst } from '../../../rules/support/newest.ts'
import { heatOf } from '../facts.ts'
import { WHERE, type Zone } from '../path.ts'
import { type FullReading, ZONES } from '../readings.ts'
import { onExample } from '../shared.ts'

/** K by which two readings of one web at one setting may differ: each is good to 1 K at best (common practice). */
const APART = 3

export const rule = defineRule({
  code: 'heat-readings-disagree',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'Readings of the web temperature contradict each other or their heater.',
  docs: `Two readings at the same heater and the same setting lie further apart than thermometers err, or the web reads hotter than what heats it. Shiny or clear film reads wrong for
contactless thermometers (stick matt tape on it), a web that has only just started is not warm yet, and a heater's control may be off. Read again, and put the wrong line right: what
is reckoned for this stock rests on it. Caution: aim from outside the guards; hot webs and heaters burn.`,
  check({ setup, report }) {
    const { zones } = heatOf(setup)
    const { units } = setup.shop
    for (const zone of zones) {
      for (const reading of zone.readings) {
        const above = reading.web - reading.set
        if (above > READING_UNCERTAINTY && !comesHotter(zones, zone, reading))
          report(
            reading.reading.web!.place,
            `Read the web ${WHERE[zone.zone]} again: it reads ${degrees(reading.web, units)}, ${kelvins(above, units)} hotter than the ${degrees(reading.set, units)} its heater was set to.`,
          )
      }
      for (const { reading, other } of apart(zone.readings.filter((r) => r.web - r.set <= READING_UNCERTAINTY)))
        report(
          reading.reading.web!.place,
          `Read the web ${WHERE[zone.zone]} again at ${degrees(reading.set, units)}: it reads ${degrees(reading.web, units)} here and ${degrees(other.web, units)} ${dateWords(other)}, ${kelvins(Math.abs(reading.web - other.web), units)} apart.`,
          { related: related(setup, other) },
        )
    }
  },
  examples: [
    {
      name: 'far apart at the same setting',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 39.5 °C}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: $034 °C$0}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 34 °C here and 39.5 °C on 2026-03-02, 5.5 K apart.',
      related: ['The other reading. 39.5 °C'],
    },
    {
      name: 'just too far apart',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 39.5 °C}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: $036 °C$0}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 36 °C here and 39.5 °C on 2026-03-02, 3.5 K apart.',
      related: ['The other reading. 39.5 °C'],
      testOnly: true,
    },
    {
      name: 'hotter than its heater',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: $046 °C$0}
`),
      message: 'Read the web on the platen again: it reads 46 °C, 4 K hotter than the 42 °C its heater was set to.',
    },
    {
      name: 'as thermometers err',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 39.5 °C}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: 38 °C}
    - {date: 2026-03-20, zone: platen, set: 50 °C, web: 45 °C}
`),
    },
    {
      name: 'it comes hot from the zone ahead',
      text: onExample(`heat:
  before: 50 °C
  platen: 35 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 35 °C, web: 38 °C}
`),
      testOnly: true,
    },
    {
      name: 'as far apart as thermometers err, to the kelvin',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 39 °C}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: 36 °C}
`),
      testOnly: true,
    },
    {
      name: 'a kelvin above its heater',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 43 °C}
`),
      testOnly: true,
    },
    {
      name: 'no dates',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {zone: platen, set: 42 °C, web: 34 °C}
    - {zone: platen, set: 42 °C, web: $039.5 °C$0}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 39.5 °C here and 34 °C in another reading, 5.5 K apart.',
      related: ['The other reading. 34 °C'],
      testOnly: true,
    },
    {
      name: 'the newest stands first',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: $034 °C$0}
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 39.5 °C}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 34 °C here and 39.5 °C on 2026-03-02, 5.5 K apart.',
      related: ['The other reading. 39.5 °C'],
      testOnly: true,
    },
    {
      name: 'three, the middle one is right',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-01, zone: platen, set: 42 °C, web: 41 °C}
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: $036 °C$0}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: 38.5 °C}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 36 °C here and 41 °C on 2026-03-01, 5 K apart.',
      related: ['The other reading. 41 °C'],
      testOnly: true,
    },
    {
      name: 'two that are as far from it',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-01, zone: platen, set: 42 °C, web: 41 °C}
    - {date: 2026-03-02, zone: platen, set: 42 °C, web: 41 °C}
    - {date: 2026-03-20, zone: platen, set: 42 °C, web: $036 °C$0}
`),
      message: 'Read the web on the platen again at 42 °C: it reads 36 °C here and 41 °C on 2026-03-01, 5 K apart.',
      related: ['The other reading. 41 °C'],
      testOnly: true,
    },
    {
      name: 'settings half a kelvin apart are two',
      text: onExample(`heat:
  platen: 42 °C
  readings:
    - {date: 2026-03-01, zone: platen, set: 42 °C, web: 41 °C}
    - {date: 2026-03-20, zone: platen, set: 42.5 °C, web: 36 °C}
`),
      testOnly: true,
    },
    {
      name: 'as hot from the zone ahead as its own heater',
      text: onExample(`heat:
  before: 35 °C
  platen: 35 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 35 °C, web: $038 °C$0}
`),
      message: 'Read the web on the platen again: it reads 38 °C, 3 K hotter than the 35 °C its heater was set to.',
      testOnly: true,
    },
    {
      name: 'its own heater is set higher today',
      text: onExample(`heat:
  platen: 45 °C
  readings:
    - {date: 2026-03-02, zone: platen, set: 35 °C, web: $038 °C$0}
`),
      message: 'Read the web on the platen again: it reads 38 °C, 3 K hotter than the 35 °C its heater was set to.',
      testOnly: true,
    },
  ],
})

/** Whether the web may bring its heat from an earlier zone. */
function comesHotter(zones: readonly Zone[], zone: Zone, { set }: FullReading): boolean {
  const at = ZONES.indexOf(zone.zone)
  return zones.some((z) => ZONES.indexOf(z.zone) < at && z.set !== undefined && z.set.value.si > set)
}

/** For each setting, the newest reading that lies too far from another, with the one it is furthest from. */
function* apart(readings: readonly FullReading[]): Generator<{ reading: FullReading; other: FullReading }> {
  const bySet = new Map<number, FullReading[]>()
  for (const reading of readings) {
    const key = Math.round(reading.set * 10)
    bySet.set(key, [...(bySet.get(key) ?? []), reading])
  }
  for (const group of bySet.values()) {
    for (const reading of newestFirst(group)) {
      const gap = (r: FullReading): number => Math.abs(r.web - reading.web)
      const other = group.reduce((best, r) => (gap(r) > gap(best) ? r : best), reading)
      if (gap(other) <= APART) continue
      yield { reading, other }
      break
    }
  }
}

const dateWords = ({ reading }: FullReading): string => (reading.date ? `on ${reading.date.value}` : 'in another reading')

function related(setup: Setup, { reading }: FullReading) {
  const { node } = reading.web!.place
  return [{ file: setup.file, span: node, message: 'The other reading.' }]
}
