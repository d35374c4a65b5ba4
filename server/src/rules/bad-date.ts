// A date that is none: the age of a check cannot be told.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { writeValue } from './support/fixes.ts'
import { issuesOf } from './support/issues.ts'
import { placeOfSpot } from './support/places.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'bad-date',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A date cannot be read, or is not in the calendar.',
  docs: `Dates are written year, month, day: \`2026-03-14\`. With the day or the month in front, 3/4 is March to one reader and April to another, so
only an order beyond doubt is offered. A check whose date cannot be read proves nothing, since nobody knows how old it is.`,
  check(context) {
    for (const found of issuesOf(context, 'bad-date')) {
      const { issue, span } = found
      const right = issue.suggestion
      const looksRight = /^\d{4}-\d{2}-\d{2}$/.test(issue.value)
      const what = looksRight
        ? `There is no ${issue.value} in the calendar`
        : `${quoted(issue.value)} is not a date as it is written here`
      const how =
        right !== undefined ? `; did you mean '${right}'?` : looksRight ? '.' : '; write year, month and day, as in 2026-03-14.'
      context.report(span, `${what}${how}`, {
        fixes: () => (right === undefined ? [] : [writeValue(placeOfSpot(context.document, found), right, true)]),
      })
    }
  },
  examples: [
    {
      name: 'points for hyphens',
      text: 'keyed: [{ date: $02026.3.14$0 }]\n',
      message: "'2026.3.14' is not a date as it is written here; did you mean '2026-03-14'?",
      after: 'keyed: [{ date: 2026-03-14 }]\n',
      fixes: ["Write '2026-03-14' [preferred]"],
    },
    {
      name: 'a day too many',
      text: 'keyed: [{ date: $02026-02-30$0 }]\n',
      message: 'There is no 2026-02-30 in the calendar.',
    },
    {
      name: 'day or month first',
      text: 'keyed: [{ date: $003/04/2026$0 }]\n',
      message: "'03/04/2026' is not a date as it is written here; write year, month and day, as in 2026-03-14.",
    },
    { name: 'year, month, day', text: 'keyed: [{ date: 2026-03-14 }]\n' },
  ],
})
