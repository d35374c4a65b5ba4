// Fine picks that were made in another mode, or otherwise under other settings than today's: a patch there says nothing of the advance here.
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FINE_PRINTER } from '../examples.ts'
import { fineOf } from '../fine.ts'

const TWO_MODES = FINE_PRINTER.replace('\n  m:', '\n  quick: {resolution: 720 x 360 dpi, passes: 2}\n  m:')

export const rule = defineRule({
  code: 'fine-mode',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The fine feed picks belong to another mode, to other settings, or do not say to which.',
  docs: `Fine picks trim the advance of the mode they were printed in. With half the passes the advance is twice as long, and the same patch means half the correction; heat and
drag differ too. So picks that were made in another mode or under other settings are left out, and so are picks that do not say under which (\`under\`). Print the fine pattern with the settings of today.
${READ_PATTERN}`,
  check({ setup, report }) {
    const found = fineOf(setup, 'other-mode')
    if (!found) return
    const { under } = setup.own.feed!.fine!
    const mode = setup.profile.mode?.value ?? 'this mode'
    report(under?.place ?? found.at, `Print the fine pattern in ${mode}: the picks are left out, since ${found.fine.reason}.`)
  },
  examples: [
    {
      name: 'picked in another mode',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: $0before$0, picks: [2, 2, 2]}
conditions:
  before: {from: profile, stock: s, printer: p, mode: quick}
${TWO_MODES}`,
      message: 'Print the fine pattern in m: the picks are left out, since they were made in quick, and the mode is m.',
    },
    {
      name: 'picked with more suction',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 2
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: $0before$0, picks: [2, 2, 2]}
conditions:
  before: {from: profile, stock: s, printer: p, mode: m, suction: 3}
${TWO_MODES}suction: {levels: {2: 200 Pa, 3: 320 Pa}}
`,
      message: 'Print the fine pattern in m: the picks are left out, since they were made with suction 3, and it is 2.',
    },
    {
      name: 'nobody says under which settings',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, picks: $0[2, 2, 2]$0}
${TWO_MODES}`,
      message: 'Print the fine pattern in m: the picks are left out, since they were made under settings that are not known.',
    },
    {
      name: 'under a state that is not there',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: $0s0abc$0, picks: [2, 2, 2]}
${TWO_MODES}`,
      message:
        "Print the fine pattern in m: the picks are left out, since they were made under 's0abc', a state that is not among the conditions.",
      testOnly: true,
    },
    {
      name: 'under a state that was changed by hand, so that its name says something else',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: $0s0abc$0, picks: [2, 2, 2]}
conditions:
  s0abc: {from: profile, stock: s, printer: p, mode: m}
${TWO_MODES}`,
      message:
        "Print the fine pattern in m: the picks are left out, since they were made under 's0abc', a state that does not hold what its name stands for.",
      testOnly: true,
    },
    {
      name: 'the roller was cleaned since',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: $0as-now$0, picks: [2, 2, 2]}
conditions:
  as-now: {from: profile, stock: s, printer: p, mode: m}
${TWO_MODES}events:
  - {date: 2026-03-26, what: feed-roller-cleaned}
`,
      message:
        'Print the fine pattern in m: the picks are left out, since they were made before the feed roller was cleaned on 2026-03-26.',
      testOnly: true,
    },
    {
      name: 'picked in this mode, at another height of the heads',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 2 mm
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: before, picks: [0, 0, 0]}
conditions:
  before: {from: profile, stock: s, printer: p, mode: m, gap: 1.5 mm}
${TWO_MODES}`,
    },
  ],
})
