// One check stands apart from the others: a slip of the rule, of the pen, or a jump of the machine that should be known of.

import { defineRule } from '../../../rules/rule.ts'
import { PERCENT_PRINTER } from '../examples.ts'
import { feedOf, resultOf } from '../facts.ts'
import { skipCheck } from '../shared.ts'
import { correctionText } from '../words.ts'

export const rule = defineRule({
  code: 'feed-outlier',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A feed check stands apart from the others.',
  docs: `By the outlier test (Grubbs, or Rosner from fifteen checks on, 5 % two-sided) this check is not one of the family. It still counts: nothing is left out in
silence. Measure again; if it was a slip, leave it out with a reason, and if the new value comes back, something changed: the lot, the gap, a slipping roller.
Three or four checks are too few for the test to say much.`,
  check({ document, setup, report }) {
    const facts = feedOf(setup)
    const { reckoning } = facts
    if (!reckoning?.combined) return
    for (const evidence of facts.counted) {
      const result = resultOf(facts, evidence)
      if (!result?.suspect || !result.implied) continue
      const { statistic, critical } = result.suspect
      const rest = reckoning.without ? `; without it they ask for ${correctionText(facts, reckoning.without.correction)}` : ''
      const own = correctionText(facts, result.implied.correction)
      const reason = `apart from the others by ${statistic.toFixed(1)} standard deviations`
      report(
        evidence.check.measured?.place ?? evidence.check.$,
        `This check asks for ${own}, all of them together for ${correctionText(facts, reckoning.combined.correction)}${rest}. It stands ${statistic.toFixed(1)} standard deviations apart, and ${critical.toFixed(1)} would be usual at most.`,
        { fixes: () => [skipCheck(document, evidence, reason)] },
      )
    }
  },
  examples: [
    {
      name: 'a slip of the rule',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000.2 mm, applied: +0.25 %}
    - {date: 2026-03-21, commanded: 1000 mm, measured: 1000.3 mm, applied: +0.25 %}
    - {date: 2026-03-22, commanded: 1000 mm, measured: 1000.1 mm, applied: +0.25 %}
    - {date: 2026-03-23, commanded: 1000 mm, measured: 1000.2 mm, applied: +0.25 %}
    - {date: 2026-03-24, commanded: 1000 mm, measured: $01004.4 mm$0, applied: +0.25 %}
${PERCENT_PRINTER}`,
      message:
        'This check asks for -0.19 %, all of them together for +0.15 %; without it they ask for +0.23 %. It stands 1.8 standard deviations apart, and 1.7 would be usual at most.',
      fixes: ['Leave this check out, with a reason'],
    },
    {
      name: 'left out with a reason',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000.2 mm, applied: +0.25 %}
    - {date: 2026-03-21, commanded: 1000 mm, measured: 1000.3 mm, applied: +0.25 %}
    - {date: 2026-03-22, commanded: 1000 mm, measured: 1000.1 mm, applied: +0.25 %}
    - {date: 2026-03-23, commanded: 1000 mm, measured: 1000.2 mm, applied: +0.25 %}
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1004.4 mm, applied: +0.25 %, skip: rule slipped}
${PERCENT_PRINTER}`,
    },
  ],
})
