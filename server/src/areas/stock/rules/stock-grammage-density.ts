// Grammage and thickness of a stock make a density that its material does not have.

import type { Range } from '../../../calc/range.ts'
import { densityOf, grammageOf } from '../../../calc/roll.ts'
import { familyOf } from '../../../model/families.ts'
import type { StockDocument } from '../../../model/generated/documents.ts'
import { Material } from '../../../model/material.ts'
import { valueText } from '../../../model/range-words.ts'
import { defineRule } from '../../../rules/rule.ts'
import { unitsOf } from '../shared.ts'

/** How far beyond the typical range a density must lie: coatings and fillers move it. */
const MARGIN = 0.25

export const rule = defineRule({
  code: 'stock-grammage-density',
  severity: 'hint',
  kinds: ['stock'],
  summary: 'Grammage and thickness make a density unlike that of the material.',
  docs: `Grammage over thickness is the density (ISO 534). Both are those of everything that runs through the printer. A density far from the typical range of the family, by more than a quarter, means that one of the two is
for another sheet: film alone in one and liner in the other, or a unit that slipped. Ignore it for foamed film, which is lighter.`,
  check({ document, shelf, report }) {
    const stock = document.content
    const { grammage, thickness } = stock ?? {}
    const typical = stock && typicalDensity(stock)
    if (!grammage || !thickness || !typical) return
    const density = densityOf({ grammage: grammage.value.si, thickness: thickness.value.si })
    if (!density.ok || (density.value >= typical.low * (1 - MARGIN) && density.value <= typical.high * (1 + MARGIN))) return
    const units = unitsOf(shelf)
    const usual = grammageOf({ density: typical.typical, thickness: thickness.value.si })
    const instead = usual.ok
      ? ` At this thickness ${valueText(usual.value, 'grammage', { units, digits: 2 })} would be usual.`
      : ''
    const dense = (value: number): string => valueText(value, 'density', { units })
    report(
      grammage.place,
      `${valueText(grammage.value.si, 'grammage', { units })} over ${valueText(thickness.value.si, 'length', { units })} is a density of ${dense(density.value)}; typical of this material is ${number(dense(typical.low))} to ${dense(typical.high)}.${instead}`,
    )
  },
  examples: [
    {
      name: 'grammage of the film, thickness with liner',
      text: `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 215 µm
grammage: $070 g/m²$0
`,
      message:
        '70 g/m² over 215 µm is a density of 326 kg/m³; typical of this material is 1300 to 1400 kg/m³. At this thickness 290 g/m² would be usual.',
    },
    {
      name: 'both with liner',
      text: `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 215 µm
grammage: 248 g/m²
layers:
  - {name: film, family: film-pvc-cast, thickness: 50 µm}
  - {name: adhesive, family: adhesive, thickness: 25 µm}
  - {name: liner, family: liner-paper, thickness: 140 µm}
`,
    },
    {
      name: 'no family to compare with',
      testOnly: true,
      text: `#- s.stock.yaml
stock: s
thickness: 215 µm
grammage: 7 g/m²
`,
    },
    {
      name: 'layers, of which one was forgotten',
      text: `#- s.stock.yaml
stock: s
thickness: 215 µm
grammage: $0120 g/m²$0
layers:
  - {name: film, family: film-pvc-cast, thickness: 50 µm}
  - {name: liner, family: liner-paper, thickness: 140 µm}
`,
      message:
        '120 g/m² over 215 µm is a density of 558 kg/m³; typical of this material is 968 to 1220 kg/m³. At this thickness 230 g/m² would be usual.',
      testOnly: true,
    },
    {
      name: 'layers of which one has no thickness',
      text: `#- s.stock.yaml
stock: s
thickness: 215 µm
grammage: 12 g/m²
layers:
  - {name: film, family: film-pvc-cast}
  - {name: liner, family: liner-paper, thickness: 140 µm}
`,
      testOnly: true,
    },
    {
      name: 'heavier than can be',
      text: `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 100 µm
grammage: $0187 g/m²$0
`,
      message:
        '187 g/m² over 100 µm is a density of 1870 kg/m³; typical of this material is 1300 to 1400 kg/m³. At this thickness 140 g/m² would be usual.',
      testOnly: true,
    },
  ],
})

/** The range of the layers' densities by thickness; that of the family where there are none. */
function typicalDensity(stock: StockDocument): Range | undefined {
  const layers = stock.layers?.items ?? []
  if (layers.length === 0) return new Material(stock).property('density')?.range
  const parts = layers.map((layer) => ({
    thickness: layer.thickness?.value.si,
    density: layer.family && familyOf(layer.family.value)?.property('density')?.range,
  }))
  if (!parts.every((part) => part.thickness !== undefined && part.density)) return undefined
  const total = parts.reduce((sum, part) => sum + part.thickness!, 0)
  const at = (end: keyof Range): number => parts.reduce((sum, part) => sum + part.density![end] * part.thickness!, 0) / total
  const range = { low: at('low'), typical: at('typical'), high: at('high') }
  return Number.isFinite(range.typical) ? range : undefined
}

const number = (text: string): string => text.slice(0, text.indexOf(' '))
