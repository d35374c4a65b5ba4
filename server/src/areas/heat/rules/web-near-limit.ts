// The web is probably hotter than the stock bears, or hotter than its family typically bears.

import { webText } from '../../../model/heat-words.ts'
import { defineRule } from '../../../rules/rule.ts'
import { heatOf } from '../facts.ts'
import { WHERE } from '../path.ts'
import {
  EXAMPLE_FILM,
  EXAMPLE_HEAD,
  EXAMPLE_PRINTER,
  heatToldByBase,
  highestSafe,
  onExample,
  setHeat,
  setToLimit,
  settledNear,
  settledText,
} from '../shared.ts'
import { basisText, limitText } from '../words.ts'

export const rule = defineRule({
  code: 'web-near-limit',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web is probably hotter than its stock bears.',
  docs: `The expected temperature of the web lies above what the stock bears, but not at every value the inputs may have; or it lies above all that stock of this family typically bears,
while the stock's own document gives no limit. Only a measurement tells: read the web at this heater, write the reading into the profile, and look up \`max-web-temperature\` in
the stock's data sheet. Until then the fix sets the highest step that is safe in any case. Caution: aim the thermometer from outside the guards; hot webs burn, and the safety documents
of the machine and the material, local codes and licensed practice come first.`,
  check({ document, setup, report }) {
    const facts = heatOf(setup)
    const { zones, margins, limit } = facts
    if (!limit) return
    for (const zone of zones) {
      const margin = margins.get(zone.zone)
      if (!margin || !zone.set || !zone.web.ok || zone.set.value.si <= limit.range.high) continue
      const given = limit.origin === 'given'
      const probable = given ? margin.verdict === 'uncertain' && margin.margin.typical < 0 : margin.verdict === 'over'
      if (!probable || heatToldByBase(setup, zone)) continue
      const { units } = setup.shop
      const safe = highestSafe(facts, zone, limit)
      report(
        zone.set.place,
        `${given ? `Read the web ${WHERE[zone.zone]}: it probably` : `Look its limit up: the web ${WHERE[zone.zone]}`} reaches ${webText(zone.web.value.leave, units)} (${basisText(zone)}), and ${limitText(limit, units)}.`,
        { fixes: () => (safe === undefined ? [] : [setHeat(document, zone, safe)]) },
      )
    }
    for (const { zone, web } of settledNear(setup, facts))
      report(zone.set!.place, settledText(zone, web, limit, setup.shop.units), {
        fixes: () => [setToLimit(document, zone, limit)],
      })
  },
  examples: [
    {
      name: 'more likely than not',
      text: onExample('heat:\n  platen: 40 °C\n  after: $058 °C$0\n'),
      message:
        'Read the web behind the platen: it probably reaches 52 °C (50 to 54) (reckoned with typical losses to the air), and the stock bears 50 °C.',
      after: `${EXAMPLE_HEAD}heat:\n  platen: 40 °C\n  after: 53 °C\n`,
      fixes: ['Set heat.after to 53 °C'],
    },
    {
      name: 'above what is typical',
      text: onExample('heat: {after: $080 °C$0}\n', EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', '')),
      message:
        'Look its limit up: the web behind the platen reaches 71 °C (66 to 74) (reckoned with typical losses to the air), and stock of this family typically bears 50 °C (45 to 57).',
      fixes: ['Set heat.after to 47 °C'],
    },
    {
      name: 'above what is typical, and the way of the web is not known',
      testOnly: true,
      text: onExample(
        'heat: {after: $0140 °C$0}\n',
        EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', ''),
        '#- p.printer.yaml\nprinter: p\n',
      ),
      message:
        'The heater behind the platen is set to 140 °C: a web that stays over it settles at 132 °C (101 to 138), and stock of this family typically bears 50 °C (45 to 57). More cannot be told, because the printer does not give its heaters.',
    },
    {
      name: 'more likely than not, and the way of the web is not known',
      testOnly: true,
      text: onExample(
        'heat: {after: $058 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {after: {range: [30 °C, 90 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 58 °C: a web that stays over it settles at 56 °C (46 to 57), and the stock bears 50 °C. More cannot be told, because the printer does not give the length of its heater behind the platen.',
      after: `${EXAMPLE_HEAD}heat: {after: 50 °C}\n`,
      fixes: ['Set heat.after to 50 °C'],
    },
    { name: 'cool enough', text: onExample('heat: {platen: 40 °C, after: 52 °C}\n') },
    {
      name: 'typical limits overlap',
      text: onExample('heat: {after: 62 °C}\n', EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', '')),
      testOnly: true,
    },
    {
      name: 'no lower step is safe',
      text: onExample('heat: {after: $058 °C$0}\n', undefined, EXAMPLE_PRINTER.replace('[30 °C, 90 °C]', '[55 °C, 90 °C]')),
      message:
        'Read the web behind the platen: it probably reaches 52 °C (50 to 54) (reckoned with typical losses to the air), and the stock bears 50 °C.',
      testOnly: true,
    },
    {
      name: 'at every value above it, which web-too-hot tells',
      text: onExample(`heat: {after: 80 °C}
`),
      testOnly: true,
    },
    {
      name: 'more likely below than above',
      text: onExample(`heat: {after: 54 °C}
`),
      testOnly: true,
    },
  ],
})
