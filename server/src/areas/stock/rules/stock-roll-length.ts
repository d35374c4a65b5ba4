// The length of a roll, its diameters and the thickness of the stock do not fit together.
import { effectiveThickness, rollDiameter, rollLength } from '../../../calc/roll.ts'
import { replaceValue } from '../../../model/edit.ts'
import type { Place } from '../../../model/field.ts'
import { valueText } from '../../../model/range-words.ts'
import { formatSi } from '../../../quantities/format.ts'
import type { Quantity } from '../../../quantities/quantity.ts'
import type { Fix } from '../../../rules/rule.ts'
import { defineRule } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { CLOTH, unitsOf } from '../shared.ts'

/** Air, a soft winding and rounded figures; cloth is squeezed on its roll. */
const SLACK = 0.1
const SLACK_CLOTH = 0.25

export const rule = defineRule({
  code: 'stock-roll-length',
  severity: 'hint',
  kinds: ['stock'],
  summary: 'Length, diameters and thickness of the roll do not fit together.',
  docs: `A roll holds π (D² − d²) ÷ (4 × thickness) of web, where the thickness is that of everything that winds: a self-adhesive film winds with its liner. A length that differs by more than a tenth (a quarter for cloth,
which is squeezed) means that one of the figures is wrong: mostly the film alone was written as the thickness, or a radius as a diameter. Measure the roll with a tape round it and divide by π.`,
  check({ document, shelf, report }) {
    const stock = document.content
    const { length, core, outside } = stock?.roll ?? {}
    const thickness = stock?.thickness
    if (!length || !core || !outside || !thickness) return
    const diameters = { outsideDiameter: outside.value.si, coreDiameter: core.value.si }
    const metres = rollLength({ ...diameters, thickness: thickness.value.si })
    const slack = stock?.family && CLOTH.has(stock.family.value) ? SLACK_CLOTH : SLACK
    if (!metres.ok || !(Math.abs(metres.value / length.value.si - 1) > slack)) return
    const units = unitsOf(shelf)
    const text = (value: number): string => valueText(value, 'length', { units })
    const needed = effectiveThickness({ ...diameters, length: length.value.si })
    const instead = needed.ok ? ` For ${text(length.value.si)} it would have to be ${text(needed.value)} thick.` : ''
    report(
      length.place,
      `A roll of ${text(outside.value.si)} on a core of ${text(core.value.si)} holds ${text(metres.value)} at ${text(thickness.value.si)} of thickness; ${text(length.value.si)} is written.${instead}`,
      {
        fixes: () => {
          const full = rollDiameter({ length: length.value.si, coreDiameter: core.value.si, thickness: thickness.value.si })
          return [write('the length', length, metres.value), full.ok ? write('the full roll', outside, full.value) : undefined]
        },
      },
    )
  },
  examples: [
    {
      name: 'the liner forgotten',
      text: `#- s.stock.yaml
stock: s
family: film-pvc-calendered
thickness: 80 µm
roll: { length: $050 m$0, core: 89 mm, outside: 151 mm }
`,
      message:
        'A roll of 151 mm on a core of 89 mm holds 146 m at 80 µm of thickness; 50 m is written. For 50 m it would have to be 234 µm thick.',
      fixes: ['Set the length to 146 m', 'Set the full roll to 114 mm'],
    },
    {
      name: 'a radius for a diameter',
      text: `#- s.stock.yaml
stock: s
thickness: 235 µm
roll: { length: $050 m$0, core: 44.5 mm, outside: 151 mm }
`,
      message:
        'A roll of 151 mm on a core of 44.5 mm holds 69.6 m at 235 µm of thickness; 50 m is written. For 50 m it would have to be 327 µm thick.',
      fixes: ['Set the length to 69.6 m', 'Set the full roll to 130 mm'],
    },
    {
      name: 'it fits',
      text: `#- s.stock.yaml
stock: s
thickness: 235 µm
roll: { length: 50 m, core: 89 mm, outside: 151 mm }
`,
    },
    {
      name: 'it fits in inches',
      testOnly: true,
      text: `#- s.stock.yaml
stock: s
family: textile-knit
thickness: 14 mil
roll: { length: 262 ft, core: 3 9/16 in, outside: 8 5/16 in }
`,
    },
    {
      name: 'cloth is squeezed',
      text: `#- s.stock.yaml
stock: s
family: textile-knit
thickness: 0.25 mm
roll: {length: 80 m, core: 76 mm, outside: 190 mm}
`,
      testOnly: true,
    },
  ],
})

function write(what: string, { value, place }: { readonly value: Quantity; readonly place: Place }, si: number): Fix {
  const text = formatSi(si, 'length', { unit: value.unit, digits: 3 })
  return fixOf(`Set ${what} to ${text}`, replaceValue(place, text))
}
