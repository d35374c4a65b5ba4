// The heater behind the platen is cooler than the platen.

import { defineRule } from '../../../rules/rule.ts'
import { heatOf } from '../facts.ts'
import { EXAMPLE_HEAD, heatToldByBase, onExample, setHeat, setText } from '../shared.ts'

export const rule = defineRule({
  code: 'after-below-platen',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The heater behind the platen is set cooler than the platen.',
  docs: `The platen fixes the dots, the heater behind it drives off what is left of the ink's water or solvent. A print that cools there skins over and is wound up with it inside: it
blocks in the roll, curls and smells (common practice). Set it at least as warm as the platen, within what the stock bears. Ignore it for inks that are cured otherwise, or where the
drying is done by air. Caution: solvent left in a roll comes out later, where nobody expects it; ventilate, and follow the safety data sheet of the ink.`,
  check({ document, setup, report }) {
    const { zones, limit } = heatOf(setup)
    const [platen, after] = [zones.find((z) => z.zone === 'platen'), zones.find((z) => z.zone === 'after')]
    if (!platen?.set || !after?.set || !platen.heater || !after.heater) return
    const warm = platen.set.value.si
    if (after.set.value.si >= warm || heatToldByBase(setup, platen, after)) return
    const fits = (!after.range || (warm >= after.range[0] && warm <= after.range[1])) && (!limit || warm <= limit.range.low)
    report(
      after.set.place,
      `The heater behind the platen is set to ${setText(after)} and the platen to ${setText(platen)}: the print cools before it is dry, and water or solvent stays in it.`,
      { fixes: () => (fits ? [setHeat(document, after, warm)] : []) },
    )
  },
  examples: [
    {
      name: 'cooler behind than on it',
      text: onExample('heat:\n  platen: 42 °C\n  after: $036 °C$0\n'),
      message:
        'The heater behind the platen is set to 36 °C and the platen to 42 °C: the print cools before it is dry, and water or solvent stays in it.',
      after: `${EXAMPLE_HEAD}heat:\n  platen: 42 °C\n  after: 42 °C\n`,
      fixes: ['Set heat.after to 42 °C'],
    },
    { name: 'the same', text: onExample('heat: {platen: 42 °C, after: 107.6 °F}\n') },
    {
      name: 'a printer without that heater',
      text: onExample(
        'heat: {platen: 42 °C, after: 36 °C}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}}\n',
      ),
      testOnly: true,
    },
    {
      name: 'the heater takes no such heat',
      text: onExample(
        'heat: {platen: 42 °C, after: $036 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, after: {length: 450 mm, range: [30 °C, 40 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 36 °C and the platen to 42 °C: the print cools before it is dry, and water or solvent stays in it.',
      testOnly: true,
    },
    {
      name: 'the heater begins above it',
      text: onExample(
        'heat: {platen: 32 °C, after: $031 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, after: {length: 450 mm, range: [35 °C, 60 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 31 °C and the platen to 32 °C: the print cools before it is dry, and water or solvent stays in it.',
      testOnly: true,
    },
    {
      name: 'at the upper end of the heater',
      text: onExample(
        'heat: {platen: 42 °C, after: $036 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, after: {length: 450 mm, range: [30 °C, 42 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 36 °C and the platen to 42 °C: the print cools before it is dry, and water or solvent stays in it.',
      after: `${EXAMPLE_HEAD}heat: {platen: 42 °C, after: 42 °C}
`,
      fixes: ['Set heat.after to 42 °C'],
      testOnly: true,
    },
    {
      name: 'at the lower end of the heater',
      text: onExample(
        'heat: {platen: 42 °C, after: $036 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, after: {length: 450 mm, range: [42 °C, 60 °C]}}\n',
      ),
      message:
        'The heater behind the platen is set to 36 °C and the platen to 42 °C: the print cools before it is dry, and water or solvent stays in it.',
      after: `${EXAMPLE_HEAD}heat: {platen: 42 °C, after: 42 °C}
`,
      fixes: ['Set heat.after to 42 °C'],
      testOnly: true,
    },
    {
      name: 'the platen is hotter than the stock bears',
      text: onExample('heat: {platen: 52 °C, after: $045 °C$0}\n'),
      message:
        'The heater behind the platen is set to 45 °C and the platen to 52 °C: the print cools before it is dry, and water or solvent stays in it.',
      testOnly: true,
    },
    {
      name: 'the platen is as hot as the stock bears',
      text: onExample('heat: {platen: 50 °C, after: $045 °C$0}\n'),
      message:
        'The heater behind the platen is set to 45 °C and the platen to 50 °C: the print cools before it is dry, and water or solvent stays in it.',
      after: `${EXAMPLE_HEAD}heat: {platen: 50 °C, after: 50 °C}
`,
      fixes: ['Set heat.after to 50 °C'],
      testOnly: true,
    },
  ],
})
