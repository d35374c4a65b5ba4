// No roll of this stock is narrow enough for the printer.
import { valueText } from '../../../model/range-words.ts'
import { compareSi } from '../../../quantities/compare.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'

export const rule = defineRule({
  code: 'stock-width-bed',
  severity: 'error',
  kinds: ['media'],
  summary: 'Every width of the stock is wider than the bed of the printer.',
  docs: `The stock's document lists the widths the shop buys, the printer's the width of its bed. Where even the narrowest roll is wider, it cannot be loaded. Slit rolls or another printer are the way out; if a
narrower width is bought, add it to the stock. Wide rolls are heavy: lift them with two people or the shop's lifting gear.`,
  check({ setup, report }) {
    const { stock, printer } = setup.profile
    const bed = setup.printer?.carriage?.['bed-width']?.value.si
    const widths = setup.stock?.widths?.items.map((width) => width.value.si)
    if (!stock || !printer || bed === undefined || !widths?.length) return
    const narrowest = Math.min(...widths)
    if (compareSi(narrowest, bed, 'length') <= 0 || toldByBase(setup, stock, printer)) return
    const { units } = setup.shop
    const width = (value: number): string => valueText(value, 'length', { units, digits: 4 })
    report(
      stock.place,
      `The narrowest roll of ${stock.value} is ${width(narrowest)} wide; the bed of ${printer.value} takes ${width(bed)}.`,
    )
  },
  examples: [
    {
      name: 'grand format cloth on a small machine',
      text: `#- e.media.yaml
profile: e
stock: $0s$0
printer: p
#- s.stock.yaml
stock: s
widths: [3150 mm, 1800 mm]
#- p.printer.yaml
printer: p
carriage: {bed-width: 1600 mm}
`,
      message: 'The narrowest roll of s is 1800 mm wide; the bed of p takes 1600 mm.',
    },
    {
      name: 'one width fits',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
#- s.stock.yaml
stock: s
widths: [3150 mm, 63 in]
#- p.printer.yaml
printer: p
carriage: {bed-width: 1600.2 mm}
`,
    },
    {
      name: 'in the shop’s figures',
      text: `#- e.media.yaml
profile: e
stock: $0s$0
printer: p
#- s.stock.yaml
stock: s
widths: [1828.84 mm]
#- p.printer.yaml
printer: p
carriage: {bed-width: 1600.26 mm}
`,
      message: 'The narrowest roll of s is 1829 mm wide; the bed of p takes 1600 mm.',
      testOnly: true,
    },
  ],
})
