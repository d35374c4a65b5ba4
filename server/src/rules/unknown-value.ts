// A word that its key does not know: the setting counts as not given.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { writeValue } from './support/fixes.ts'
import { issuesOf } from './support/issues.ts'
import { placeOfSpot } from './support/places.ts'
import { listed, quoted } from './support/words.ts'

/** No more words than these are listed. */
const MAX_NAMED = 8

export const rule = defineRule({
  code: 'unknown-value',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A word is not one that its key knows.',
  docs: `Some keys take one of a few words. Another word counts as not given: nothing is guessed of what it might mean. The words there are stand in
the message, or in the list that completion offers.`,
  check(context) {
    for (const found of issuesOf(context, 'unknown-value')) {
      const { issue, span } = found
      const near = issue.nearest
      const meant = near === undefined ? '' : `; did you mean '${near}'?`
      const words = issue.allowed.slice(0, MAX_NAMED).map((word) => `'${word}'`)
      const all =
        issue.allowed.length > MAX_NAMED ? `${words.join(', ')} and ${issue.allowed.length - MAX_NAMED} more` : listed(words)
      const many = issue.allowed.length > MAX_NAMED
      const tail = near === undefined ? `; there are ${all}.` : many ? meant : `${meant} There are ${all}.`
      context.report(span, `${quoted(issue.value)} is not known here${tail}`, {
        fixes: () => (near === undefined ? [] : [writeValue(placeOfSpot(context.document, found), near, true)]),
      })
    }
  },
  examples: [
    {
      name: 'a mistyped word',
      text: 'carriage: { turn-at: $0print-edeg$0 }\n',
      message: "'print-edeg' is not known here; did you mean 'print-edge'? There are 'print-edge', 'web-edge' and 'bed-end'.",
      after: 'carriage: { turn-at: print-edge }\n',
      fixes: ["Write 'print-edge' [preferred]"],
    },
    {
      name: 'a mistyped word of many',
      text: 'observed: [{ fault: $0bands-lite$0 }]\n',
      message: "'bands-lite' is not known here; did you mean 'bands-light'?",
      after: 'observed: [{ fault: bands-light }]\n',
      fixes: ["Write 'bands-light' [preferred]"],
    },
    {
      name: 'another word',
      text: 'web: { wound: $0sideways$0 }\n',
      message: "'sideways' is not known here; there are 'out' and 'in'.",
    },
    {
      name: 'another word of many',
      text: 'observed: [{ fault: $0ugly$0 }]\n',
      message:
        "'ugly' is not known here; there are 'bands-light', 'bands-dark', 'grain', 'double-edges', 'length-short', 'length-long', 'creases', 'slack' and 10 more.",
      testOnly: true,
    },
    {
      name: 'a word that has another name now',
      text: 'web: { slack-watch: $0none$0 }\n',
      message: "'none' is not known here; did you mean 'never'? There are 'never', 'start-of-job', 'at-intervals' and 'always'.",
      after: 'web: { slack-watch: never }\n',
      fixes: ["Write 'never' [preferred]"],
      testOnly: true,
    },
    { name: 'known words', text: 'carriage: { turn-at: print-edge }\nobserved: [{ fault: bands-light }]\n' },
    {
      name: 'nothing is like it',
      text: 'carriage: { turn-at: $0fast$0 }\n',
      message: "'fast' is not known here; there are 'print-edge', 'web-edge' and 'bed-end'.",
      testOnly: true,
    },
  ],
})
