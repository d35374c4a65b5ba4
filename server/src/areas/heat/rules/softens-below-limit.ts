// A stock may be taken hotter than the temperature at which it turns soft.
import { valueText } from '../../../model/range-words.ts'
import { compareSi } from '../../../quantities/compare.ts'
import { defineRule } from '../../../rules/rule.ts'
import { unitsOf } from '../../stock/shared.ts'

export const rule = defineRule({
  code: 'softens-below-limit',
  severity: 'warning',
  risk: 'harm',
  kinds: ['stock'],
  summary: 'The highest web temperature is above the one at which the stock turns soft.',
  docs: `\`max-web-temperature\` is what profiles are checked against. Above \`softens-at\` film stretches under its own pull and keeps the stretch, and adhesive creeps out of the edge, so the limit belongs below
it, with room for the swing of a heater. Take both from the same data sheet. Hot platens and webs burn, and hot PVC gives off vapour: the machine's and the material's safety documents come first.`,
  check({ document, shelf, report }) {
    const limit = document.content?.['max-web-temperature']
    const softens = document.content?.['softens-at']
    if (!limit || !softens || compareSi(limit.value.si, softens.value.si, 'temperature') <= 0) return
    const units = unitsOf(shelf)
    const text = (value: number): string => valueText(value, 'temperature', { units })
    report(
      limit.place,
      `The web may reach ${text(limit.value.si)}, but this stock turns soft at ${text(softens.value.si)}: the limit belongs below that.`,
      {
        related: [{ file: document.file, span: softens.place.node, message: 'It turns soft here.' }],
      },
    )
  },
  examples: [
    {
      name: 'a limit above softening',
      text: `#- s.stock.yaml
stock: s
max-web-temperature: $090 °C$0
softens-at: 180 °F
`,
      message: 'The web may reach 90 °C, but this stock turns soft at 82.2 °C: the limit belongs below that.',
      related: ['It turns soft here. 180 °F'],
    },
    {
      name: 'a limit below it',
      text: `#- s.stock.yaml
stock: s
max-web-temperature: 55 °C
softens-at: 75 °C
`,
    },
    {
      name: 'the same in another unit',
      text: '#- s.stock.yaml\nstock: s\nmax-web-temperature: 75 °C\nsoftens-at: 167 °F\n',
      testOnly: true,
    },
  ],
})
