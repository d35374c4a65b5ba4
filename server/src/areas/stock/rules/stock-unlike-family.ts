// A property of a stock is far from what its family of material has.

import { replaceValue } from '../../../model/edit.ts'
import { Material, type MaterialKey } from '../../../model/material.ts'
import { valueText } from '../../../model/range-words.ts'
import { formatSi } from '../../../quantities/format.ts'
import type { Dimension } from '../../../quantities/units.ts'
import { defineRule } from '../../../rules/rule.ts'
import { beyond } from '../../../rules/support/bounds.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { unitsOf } from '../shared.ts'

/** How many times beyond an end of the typical range a value must lie to be told, and its dimension. Temperatures are left to the data sheet. */
const FAR: readonly {
  readonly key: MaterialKey
  readonly name: string
  readonly times: number
  readonly dimension: Dimension | 'number'
}[] = [
  { key: 'modulus', name: 'modulus', times: 3, dimension: 'modulus' },
  { key: 'yield', name: 'yield stress', times: 3, dimension: 'modulus' },
  { key: 'expansion', name: 'expansion', times: 2, dimension: 'expansion' },
  { key: 'heat-capacity', name: 'heat capacity', times: 2, dimension: 'heat-capacity' },
  { key: 'friction', name: 'friction', times: 2, dimension: 'number' },
]

export const rule = defineRule({
  code: 'stock-unlike-family',
  severity: 'hint',
  kinds: ['stock'],
  summary: 'A property of the stock is far from the typical range of its family.',
  docs: `A given property counts before the typical one, so a slip in it runs through everything reckoned from it: stretch, feed, heat. This compares modulus, yield stress, expansion, heat capacity and friction with the typical
range of the family, from published tables and from memory as the reference says, and speaks up from two or three times beyond its end. MPa for GPa is the usual slip. Ignore it where the figure was measured, and say so
in a comment. A stock with layers is no single material: its modulus and yield are not compared.`,
  check(context) {
    const { document, shelf, report } = context
    const stock = document.content
    const material = new Material(stock)
    const { family } = material
    if (!family) return
    const layered = (stock?.layers?.items.length ?? 0) > 0
    for (const { key, name, times, dimension } of FAR) {
      const given = material.property(key)
      const typical = family.property(key)?.range
      if (given?.origin !== 'given' || !typical || !given.place || (layered && (key === 'modulus' || key === 'yield'))) continue
      const value = given.range.typical
      const usual = (v: number): boolean => v >= typical.low / times && v <= typical.high * times
      if (usual(value)) continue
      // What is implausible for any stock is told already, with the slips that lead to it.
      if ([...beyond(context, 'implausible')].some(({ bad }) => bad.place.node === given.place!.node)) continue
      const units = unitsOf(shelf)
      const text = (v: number): string => (dimension === 'number' ? String(v) : valueText(v, dimension, { units }))
      const slipped = dimension === 'modulus' ? [1e-3, 1e3].map((f) => value * f).find(usual) : undefined
      const instead = slipped === undefined ? undefined : formatSi(slipped, 'modulus')
      const place = given.place
      report(
        place,
        `The ${name}, ${text(value)}, is far from what is typical of ${family.title}: ${text(typical.low)} to ${text(typical.high)}.${instead === undefined ? '' : ` ${instead} would be usual.`}`,
        { fixes: () => [instead === undefined ? undefined : fixOf(`Write ${instead}`, replaceValue(place, instead))] },
      )
    }
  },
  examples: [
    {
      name: 'a yield stress more than three times what is typical',
      text: `#- s.stock.yaml
stock: s
family: film-pet
yield: $0400 MPa$0
`,
      message: 'The yield stress, 400 MPa, is far from what is typical of Polyester (PET) film: 80 MPa to 120 MPa.',
      testOnly: true,
    },
    {
      name: 'MPa for GPa',
      text: `#- s.stock.yaml
stock: s
family: film-pet
modulus: $04.5 MPa$0
`,
      message:
        'The modulus, 4.5 MPa, is far from what is typical of Polyester (PET) film: 4 GPa to 5 GPa. 4.5 GPa would be usual.',
      after: `stock: s
family: film-pet
modulus: 4.5 GPa
`,
      fixes: ['Write 4.5 GPa'],
    },
    {
      name: 'expansion of the bulk resin',
      text: `#- s.stock.yaml
stock: s
family: film-pet
expansion: $090 ppm/K$0
`,
      message: 'The expansion, 90 ppm/K, is far from what is typical of Polyester (PET) film: 15 ppm/K to 20 ppm/K.',
    },
    {
      name: 'a measured one within reach',
      text: `#- s.stock.yaml
stock: s
family: banner-pvc
modulus: 0.15 GPa
expansion: 45 ppm/K
friction: 0.6
`,
    },
    {
      name: 'so far that it is implausible for any stock, which is told already',
      testOnly: true,
      text: `#- s.stock.yaml
stock: s
family: film-pet
modulus: 0.45 MPa
`,
    },
    {
      name: 'the modulus of film on its liner',
      testOnly: true,
      text: `#- s.stock.yaml
stock: s
family: film-pvc-cast
modulus: 2.7 GPa
layers:
  - {name: film, family: film-pvc-cast, thickness: 50 µm}
  - {name: liner, family: liner-paper, thickness: 140 µm}
`,
    },
    {
      name: 'GPa for MPa',
      text: `#- s.stock.yaml
stock: s
family: textile-knit
modulus: $03 GPa$0
`,
      message: 'The modulus, 3 GPa, is far from what is typical of Knitted textile: 5 MPa to 100 MPa. 3 MPa would be usual.',
      after: `stock: s
family: textile-knit
modulus: 3 MPa
`,
      fixes: ['Write 3 MPa'],
      testOnly: true,
    },
    {
      name: 'a friction without a unit',
      text: `#- s.stock.yaml
stock: s
family: film-pet
friction: $00.05$0
`,
      message: 'The friction, 0.05, is far from what is typical of Polyester (PET) film: 0.2 to 0.5.',
      testOnly: true,
    },
    {
      name: 'three times what is typical',
      text: `#- s.stock.yaml
stock: s
family: film-pet
modulus: 15 GPa
expansion: 40 ppm/K
`,
      testOnly: true,
    },
    {
      name: 'a third and a half of it',
      text: `#- s.stock.yaml
stock: s
family: film-pet
modulus: 1.4 GPa
expansion: 7.5 ppm/K
`,
      testOnly: true,
    },
    {
      name: 'the expansion of film on its liner',
      text: `#- s.stock.yaml
stock: s
family: film-pvc-cast
expansion: $05 ppm/K$0
layers:
  - {name: film, family: film-pvc-cast, thickness: 50 µm}
`,
      message: 'The expansion, 5 ppm/K, is far from what is typical of Cast PVC film: 70 ppm/K to 140 ppm/K.',
      testOnly: true,
    },
  ],
})
