// A heater is set to a temperature that the printer cannot be set to.

import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { heatOf } from '../facts.ts'
import { HEATER } from '../path.ts'
import { EXAMPLE_HEAD, heatToldByBase, inUnitOf, onExample, setHeat, setText } from '../shared.ts'

export const rule = defineRule({
  code: 'heat-outside-printer',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'A heater is set outside the range the printer has.',
  docs: `The number cannot be keyed in, so the machine prints with another one than the profile says, and nobody knows with which. Set what the heater takes, and read
the web's temperature there once more. Never open a guard or bridge a control to reach a temperature: the safety documents of the machine come first. Where the
printer's own document is wrong, mend the range there.`,
  check({ document, setup, report }) {
    const { zones, limit } = heatOf(setup)
    for (const zone of zones) {
      const { set, range } = zone
      if (!set || !range || heatToldByBase(setup, zone)) continue
      const end = endPassed(set.value.si, range, 'temperature')
      if (end === undefined) continue
      const [low, high] = range
      const bound = range[end]
      const fixes = () => (limit && bound > limit.range.low ? [] : [setHeat(document, zone, bound)])
      report(
        set.place,
        `The ${HEATER[zone.zone]} takes ${inUnitOf(zone, low)} to ${inUnitOf(zone, high)}, and ${setText(zone)} is set.`,
        { fixes },
      )
    }
  },
  examples: [
    {
      name: 'above what the heater takes',
      text: onExample('heat: {platen: $065 °C$0}\n', STURDY()),
      message: 'The heater of the platen takes 30 °C to 60 °C, and 65 °C is set.',
      after: `${EXAMPLE_HEAD}heat: {platen: 60 °C}\n`,
      fixes: ['Set heat.platen to 60 °C'],
    },
    {
      name: 'below it, in °F',
      text: onExample('heat:\n  after: $077 °F$0   # barely warm\n'),
      message: 'The heater behind the platen takes 86 °F to 194 °F, and 77 °F is set.',
      after: `${EXAMPLE_HEAD}heat:\n  after: 86 °F   # barely warm\n`,
      fixes: ['Set heat.after to 86 °F'],
    },
    {
      name: 'taken from a base',
      text: `#- e.media.yaml
profile: e
base: $0b$0
stock: s
#- b.media.yaml
profile: b
stock: other
printer: p
mode: m
heat: {platen: 65 °C}
${onExample('', STURDY()).split('mode: m\n').slice(1).join('mode: m\n')}`,
      message: 'The heater of the platen takes 30 °C to 60 °C, and 65 °C is set.',
      after: `profile: e
base: b
stock: s
heat: { platen: 60 °C }
`,
      fixes: ['Set heat.platen to 60 °C'],
      related: ['The value stands here. 65 °C'],
      testOnly: true,
    },
    { name: 'at the end of the range', text: onExample('heat: {before: 30 °C, platen: 40 °C, after: 90 °C}\n') },
    { name: 'a printer that gives no range', text: onExample('heat: {platen: 65 °C}\n', undefined, NO_RANGE()), testOnly: true },
    {
      name: 'the ends in °F',
      text: onExample('heat: {before: 86 °F, platen: 104 °F, after: 194 °F}\n', STURDY()),
      testOnly: true,
    },
    {
      name: 'above what a stock bears too',
      text: onExample('heat: {platen: $065 °C$0}\n', STURDY().replace('95', '59')),
      message: 'The heater of the platen takes 30 °C to 60 °C, and 65 °C is set.',
      testOnly: true,
    },
    {
      name: 'the end is what the stock bears',
      text: onExample('heat: {platen: $065 °C$0}\n', STURDY().replace('95', '60')),
      message: 'The heater of the platen takes 30 °C to 60 °C, and 65 °C is set.',
      fixes: ['Set heat.platen to 60 °C'],
      testOnly: true,
    },
  ],
})

function STURDY(): string {
  return '#- s.stock.yaml\nstock: s\nfamily: film-pet\nmax-web-temperature: 95 °C\n'
}

function NO_RANGE(): string {
  return '#- p.printer.yaml\nprinter: p\nheaters:\n  platen: {length: 200 mm}\n'
}
