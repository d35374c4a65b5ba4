// The heater ahead of the platen is hotter than the platen.
import { thermalGrowth } from '../../../calc/heat-effects.ts'
import { rangeText, strainWords } from '../../../model/range-words.ts'
import { defineRule } from '../../../rules/rule.ts'
import { heatOf } from '../facts.ts'
import { EXAMPLE_FILM, EXAMPLE_HEAD, heatToldByBase, onExample, setHeat, setText } from '../shared.ts'

/** K of cooling on the platen that no thermometer tells from none. */
const COOLING = 1

export const rule = defineRule({
  code: 'before-above-platen',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The heater ahead of the platen is set hotter than the platen.',
  docs: `The heater ahead of the platen is there so that the web has finished growing before it is measured out by the feed. Set hotter than the platen it does the opposite: the web
cools and shrinks under the heads while it is printed, so passes of one swath land apart and the feed correction depends on the speed (common practice). Set it to the platen's
temperature or a little below. Ignore it for thick stock that cools on the way, or where readings show the web no warmer there than on the platen.`,
  check({ document, setup, report }) {
    const { zones } = heatOf(setup)
    const [before, platen] = [zones.find((z) => z.zone === 'before'), zones.find((z) => z.zone === 'platen')]
    if (!before?.set || !platen?.set || !before.heater || !platen.heater) return
    const warm = platen.set.value.si
    if (before.set.value.si <= warm || heatToldByBase(setup, before, platen)) return
    const [from, to] = [before.web, platen.web]
    if (from.ok && to.ok && from.value.leave.typical - to.value.leave.typical < COOLING) return
    const expansion = setup.material.property('expansion')?.range
    const growth =
      from.ok && to.ok && expansion
        ? thermalGrowth({ expansion, from: to.value.leave.typical, to: from.value.leave.typical })
        : undefined
    const shrinks = growth?.ok ? ` by ${rangeText(growth.value, 'relative', strainWords(setup.shop.units))}` : ''
    const fits = !before.range || (warm >= before.range[0] && warm <= before.range[1])
    report(
      before.set.place,
      `The heater ahead of the platen is set to ${setText(before)} and the platen to ${setText(platen)}: the web cools and shrinks${shrinks} while it is printed.`,
      { fixes: () => (fits ? [setHeat(document, before, warm)] : []) },
    )
  },
  examples: [
    {
      name: 'hotter ahead than on it',
      text: onExample('heat:\n  before: $048 °C$0\n  platen: 40 °C\n'),
      message:
        'The heater ahead of the platen is set to 48 °C and the platen to 40 °C: the web cools and shrinks by 0.42 mm/m while it is printed.',
      after: `${EXAMPLE_HEAD}heat:\n  before: 40 °C\n  platen: 40 °C\n`,
      fixes: ['Set heat.before to 40 °C'],
    },
    { name: 'rising', text: onExample('heat: {before: 38 °C, platen: 40 °C, after: 46 °C}\n') },
    {
      name: 'hotter set, but the web is no warmer there',
      text: onExample('heat: {before: 41 °C, platen: 40 °C}\n'),
      testOnly: true,
    },
    {
      name: 'the heater takes no such heat',
      text: onExample(
        'heat: {before: $048 °C$0, platen: 40 °C}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, before: {length: 250 mm, range: [45 °C, 70 °C]}}\n',
      ),
      message:
        'The heater ahead of the platen is set to 48 °C and the platen to 40 °C: the web cools and shrinks while it is printed.',
      testOnly: true,
    },
    {
      name: 'the heater ends below it',
      text: onExample(
        'heat: {before: $048 °C$0, platen: 40 °C}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, before: {length: 250 mm, range: [30 °C, 39 °C]}}\n',
      ),
      message:
        'The heater ahead of the platen is set to 48 °C and the platen to 40 °C: the web cools and shrinks while it is printed.',
      testOnly: true,
    },
    {
      name: 'at the lower end of the heater',
      text: onExample(
        'heat: {before: $048 °C$0, platen: 40 °C}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, before: {length: 250 mm, range: [40 °C, 70 °C]}}\n',
      ),
      message:
        'The heater ahead of the platen is set to 48 °C and the platen to 40 °C: the web cools and shrinks while it is printed.',
      after: `${EXAMPLE_HEAD}heat: {before: 40 °C, platen: 40 °C}
`,
      fixes: ['Set heat.before to 40 °C'],
      testOnly: true,
    },
    {
      name: 'at the upper end of the heater',
      text: onExample(
        'heat: {before: $048 °C$0, platen: 40 °C}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {platen: {length: 200 mm}, before: {length: 250 mm, range: [30 °C, 40 °C]}}\n',
      ),
      message:
        'The heater ahead of the platen is set to 48 °C and the platen to 40 °C: the web cools and shrinks while it is printed.',
      after: `${EXAMPLE_HEAD}heat: {before: 40 °C, platen: 40 °C}
`,
      fixes: ['Set heat.before to 40 °C'],
      testOnly: true,
    },
    {
      name: 'the same',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
heat: {before: 40 °C, platen: 40 °C}
${EXAMPLE_FILM}#- p.printer.yaml
printer: p
heaters: {platen: {length: 200 mm}, before: {length: 250 mm}}
`,
      testOnly: true,
    },
    {
      name: 'the web is a little warmer there',
      text: onExample('heat: {before: $043 °C$0, platen: 40 °C}\n'),
      message:
        'The heater ahead of the platen is set to 43 °C and the platen to 40 °C: the web cools and shrinks by 0.12 mm/m while it is printed.',
      after: `${EXAMPLE_HEAD}heat: {before: 40 °C, platen: 40 °C}
`,
      fixes: ['Set heat.before to 40 °C'],
      testOnly: true,
    },
    {
      name: 'no heater ahead',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
heat: {before: 48 °C, platen: 40 °C}
${EXAMPLE_FILM}#- p.printer.yaml
printer: p
heaters: {platen: {length: 200 mm}}
`,
      testOnly: true,
    },
  ],
})
