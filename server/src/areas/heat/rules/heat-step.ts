// A heater is set to a temperature between two steps of the printer.

import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { heatOf } from '../facts.ts'
import { HEATER } from '../path.ts'
import { EXAMPLE_HEAD, EXAMPLE_PRINTER, heatToldByBase, inUnitOf, onExample, onStep, setHeat, setText } from '../shared.ts'

export const rule = defineRule({
  code: 'heat-step',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'A temperature lies between two steps of its heater.',
  docs: `The machine takes whole steps only, so whoever keys it in rounds, up or down as they like, and the file and the machine no longer agree. Half a step hardly shows
on the print: write what is keyed in. Ignore it where the profile is written in other units than the machine's panel.`,
  check({ document, setup, report }) {
    for (const zone of heatOf(setup).zones) {
      const { set, step, range, heater } = zone
      if (!set || !step || !heater?.step || heatToldByBase(setup, zone)) continue
      const { si } = set.value
      if (range && (si < range[0] || si > range[1])) continue
      const nearest = onStep(zone, si)
      if (Math.abs(nearest - si) <= step * PLAY) continue
      report(
        set.place,
        `The ${HEATER[zone.zone]} is set in steps of ${formatQuantity(heater.step.value)}: ${setText(zone)} lies between two, and ${inUnitOf(zone, nearest)} is nearest.`,
        { fixes: () => [setHeat(document, zone, nearest, true)] },
      )
    }
  },
  examples: [
    {
      name: 'half a degree',
      text: onExample('heat:\n  platen: $042.4 °C$0\n'),
      message: 'The heater of the platen is set in steps of 1 K: 42.4 °C lies between two, and 42 °C is nearest.',
      after: `${EXAMPLE_HEAD}heat:\n  platen: 42 °C\n`,
      fixes: ['Set heat.platen to 42 °C [preferred]'],
    },
    {
      name: 'in °F',
      text: onExample('heat: {after: $0105 °F$0}\n'),
      message: 'The heater behind the platen is set in steps of 1 K: 105 °F lies between two, and 105.8 °F is nearest.',
      after: `${EXAMPLE_HEAD}heat: {after: 105.8 °F}\n`,
      fixes: ['Set heat.after to 105.8 °F [preferred]'],
      testOnly: true,
    },
    {
      name: 'on a step of a machine that counts in °F',
      text: onExample('heat: {after: 180 °F}\n').replace(
        /after: \{length: 450 mm, range: .*? step: 1 K/,
        'after: {length: 450 mm, range: [100 °F, 200 °F], step: 1 °F',
      ),
      testOnly: true,
    },
    {
      name: 'between two steps of a machine that counts in °F',
      text: onExample('heat: {after: $0180.5 °F$0}\n').replace(
        /after: \{length: 450 mm, range: .*? step: 1 K/,
        'after: {length: 450 mm, range: [100 °F, 200 °F], step: 1 °F',
      ),
      message: 'The heater behind the platen is set in steps of 1 °F: 180.5 °F lies between two, and 180 °F is nearest.',
      fixes: ['Set heat.after to 180 °F [preferred]'],
      testOnly: true,
    },
    { name: 'on a step', text: onExample('heat: {before: 36 °C, platen: 42 °C, after: 118.4 °F}\n') },
    { name: 'outside the range already', text: onExample('heat: {platen: 66.5 °C}\n'), testOnly: true },
    {
      name: 'at both ends of a range between two steps',
      text: onExample(
        'heat: {before: 30.4 °C, platen: $060.4 °C$0}\n',
        undefined,
        EXAMPLE_PRINTER.replace('[30 °C, 70 °C]', '[30.4 °C, 70 °C]').replace('[30 °C, 60 °C]', '[30 °C, 60.4 °C]'),
      ),
      message: 'The heater of the platen is set in steps of 1 K: 60.4 °C lies between two, and 60 °C is nearest.',
      after: `${EXAMPLE_HEAD}heat: {before: 30.4 °C, platen: 60 °C}
`,
      fixes: ['Set heat.platen to 60 °C [preferred]'],
      testOnly: true,
    },
  ],
})

/** Share of a step that a change of unit and its rounding may leave. */
const PLAY = 0.05
