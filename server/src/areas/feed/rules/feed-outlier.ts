// One check stands apart from the others: a slip of the rule, of the pen, or a jump of the machine that should be known of.

import { defineRule } from '../../../rules/rule.ts'
import { PERCENT_PRINTER } from '../examples.ts'
import { feedOf, resultOf } from '../facts.ts'
import { suspectText } from '../reckoning-check.ts'
import { capital } from '../reckoning-words.ts'
import { skipCheck } from '../shared.ts'
import { correctionText } from '../words.ts'

export const rule = defineRule({
  code: 'feed-outlier',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A feed check stands apart from the others.',
  docs: `All other checks together, with their rules, days and the scatter of the feed, predict what this one should say, and it lies so far off that fewer than one in
twenty good series would show such a check. It still counts: nothing is left out in silence. Measure again; if it was a slip, leave it out with a reason, and if the new value comes
back, something changed: the lot, the gap, a slipping roller. Of two checks that disagree neither can be named. A printer that scatters more than most is suspected more
often, as long as its document does not say so (feed.repeatability).`,
  check({ document, setup, report }) {
    const facts = feedOf(setup)
    const { reckoning } = facts
    if (!reckoning?.combined) return
    for (const evidence of facts.counted) {
      const result = resultOf(facts, evidence)
      if (result?.suspect === undefined || !result.implied) continue
      const rest = reckoning.without ? `; without it they ask for ${correctionText(facts, reckoning.without.correction)}` : ''
      const own = correctionText(facts, result.now ?? result.implied.correction)
      const reason = 'far from what the other checks predict'
      report(
        evidence.check.measured?.place ?? evidence.check.$,
        `Measure again: this check asks for ${own}, all of them together for ${correctionText(facts, reckoning.combined.correction)}${rest}. ${capital(suspectText(result.suspect))}.`,
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
        'Measure again: this check asks for -0.19 %, all of them together for +0.15 %; without it they ask for +0.23 %. Of a hundred good series not one would show a check so far from what the others predict.',
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
