// The web gets hotter than the stock bears, whatever the typical values are.

import { webText } from '../../../model/heat-words.ts'
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { type HeatFacts, heatOf } from '../facts.ts'
import { WHERE, type Zone } from '../path.ts'
import {
  EXAMPLE_FILM,
  EXAMPLE_HEAD,
  EXAMPLE_PRINTER,
  heatToldByBase,
  highestSafe,
  onExample,
  setHeat,
  setToLimit,
  settledAbove,
  settledText,
} from '../shared.ts'
import { basisText, limitText } from '../words.ts'

export const rule = defineRule({
  code: 'web-too-hot',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web gets hotter than its stock bears.',
  docs: `Reckoned from the heater's setting, the time the web spends over it and how well it takes the heat (from readings of the web where there are any), the web is above the
limit the stock's document gives, at every value the inputs may have. Film shrinks, buckles into the heads or sticks; coatings and adhesives creep; paper yellows. Lower the heater:
the fix sets the highest step that keeps the web within the limit. A slower mode does not cool it, because a web takes on its heater's warmth within seconds. Where a reading says
otherwise, write it down. Where the printer's document does not tell enough to follow the web over the heater, the finding goes by what a web settles at that stays there. Caution: hot webs and heaters burn, and an overheated web may give off vapour; stop, ventilate, let it cool, and follow the safety documents of the machine and
the material, local codes and licensed practice.`,
  check({ document, setup, report }) {
    const facts = heatOf(setup)
    const { limit } = facts
    if (limit?.origin !== 'given') return
    const { units } = setup.shop
    for (const zone of tooHot(setup, facts)) {
      const safe = highestSafe(facts, zone, limit)
      const web = zone.web.ok ? webText(zone.web.value.leave, units) : ''
      report(
        zone.set!.place,
        `The web reaches ${web} ${WHERE[zone.zone]} (${basisText(zone)}), and ${limitText(limit, units)}.`,
        { fixes: () => (safe === undefined ? [] : [setHeat(document, zone, safe)]) },
      )
    }
    for (const { zone, web } of settledAbove(setup, facts))
      report(zone.set!.place, settledText(zone, web, limit, units), { fixes: () => [setToLimit(document, zone, limit)] })
  },
  examples: [
    {
      name: 'behind the platen',
      text: onExample('heat:\n  platen: 40 °C\n  after: $072 °C$0\n'),
      message:
        'The web reaches 64 °C (60 to 67) behind the platen (reckoned with typical losses to the air), and the stock bears 50 °C.',
      after: `${EXAMPLE_HEAD}heat:\n  platen: 40 °C\n  after: 53 °C\n`,
      fixes: ['Set heat.after to 53 °C'],
    },
    {
      name: 'by a reading',
      text: onExample(`heat:
  after: $060 °C$0
  readings:
    - {date: 2026-03-20, zone: after, set: 60 °C, web: 56 °C}
`),
      message: 'The web reaches 56 °C (54 to 58) behind the platen (by 1 reading), and the stock bears 50 °C.',
      fixes: ['Set heat.after to 51 °C'],
      testOnly: true,
    },
    {
      name: 'the limit is where it softens',
      text: onExample('heat: {after: $085 °C$0}\n', EXAMPLE_FILM.replace('max-web-temperature: 50 °C', 'softens-at: 60 °C')),
      message:
        'The web reaches 75 °C (70 to 78) behind the platen (reckoned with typical losses to the air), and the stock softens at 60 °C.',
      fixes: ['Set heat.after to 64 °C'],
      testOnly: true,
    },
    {
      name: 'the way of the web is not known',
      text: onExample(
        'heat:\n  after: $0140 °C$0\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {after: {range: [30 °C, 150 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 140 °C: a web that stays over it settles at 132 °C (101 to 138), and the stock bears 50 °C. More cannot be told, because the printer does not give the length of its heater behind the platen.',
      after: `${EXAMPLE_HEAD}heat:\n  after: 50 °C\n`,
      fixes: ['Set heat.after to 50 °C'],
    },
    {
      name: 'a printer that says nothing of heaters',
      text: onExample('heat: {after: $0140 °C$0}\n', undefined, '#- p.printer.yaml\nprinter: p\n'),
      message:
        'The heater behind the platen is set to 140 °C: a web that stays over it settles at 132 °C (101 to 138), and the stock bears 50 °C. More cannot be told, because the printer does not give its heaters.',
      testOnly: true,
    },
    {
      name: 'a printer that has no heater there',
      text: onExample('heat: {after: 140 °C}\n', undefined, '#- p.printer.yaml\nprinter: p\nheaters: {}\n'),
      testOnly: true,
    },
    { name: 'within the limit', text: onExample('heat: {before: 36 °C, platen: 42 °C, after: 50 °C}\n') },
    {
      name: 'hot ahead of the platen only: the platen is not to blame',
      text: onExample('heat: {platen: 40 °C, after: 48 °C}\n'),
      testOnly: true,
    },
    {
      name: 'no lower step is safe',
      text: onExample('heat: {after: $075 °C$0}\n', undefined, EXAMPLE_PRINTER.replace('[30 °C, 90 °C]', '[55 °C, 90 °C]')),
      message:
        'The web reaches 67 °C (63 to 69) behind the platen (reckoned with typical losses to the air), and the stock bears 50 °C.',
      testOnly: true,
    },
  ],
})

function* tooHot(setup: Setup, { zones, margins, limit }: HeatFacts): Generator<Zone> {
  for (const zone of zones) {
    if (!zone.set || !limit || zone.set.value.si <= limit.range.high || heatToldByBase(setup, zone)) continue
    if (margins.get(zone.zone)?.verdict === 'over') yield zone
  }
}
