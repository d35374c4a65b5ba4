// The layers of a stock do not add up to its thickness.
import { totalThickness } from '../../../calc/roll.ts'
import { replaceValue } from '../../../model/edit.ts'
import { valueText } from '../../../model/range-words.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { unitsOf } from '../shared.ts'

/** Labels round, and makers measure the film with or without its adhesive. */
const SLACK = 0.1

export const rule = defineRule({
  code: 'stock-layers-thickness',
  severity: 'warning',
  kinds: ['stock'],
  summary: 'The layers of the stock do not add up to its thickness.',
  docs: `The thickness is that of everything that runs through the printer, liner and adhesive included; the gap, the metres on a roll and the stretch are reckoned from it. Often the film
alone was written down. The fix writes the sum of the layers; where the whole was measured with a caliper, mend the layers instead. Told from a difference of a tenth.`,
  check({ document, shelf, report }) {
    const stock = document.content
    const layers = stock?.layers?.items ?? []
    const thickness = stock?.thickness
    if (!thickness || layers.length === 0) return
    const sum = totalThickness(layers.map((layer) => layer.thickness?.value.si ?? Number.NaN))
    if (!sum.ok || !(Math.abs(sum.value / thickness.value.si - 1) > SLACK)) return
    const units = unitsOf(shelf)
    const length = (value: number): string => valueText(value, 'length', { units })
    const text = formatSi(sum.value, 'length', { unit: thickness.value.unit })
    report(
      thickness.place,
      `The layers add up to ${length(sum.value)}, and ${length(thickness.value.si)} is written: the thickness is that of everything that runs through, liner included.`,
      { fixes: () => [fixOf(`Set the thickness to ${text}, the sum of the layers`, replaceValue(thickness.place, text))] },
    )
  },
  examples: [
    {
      name: 'the film alone',
      text: `#- s.stock.yaml
stock: s
thickness: $050 µm$0
layers:
  - {name: film, thickness: 50 µm}
  - {name: adhesive, thickness: 25 µm}
  - {name: liner, thickness: 0.14 mm}
`,
      message:
        'The layers add up to 215 µm, and 50 µm is written: the thickness is that of everything that runs through, liner included.',
      after: `stock: s
thickness: 215 µm
layers:
  - {name: film, thickness: 50 µm}
  - {name: adhesive, thickness: 25 µm}
  - {name: liner, thickness: 0.14 mm}
`,
      fixes: ['Set the thickness to 215 µm, the sum of the layers'],
    },
    {
      name: 'measured, and near enough',
      text: `#- s.stock.yaml
stock: s
thickness: 8.8 mil
layers:
  - {name: film, thickness: 50 µm}
  - {name: adhesive, thickness: 25 µm}
  - {name: liner, thickness: 140 µm}
`,
    },
    {
      name: 'a layer without thickness',
      testOnly: true,
      text: `#- s.stock.yaml
stock: s
thickness: 50 µm
layers:
  - {name: film, thickness: 50 µm}
  - {name: liner}
`,
    },
    {
      name: 'one layer',
      text: `#- s.stock.yaml
stock: s
thickness: $050 µm$0
layers: [{name: film, family: film-pvc-cast, thickness: 100 µm}]
`,
      message:
        'The layers add up to 100 µm, and 50 µm is written: the thickness is that of everything that runs through, liner included.',
      after: `stock: s
thickness: 100 µm
layers: [{name: film, family: film-pvc-cast, thickness: 100 µm}]
`,
      fixes: ['Set the thickness to 100 µm, the sum of the layers'],
      testOnly: true,
    },
    {
      name: 'one without a thickness',
      text: `#- s.stock.yaml
stock: s
thickness: 50 µm
layers: [{name: film, thickness: 100 µm}, {name: liner}]
`,
      testOnly: true,
    },
  ],
})
