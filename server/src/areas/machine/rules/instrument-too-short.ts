// A length was measured that the instrument does not reach in one go.
import { tooShort } from '../../../model/instrument-history.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { relatedTo } from '../../landing/shared.ts'

const SHOP = `#- rollbook.yaml
shop: S
instruments: {rule-1m: {kind: rule, division: 0.5 mm, length: 1 m}}
`

export const rule = defineRule({
  code: 'instrument-too-short',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check is longer than its instrument measures in one go.',
  docs: `A length that is put together from two goes has the reading errors of both, and the error of the instrument twice; it counts here as read in one, and so for more than it
is worth. Mostly another instrument was used and the wrong one written down. Leave the check out with \`skip\` where it was put together, and measure that print again with a longer
one. A print that came out a little longer than the rule is let pass.`,
  check({ setup, report }) {
    for (const { commanded, measured, with: used, skip } of setup.own.feed?.checks?.items ?? []) {
      if (!measured || !used || skip) continue
      const instrument = setup.shop.instruments.get(used.value)
      // A reading that is far from what was to be expected is a slip, and told as one.
      const length = Math.min(measured.value.si, commanded?.value.si ?? Number.POSITIVE_INFINITY)
      if (!instrument?.length || !tooShort(instrument, length)) continue
      const [read, reach] = [measured.value, instrument.length.value].map((one) => formatQuantity(one))
      report(
        used.place,
        `${read} is longer than ${used.value} reaches in one go (${reach}): was another instrument used?`,
        relatedTo(instrument.length.place, 'Its length.'),
      )
    }
  },
  examples: [
    {
      name: 'half as long again',
      text: `#- e.media.yaml
profile: e
feed: {checks: [{date: 2026-03-17, commanded: 1500 mm, measured: 1498.5 mm, applied: 0 %, with: $0rule-1m$0}]}
${SHOP}`,
      message: '1498.5 mm is longer than rule-1m reaches in one go (1 m): was another instrument used?',
      related: ['Its length. 1 m'],
    },
    {
      name: 'a little past the end',
      text: `#- e.media.yaml
profile: e
feed: {checks: [{date: 2026-03-17, commanded: 1000 mm, measured: 1001.5 mm, applied: 0 %, with: rule-1m}]}
${SHOP}`,
    },
    {
      name: 'a slipped decimal point is no length',
      text: `#- e.media.yaml
profile: e
feed: {checks: [{date: 2026-03-17, commanded: 1000 mm, measured: 9985 mm, applied: 0 %, with: rule-1m}]}
${SHOP}`,
      testOnly: true,
    },
    {
      name: 'left out already',
      text: `#- e.media.yaml
profile: e
feed: {checks: [{date: 2026-03-17, commanded: 1500 mm, measured: 1498 mm, applied: 0 %, with: rule-1m, skip: in two goes}]}
${SHOP}`,
      testOnly: true,
    },
  ],
})
