// The rows of a fine pattern differ across the web by more than feed can do: the web runs askew, or is pulled harder on one side.
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { AS_NOW } from '../examples.ts'
import { fineOf } from '../fine.ts'

export const rule = defineRule({
  code: 'fine-rows-differ',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The rows of the fine feed picks differ by more than two patches.',
  docs: `One feed roller moves the whole width by the same. Where left, middle and right of the web want feeds that differ by more than two patches, the web runs askew, slips on one
side, or is pulled unevenly (common practice): their mean would be wrong everywhere, so no correction is reckoned from them. Load the roll square, even out the tension, look at the
suction over the width, and print the fine pattern again.
${READ_PATTERN}`,
  check({ setup, report }) {
    const found = fineOf(setup, 'uneven')
    if (found)
      report(
        found.at,
        `Load the web square and pull it evenly, then print the fine pattern again: the picks are left out, since ${found.fine.reason}.`,
      )
  },
  examples: [
    {
      name: 'one side before the other',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: $0[-4, 0, 4]$0}
${AS_NOW}`,
      message:
        'Load the web square and pull it evenly, then print the fine pattern again: the picks are left out, since the rows differ by 8 patches across the web (left -4, right +4), and that is skew or tension, not feed.',
    },
    {
      name: 'two patches apart',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, under: as-now, picks: [-1, 0, 1]}
${AS_NOW}`,
    },
  ],
})
