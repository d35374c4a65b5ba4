// A check that cannot be true: a length that no machine prints, usually a slipped decimal point or a wrong unit.

import { defineRule } from '../../../rules/rule.ts'
import { feedOf, impliedOf } from '../facts.ts'

export const rule = defineRule({
  code: 'feed-check-miswritten',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: 'A feed check cannot be right as written.',
  docs: `The numbers of this check do not go together: what was measured is less than half or more than twice what was commanded, or a number is zero
or beyond anything a shop prints. The check is left out of the correction until it is mended; the others still count.`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    for (const evidence of facts.evidence) {
      const implied = impliedOf(facts, evidence)
      if (!implied || implied.ok) continue
      const { problem } = implied
      const { check } = evidence
      const at = problem.input === 'commanded' ? check.commanded : problem.input === 'applied' ? check.applied : check.measured
      report(at?.place ?? check.$, `This check is left out: ${problem.reason}.`)
    }
  },
  examples: [
    {
      name: 'a slipped decimal point',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: $099.82 mm$0, applied: 0 %}
`,
      message:
        'This check is left out: 99.82 mm was measured where about 1000 mm was to be expected; look for a slipped decimal point or a wrong unit.',
    },
    {
      name: 'a length that can be',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %}
`,
    },
    {
      name: 'nothing was commanded',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: $00.01 mm$0, measured: 998 mm, applied: 0 %}
`,
      message: 'This check is left out: a pattern is between 1 mm and 1 km long.',
      testOnly: true,
    },
  ],
})
