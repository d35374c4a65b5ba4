// All feed checks were made under other conditions than today's, and nothing brings them here: the number is one to expect, and proves nothing.
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { HERE, PLAIN_PAIR } from '../examples.ts'
import { feedOf } from '../facts.ts'
import { measuredElsewhere } from '../verdict.ts'
import { toDoSentences } from '../verdict-words.ts'

/** A cloth lets the air through: its drag cannot be reckoned. */
const UNKNOWN_DRAG = `#- s.stock.yaml
stock: s
family: textile-woven
thickness: 0.2 mm
#- p.printer.yaml
printer: p
modes:
  m: {resolution: 720 x 360 dpi, passes: 4}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
suction: {levels: {1: 100 Pa, 2: 300 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
`

export const rule = defineRule({
  code: 'feed-other-conditions',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'No feed check says anything of the conditions of today.',
  docs: `A check is a fact about one stock on one printer, one lot, one state of the settings and one day. Where suction, tension or heat were changed since, physics may bring it to
today's settings; where the machine was worked on, the mode feeds otherwise, another lot is on, or nobody wrote down what was set, nothing does. The checks then say which
number to expect and prove none. Print the pattern again with today's settings. Ignore it for a profile that is never used for work to size.
${READ_PATTERN}`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    if (!measuredElsewhere(facts)) return
    const { check } = facts.counted.at(-1)!
    report(check.date?.place ?? check.$, toDoSentences(facts).join(' '))
  },
  examples: [
    {
      name: 'the suction is another, and nothing says what that does',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 2
feed:
  correction: +0.20 %
  checks:
    - {date: $02026-03-24$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: gentle}
conditions: {gentle: {from: said, stock: s, printer: p, mode: m, suction: 1}}
${UNKNOWN_DRAG}`,
      message:
        "Print the pattern with today's settings, measure it with the best rule there is, and add it to feed, checks. Doubtful: the check proves nothing of today: what suction 1 → 2 does to the length cannot be reckoned: air goes through cloth, so its drag and stretch cannot be reckoned: watch it, and measure. What it asks for is to be expected, and no more.",
    },
    {
      name: 'the roller was cleaned since',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.20 %
  checks:
    - {date: $02026-03-20$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: here}
${HERE}${PLAIN_PAIR}events: [{date: 2026-03-22, what: feed-roller-cleaned}]
`,
      message:
        "Print the pattern with today's settings, measure it with the best rule there is, and add it to feed, checks. Doubtful: the check proves nothing of today: it was made before the feed roller was cleaned on 2026-03-22. What it asks for is to be expected, and no more.",
    },
    {
      name: 'another lot is on',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.20 %
  checks:
    - {date: $02026-03-20$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %, lot: A-1, under: here}
${HERE}${PLAIN_PAIR.replace('expansion', 'lots: [{lot: A-1}, {lot: A-2, opened: 2026-03-24}]\nexpansion')}`,
      message:
        "Print the pattern with today's settings, measure it with the best rule there is, and add it to feed, checks. Doubtful: the check proves nothing of today: it was made on lot A-1, lot A-2 is printed now, and the stock does not say how far its lots differ (lot-spread). What it asks for is to be expected, and no more.",
    },
    {
      name: 'checks of today’s settings',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %, under: here}
${HERE}${PLAIN_PAIR}`,
    },
  ],
})
