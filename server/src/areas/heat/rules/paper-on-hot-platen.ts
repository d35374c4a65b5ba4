// Paper dries over a warm platen and shrinks, while no check says in what air it was measured.

import { mapRange } from '../../../calc/range.ts'
import { webText } from '../../../model/heat-words.ts'
import { rangeText, strainWords } from '../../../model/range-words.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { climateOf } from '../../room/facts.ts'
import { heatOf } from '../facts.ts'
import { heatToldByBase, onExample } from '../shared.ts'

export const rule = defineRule({
  code: 'paper-on-hot-platen',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'Paper dries and shrinks on this platen beyond the tolerance, and no check notes the climate.',
  docs: `Room air that is warmed over the platen becomes very dry, and paper and canvas give up moisture to it: they shrink, though warmth alone would lengthen them, and grow back in the
room. How much of it happens depends on how long the web lies there and how damp the room is, so a correction found in one season fails in the next. Keep the platen as cool as the ink
allows, let rolls stand in the room for a day, and note \`climate\` with each check: this hint goes away with the first check that gives the humidity. Reckoned to the end; a short
stay reaches a part of it (common practice).`,
  check({ setup, report }) {
    const { atPlaten, humidity, newest } = climateOf(setup)
    if (!atPlaten.ok || newest) return
    const platen = heatOf(setup).zones.find((z) => z.zone === 'platen')
    const { growth, humidity: dry } = atPlaten.value
    if (!platen?.set || !platen.web.ok || growth.high >= -setup.shop.tolerance.length.value) return
    if (heatToldByBase(setup, platen)) return
    const { units } = setup.shop
    const typical = setup.material.property('moisture-expansion')?.origin === 'typical' ? 'typically ' : ''
    report(
      platen.set.place,
      `At ${webText(platen.web.value.leave, units)} the air of a room of ${formatSi(humidity, 'humidity', { digits: 2 })} has only ${rangeText(dry, 'humidity')} left: the web ${typical}shrinks by up to ${rangeText(
        mapRange(growth, (g) => -g),
        'relative',
        strainWords(units),
      )} here. Note the climate with each check.`,
    )
  },
  examples: [
    {
      name: 'no check yet',
      text: onExample('heat: {platen: $042 °C$0}\n', PAPER()),
      message:
        'At 40 °C (39 to 41) the air of a room of 50 %RH has only 19 %RH (18 to 20) left: the web typically shrinks by up to 0.98 mm/m (0.55 to 1.4) here. Note the climate with each check.',
    },
    {
      name: 'a check that gives the humidity',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000.5 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: 48 %RH}}
heat: {platen: 42 °C}
`,
        PAPER(),
      ),
    },
    { name: 'film does not mind', text: onExample('heat: {platen: 42 °C}\n'), testOnly: true },
  ],
})

function PAPER(): string {
  return '#- s.stock.yaml\nstock: s\nfamily: paper-coated\nthickness: 170 µm\ngrammage: 200 g/m²\nwidths: [1270 mm]\n'
}
