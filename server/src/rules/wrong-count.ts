// A list with too few or too many entries: a range of one end, a pair of three.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { issuesOf } from './support/issues.ts'
import { schemaOfSpot } from './support/places.ts'
import { plural } from './support/words.ts'

export const rule = defineRule({
  code: 'wrong-count',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A list has too few or too many entries.',
  docs: `A range has two ends, the lower one first. With one or three of them nobody can tell what holds, and the range counts as not given.`,
  check(context) {
    for (const found of issuesOf(context, 'wrong-count')) {
      const { least, most, found: count } = found.issue
      const schema = schemaOfSpot(context.document, found)
      const rising = schema?.kind === 'list' && schema.rising
      const due =
        least === most
          ? `${plural(least, 'value')}${rising ? ', the lowest and the highest' : ''}`
          : `at least ${plural(least, 'value')}`
      context.report(
        found.span,
        `'${found.name ?? 'The list'}' takes ${due}; here ${count === 1 ? 'is' : 'are'} ${count || 'none'}.`,
      )
    }
  },
  examples: [
    {
      name: 'a range of one end',
      text: '#- rollbook.yaml\nclimate: { humidity: $0[60 %RH]$0 }\n',
      message: "'humidity' takes 2 values, the lowest and the highest; here is 1.",
    },
    {
      name: 'no picks',
      text: 'feed: { fine: { picks: $0[]$0 } }\n',
      message: "'picks' takes at least 1 value; here are none.",
    },
    { name: 'two ends', text: '#- rollbook.yaml\nclimate: { humidity: [40 %RH, 60 %RH] }\n' },
  ],
})
