// A profile in use prints on a stock that is out of use.
import { retiredOf } from '../../../model/retired.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'

export const rule = defineRule({
  code: 'stock-retired',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A profile in use prints on a stock that is retired.',
  docs: `The shop prints on the stock no more, and nothing is due for its profiles. Retire the profile too, so that whoever looks for one finds the profile of what
replaced it; it stays on record with all that was measured. Where a roll turned up after all, take the line out of the stock's document instead.`,
  check({ document, setup, report }) {
    const { stock } = setup.profile
    const retired = retiredOf(setup)
    if (!stock || retired?.what !== 'stock' || toldByBase(setup, stock)) return
    const by = retired.replacedBy === undefined ? '' : ` and replaced by ${retired.replacedBy}`
    report(
      stock.place,
      `The stock ${stock.value} was retired on ${retired.since}${by}: nothing is due for this profile any more.`,
      {
        fixes: () =>
          setup.own.retired
            ? []
            : [writeSetting(document, ['retired'], retired.since, `Retire this profile as of ${retired.since} too`)],
      },
    )
  },
  examples: [
    {
      name: 'replaced by another',
      text: `#- e.media.yaml
profile: e
stock: $0banner-440$0
#- banner-440.stock.yaml
stock: banner-440
retired: 2026-02-01
replaced-by: banner-510
#- banner-510.stock.yaml
stock: banner-510
`,
      message:
        'The stock banner-440 was retired on 2026-02-01 and replaced by banner-510: nothing is due for this profile any more.',
      after: `profile: e
stock: banner-440
retired: 2026-02-01
`,
      fixes: ['Retire this profile as of 2026-02-01 too'],
    },
    {
      name: 'a profile that is retired itself',
      text: `#- e.media.yaml
profile: e
stock: banner-440
retired: 2026-02-10
#- banner-440.stock.yaml
stock: banner-440
retired: 2026-02-01
`,
    },
    {
      name: 'from a day to come',
      text: `#- e.media.yaml
profile: e
stock: banner-440
#- banner-440.stock.yaml
stock: banner-440
retired: 2026-04-01
`,
    },
  ],
})
