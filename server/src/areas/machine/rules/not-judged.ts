// A printer or a stock that profiles use leaves out what their settings are judged by.
import { DESCRIBED } from '../../../model/described.ts'
import type { PrinterDocument, StockDocument } from '../../../model/generated/documents.ts'
import type { Shelf } from '../../../model/shelf.ts'
import { defineRule } from '../../../rules/rule.ts'
import { isMistyped } from '../../../rules/support/mistakes.ts'
import { listed } from '../../../rules/support/words.ts'
import { ZONES } from '../../heat/readings.ts'

export const rule = defineRule({
  code: 'not-judged',
  severity: 'hint',
  kinds: ['printer', 'stock'],
  summary: 'The document leaves out what the settings of its profiles are judged by.',
  docs: `No finding can warn of a setting that nothing is known about: a heater without a range, a stock without the temperature it bears, a carriage without its gaps. "Nothing found" then only means
that nothing was looked at; \`rollbook check\` names it at its end too. Take the numbers from the machine's own papers and the stock's data sheet; where the machine has no such part, an empty one (\`heaters: {}\`) says so. Do not
measure a limit by trying it on the running machine: the safety documents of machine and material come first. It is told only of documents that profiles name.`,
  check({ document, shelf, report }) {
    const { kind, content } = document
    if ((kind !== 'printer' && kind !== 'stock') || !content || isMistyped(document)) return
    if (kind === 'printer') {
      const { printer } = content as PrinterDocument
      const keys = printer && isUsed(shelf, kind, printer.value) ? leftOut(content as PrinterDocument) : []
      if (keys.length > 0)
        report(printer!.place, `Nothing is given here for ${listed(keys)}: what profiles set there is not judged.`)
      return
    }
    // Its thickness is asked for as a key that has to be there.
    const { stock, family, 'max-web-temperature': most, 'softens-at': softens } = content as StockDocument
    if (!stock || family || most || softens || !isUsed(shelf, kind, stock.value)) return
    report(
      stock.place,
      'Nothing is given here for max-web-temperature, nor a family that has a typical one: how hot profiles set the web is not judged.',
    )
  },
  examples: [
    {
      name: 'a printer without heaters and gaps',
      text: `#- p.printer.yaml
printer: $0p$0
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
drying: {pause-range: [0 s, 10 s], run-out-range: [0 min, 60 min]}
suction: {}
web: {tension-range: [5 N/m, 60 N/m], speed-range: [20 mm/s, 120 mm/s], slack-watch: [never]}
#- e.media.yaml
profile: e
printer: p
heat: {after: 60 °C}
`,
      message: 'Nothing is given here for carriage.gaps and heaters: what profiles set there is not judged.',
    },
    {
      name: 'a heater without its range',
      testOnly: true,
      text: `#- p.printer.yaml
printer: $0p$0
carriage: {gaps: [2 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters: {after: {length: 450 mm}}
drying: {pause-range: [0 s, 10 s], run-out-range: [0 min, 60 min]}
suction: {}
web: {tension-levels: {1: 8 N/m}, speed-range: [20 mm/s, 120 mm/s], slack-watch: [never]}
#- e.media.yaml
profile: e
printer: p
`,
      message: 'Nothing is given here for heaters.after.range: what profiles set there is not judged.',
    },
    {
      name: 'a stock of no family and no limit',
      text: `#- s.stock.yaml
stock: $0s$0
thickness: 80 µm
#- e.media.yaml
profile: e
stock: s
heat: {after: 60 °C}
`,
      message:
        'Nothing is given here for max-web-temperature, nor a family that has a typical one: how hot profiles set the web is not judged.',
    },
    {
      name: 'a stock of a family',
      text: `#- s.stock.yaml
stock: s
family: film-pp
thickness: 80 µm
#- e.media.yaml
profile: e
stock: s
`,
    },
    {
      name: 'a printer that nobody prints on yet',
      text: `#- p.printer.yaml
printer: p
`,
      testOnly: true,
    },
  ],
})

function isUsed(shelf: Shelf, kind: 'printer' | 'stock', id: string): boolean {
  for (const { values } of shelf.all('media')) if (values[kind]?.text === id) return true
  return false
}

/** The keys it leaves out, in the order of the settings they tell of. */
function leftOut(printer: PrinterDocument): readonly string[] {
  // Not every machine keeps settings, and none can be said to keep none: a profile that names a slot is told.
  const out = DESCRIBED.filter(({ path, has }) => path !== 'slot' && !has(printer)).map(({ by }) => by)
  for (const zone of ZONES) {
    const heater = printer.heaters?.[zone]
    if (heater && !heater.range) out.push(`heaters.${zone}.range`)
    if (heater && !heater.length) out.push(`heaters.${zone}.length`)
  }
  return [...new Set(out)]
}
