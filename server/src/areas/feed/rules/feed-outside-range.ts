// A correction the printer cannot take: it will be refused at the machine, or cut off without a word.

import { defineRule } from '../../../rules/rule.ts'
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
    if (!applied || !range) return
    const { si } = applied.value
    if (si >= range[0] - 1e-12 && si <= range[1] + 1e-12) return
    const percent = (v: number): string => `${v > 0 ? '+' : ''}${Number((v * 100).toPrecision(6))} %`
    report(
      applied.place,
      `${setup.profile.printer?.value ?? 'The printer'} takes feed corrections from ${percent(range[0])} to ${percent(range[1])}; ${percent(si)} is set.`,
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
  ],
})
