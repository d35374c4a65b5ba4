// A range that runs from high to low: nothing lies inside it, so every setting would be outside.
import type { F } from '../model/field.ts'
import { formatQuantity } from '../quantities/format.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { defineRule } from './rule.ts'
import { swapValues } from './support/fixes.ts'
import { mistakesOf } from './support/mistakes.ts'
import { isField, pathsWhere, placeOf, valuesAt } from './support/values.ts'
import { lastName } from './support/words.ts'

const RANGES = pathsWhere((node) => node.kind === 'list' && node.rising)

export const rule = defineRule({
  code: 'pair-order',
  severity: 'error',
  kinds: ['printer', 'shop'],
  summary: 'A range runs from high to low.',
  docs: `A range is written with its lower end first. The other way round nothing lies inside it, and either every setting would be refused or the
range is not used at all. With a minus sign the larger number is the lower end: \`[-1 %, 1 %]\`.`,
  check(context) {
    const { document } = context
    for (const steps of RANGES.get(document.kind) ?? []) {
      for (const list of valuesAt(document.content, steps)) {
        const place = placeOf(list)
        const [low, high] = (list as { readonly items: readonly unknown[] }).items.filter(isField) as F<Quantity>[]
        if (!place || !low || !high || low.value.si <= high.value.si) continue
        const span = { start: place.node.start, end: place.node.end }
        if (mistakesOf(document).inDoubt(span)) continue
        const name = place.key?.text ?? lastName(steps.join('.'))
        const message = `'${name}' runs from ${formatQuantity(low.value)} down to ${formatQuantity(high.value)}; the lower end comes first.`
        context.report(low.place.node === high.place.node ? place : span, message, {
          fixes: () => [swapValues(document.text, low.place, high.place, 'Swap the two ends', true)],
        })
      }
    }
  },
  examples: [
    {
      name: 'a range upside down',
      text: '#- bay-1.printer.yaml\nfeed: { range: $0[1 %, -1 %]$0 }\n',
      message: "'range' runs from 1 % down to -1 %; the lower end comes first.",
      after: 'feed: { range: [-1 %, 1 %] }\n',
      fixes: ['Swap the two ends [preferred]'],
    },
    {
      name: 'in two units',
      text: '#- rollbook.yaml\nclimate:\n  temperature: $0[26 °C, 64 °F]$0\n',
      message: "'temperature' runs from 26 °C down to 64 °F; the lower end comes first.",
      after: 'climate:\n  temperature: [64 °F, 26 °C]\n',
      fixes: ['Swap the two ends [preferred]'],
    },
    {
      name: 'low to high',
      text: '#- bay-1.printer.yaml\nfeed: { range: [-1 %, 1 %] }\nheaters: { platen: { range: [30 °C, 50 °C] } }\n',
    },
    { name: 'one value only', text: '#- bay-1.printer.yaml\ndrying: { pause-range: [0 s, 0 s] }\n', testOnly: true },
    {
      name: 'the same through an anchor',
      text: `#- bay-1.printer.yaml
x-top: &top 1 %
feed: { range: $0[*top, -1 %]$0 }
`,
      message: "'range' runs from 1 % down to -1 %; the lower end comes first.",
      testOnly: true,
    },
    {
      name: 'the same anchor for the lower end',
      text: `#- bay-1.printer.yaml
x-low: &low -1 %
feed: { range: $0[1 %, *low]$0 }
`,
      message: "'range' runs from 1 % down to -1 %; the lower end comes first.",
      testOnly: true,
    },
    {
      name: 'a range of an entry',
      text: `#- p.printer.yaml
printer: p
heaters: {after: {range: $0[90 °C, 30 °C]$0}}
`,
      message: "'range' runs from 90 °C down to 30 °C; the lower end comes first.",
      after: `printer: p
heaters: {after: {range: [30 °C, 90 °C]}}
`,
      fixes: ['Swap the two ends [preferred]'],
      testOnly: true,
    },
  ],
})
