// A web speed the printer cannot move at.
import { valueText } from '../../../model/range-words.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { LEVEL_PRINTER } from '../examples.ts'
import { webOf } from '../facts.ts'
import { speedRangeText } from '../words.ts'

export const rule = defineRule({
  code: 'web-speed-outside',
  severity: 'error',
  risk: 'look',
  kinds: ['media'],
  summary: 'The web speed is beyond what the printer moves at.',
  docs: `The printer's document gives the slowest and the fastest speed at which it moves the web. A speed beyond them cannot be keyed in, or is cut off without a word. Often a unit slipped: mm/s for m/min is a
factor of 17.`,
  check({ document, setup, report }) {
    const given = setup.profile.web?.speed
    const { printer } = setup.profile
    const { speedRange } = webOf(setup)
    const ends = setup.printer?.web?.['speed-range']?.items
    if (!given || !printer || !speedRange || !ends) return
    const end = endPassed(given.value.si, speedRange, 'speed')
    if (end === undefined || toldByBase(setup, given, printer)) return
    const { units } = setup.shop
    const text = formatQuantity(ends[end]!.value)
    report(
      given.place,
      `${printer.value} moves the web at ${speedRangeText(speedRange, units)}; ${valueText(given.value.si, 'speed', { units })} is set.`,
      { fixes: () => [writeSetting(document, ['web', 'speed'], text, `Set the speed to ${text}`)] },
    )
  },
  examples: [
    {
      name: 'metres a minute written as millimetres a second',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, speed: $03.6 mm/s$0}
${LEVEL_PRINTER}`,
      message: 'p moves the web at 20 mm/s to 120 mm/s; 3.6 mm/s is set.',
      after: `profile: e
printer: p
web: {tension: 2, speed: 20 mm/s}
`,
      fixes: ['Set the speed to 20 mm/s'],
    },
    {
      name: 'the same speed with its unit',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, speed: 3.6 m/min}
${LEVEL_PRINTER}`,
    },
    {
      name: 'the ends, in another unit',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, speed: 7.2 m/min}
${LEVEL_PRINTER}`,
      testOnly: true,
    },
    {
      name: 'too fast',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, speed: $07.3 m/min$0}
${LEVEL_PRINTER}`,
      message: 'p moves the web at 20 mm/s to 120 mm/s; 122 mm/s is set.',
      fixes: ['Set the speed to 120 mm/s'],
      testOnly: true,
    },
  ],
})
