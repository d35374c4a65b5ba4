// Heat is given for a zone that the printer does not have.

import { isInherited } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { removeSetting } from '../../../rules/support/setting.ts'
import { listed } from '../../../rules/support/words.ts'
import { heatOf } from '../facts.ts'
import { HEATER } from '../path.ts'
import { EXAMPLE_HEAD, heatToldByBase, onExample } from '../shared.ts'

export const rule = defineRule({
  code: 'zone-without-heater',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'Heat is set for a zone the printer does not have.',
  docs: `The setting does nothing: the printer's document lists no heater there. Someone who counts on that warmth (for drying, or for a web that has finished growing) counts on
nothing. Take the line out, or add the heater to the printer's document. It often comes from a base that was made for another printer: then give the profile another base.`,
  check({ document, setup, report }) {
    const heaters = setup.printer?.heaters
    if (!heaters) return
    const { zones } = heatOf(setup)
    for (const zone of zones) {
      if (!zone.set || heaters[zone.zone] || heatToldByBase(setup, zone)) continue
      const has = zones.flatMap((z) => (z.heater ? [HEATER[z.zone].replace('heater ', '')] : []))
      const only =
        has.length > 0
          ? `it heats ${listed(has.map((h) => (h === 'of the platen' ? 'the platen' : h)))} only`
          : 'it has no heaters'
      report(zone.set.place, `The printer has no ${HEATER[zone.zone]} (${only}), so this does nothing.`, {
        unnecessary: true,
        fixes: () =>
          isInherited(setup, zone.set!) ? [] : [removeSetting(document, ['heat', zone.zone], `Take heat.${zone.zone} out`)],
      })
    }
  },
  examples: [
    {
      name: 'only the platen is heated',
      text: onExample('heat:\n  platen: 40 °C\n  after: $050 °C$0\n', undefined, ONLY_PLATEN()),
      message: 'The printer has no heater behind the platen (it heats the platen only), so this does nothing.',
      after: `${EXAMPLE_HEAD}heat:\n  platen: 40 °C\n`,
      fixes: ['Take heat.after out'],
      unnecessary: true,
    },
    {
      name: 'no heaters at all',
      text: onExample('heat: {before: $030 °C$0}\n', undefined, '#- p.printer.yaml\nprinter: p\nheaters: {}\n'),
      message: 'The printer has no heater ahead of the platen (it has no heaters), so this does nothing.',
      fixes: ['Take heat.before out'],
      unnecessary: true,
      testOnly: true,
    },
    { name: 'a heater it has', text: onExample('heat: {platen: 40 °C}\n', undefined, ONLY_PLATEN()) },
    {
      name: 'a printer that says nothing of heaters yet',
      text: onExample('heat: {platen: 40 °C}\n', undefined, '#- p.printer.yaml\nprinter: p\n'),
      testOnly: true,
    },
  ],
})

function ONLY_PLATEN(): string {
  return '#- p.printer.yaml\nprinter: p\nheaters:\n  platen: {length: 200 mm, range: [30 °C, 50 °C]}\n'
}
