// The checks agree, but not closely enough to promise the shop's tolerance: the pattern is too short or the rule too coarse.

import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { EXAMPLE_SHOP, HERE, PLAIN_PAIR } from '../examples.ts'
import { feedOf } from '../facts.ts'
import { verdictOf } from '../verdict.ts'
import { toDoSentences } from '../verdict-words.ts'

const HEAD = 'profile: e\nstock: s\nprinter: p\nmode: m\n'

export const rule = defineRule({
  code: 'feed-imprecise',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: "The feed checks cannot prove the shop's length tolerance.",
  docs: `What checks prove is limited by the rule (its division at both ends of the pattern, its limit of error, the temperature of rule and web) and by how far the feed itself
scatters from print to print. The probability is that a print made now keeps the tolerance; the shop says which it asks for (tolerance.risk). More checks with the same rule do not help
beyond a point, because they share its error; a longer pattern or a better rule does. More prints on other days tell how far the feed scatters. Where the feed scatters
too much for the tolerance, no print proves it. Ignore it where prints are not measured by anyone.
${READ_PATTERN}`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    const { doubtful } = verdictOf(facts)
    if (doubtful !== 'few' && doubtful !== 'between') return
    const at = facts.newest?.check.measured?.place ?? setup.own.feed?.checks?.$
    if (at) report(at, toDoSentences(facts).join(' '))
  },
  examples: [
    {
      name: 'one check',
      text: `#- e.media.yaml
${HEAD}feed:
  correction: +0.18 %
  checks:
    - {date: 2026-03-24, commanded: 500 mm, measured: $0499.1 mm$0, applied: 0 %, with: rule-1m, web: 23 °C, under: here}
${HERE}${PLAIN_PAIR}${EXAMPLE_SHOP}`,
      message:
        "Print 2 more, each on another day. Doubtful: 1 print cannot tell how far this feed scatters from print to print, and the printer's document does not (feed.repeatability).",
    },
    {
      name: 'three with a coarse rule',
      text: `#- e.media.yaml
${HEAD}feed:
  correction: +0.21 %
  checks:
    - {date: 2026-03-22, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m, web: 23 °C, under: here}
    - {date: 2026-03-23, commanded: 1000 mm, measured: 997.8 mm, applied: 0 %, with: rule-1m, web: 23 °C, under: here}
    - {date: 2026-03-24, commanded: 1000 mm, measured: $0997.9 mm$0, applied: 0 %, with: rule-1m, web: 23 °C, under: here}
${HERE}${PLAIN_PAIR}${EXAMPLE_SHOP}`,
      message:
        "Print the pattern with today's settings, measure it with the best rule there is, and add it to feed, checks. Doubtful: 79 % of prints come out within 0.5 mm per metre, and 95 % are asked for.",
    },
    {
      name: 'four with a good rule over two metres',
      text: `#- e.media.yaml
${HEAD}feed:
  correction: +0.21 %
  checks:
    - {date: 2026-03-21, commanded: 2000 mm, measured: 1995.9 mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}
    - {date: 2026-03-22, commanded: 2000 mm, measured: 1995.8 mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}
    - {date: 2026-03-23, commanded: 2000 mm, measured: 1995.7 mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1995.8 mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}
${HERE}${PLAIN_PAIR}${EXAMPLE_SHOP}`,
    },
    {
      name: 'made under other conditions',
      testOnly: true,
      text: `#- e.media.yaml
${HEAD}feed:
  correction: +0.18 %
  checks:
    - {date: 2026-03-24, commanded: 500 mm, measured: 499.1 mm, applied: 0 %, with: rule-1m, web: 23 °C}
${PLAIN_PAIR}${EXAMPLE_SHOP}`,
    },
  ],
})
