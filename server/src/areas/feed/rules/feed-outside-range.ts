// A correction the printer cannot take: it will be refused at the machine, or cut off without a word.
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { PERCENT_PRINTER } from '../examples.ts'
import { feedOf } from '../facts.ts'

export const rule = defineRule({
  code: 'feed-outside-range',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: "The feed correction is outside the printer's range.",
  docs: `The printer takes corrections between the two ends of its \`feed: range:\` only. A value beyond it is usually a slip. Where the checks really
ask for so much, the cause is not the feed: look at the tension, the suction, and whether the stock slips on the rollers.`,
  check({ setup, report }) {
    const { applied, range } = feedOf(setup)
    const { printer } = setup.profile
    if (!applied || !range || !printer || endPassed(applied.value.si, range, 'relative') === undefined) return
    if (toldByBase(setup, applied, printer)) return
    const percent = (v: number): string => formatSi(v, 'relative', { unit: '%', sign: true })
    report(
      applied.place,
      `${printer.value} takes feed corrections from ${percent(range[0])} to ${percent(range[1])}; ${percent(applied.value.si)} is set.`,
    )
  },
  examples: [
    {
      name: 'ten times too much',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: $0+2.4 %$0}
${PERCENT_PRINTER}`,
      message: 'p takes feed corrections from -2 % to +2 %; +2.4 % is set.',
    },
    {
      name: 'inside',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: +0.24 %}
${PERCENT_PRINTER}`,
    },
    {
      name: 'below the lower end, which is none at all',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: $0-0.01 %$0}
${PERCENT_PRINTER.replace('-2 %', '0 %')}`,
      message: 'p takes feed corrections from 0 % to +2 %; -0.01 % is set.',
      testOnly: true,
    },
    {
      name: 'the upper end, in another unit',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: 20 mm/m}
${PERCENT_PRINTER}`,
      testOnly: true,
    },
  ],
})
