// A lot that was used up before it was opened, or opened before it came in: one of the days is wrong.
import type { F } from '../../../model/field.ts'
import { defineRule } from '../../../rules/rule.ts'
import { quoted } from '../../../rules/support/words.ts'
import { relatedTo } from '../../landing/shared.ts'

export const rule = defineRule({
  code: 'lot-dates',
  severity: 'error',
  kinds: ['stock'],
  summary: 'The days of a lot are in the wrong order.',
  docs: `A lot comes in, is opened and is used up, in this order. The other way round one of the days is mistyped, and which lot a check was made on, or
which one is loaded now, is told wrongly.`,
  check({ document, report }) {
    for (const { lot, received, opened, finished } of document.content?.lots?.items ?? []) {
      const name = lot ? `Lot ${quoted(String(lot.value))}` : 'A lot'
      const days: readonly (readonly [F<string> | undefined, string])[] = [
        [received, 'received'],
        [opened, 'opened'],
        [finished, 'used up'],
      ]
      const given = days.filter((day): day is readonly [F<string>, string] => day[0] !== undefined)
      for (const [i, [day, what]] of given.entries()) {
        const before = given[i - 1]
        if (!before || day.value >= before[0].value) continue
        report(
          day.place,
          `${name} was ${what} on ${day.value}, but ${before[1]} on ${before[0].value}: one of the two days is wrong.`,
          relatedTo(before[0].place, `The day it was ${before[1]}.`),
        )
      }
    }
  },
  examples: [
    {
      name: 'opened a month before it came in',
      text: `#- film.stock.yaml
stock: film
lots:
  - { lot: C-2610, received: 2026-03-02, opened: $02026-02-05$0 }
`,
      message: "Lot 'C-2610' was opened on 2026-02-05, but received on 2026-03-02: one of the two days is wrong.",
      related: ['The day it was received. 2026-03-02'],
    },
    {
      name: 'used up before it came in, and nobody knows when it was opened',
      text: `#- film.stock.yaml
stock: film
lots:
  - { lot: 2610, received: 2026-03-02, finished: $02025-03-09$0 }
`,
      message: "Lot '2610' was used up on 2025-03-09, but received on 2026-03-02: one of the two days is wrong.",
      related: ['The day it was received. 2026-03-02'],
      testOnly: true,
    },
    {
      name: 'used up the day before it was opened, without a number',
      text: `#- film.stock.yaml
stock: film
lots:
  - { received: 2026-03-02, opened: 2026-03-10, finished: $02026-03-09$0 }
`,
      message: 'A lot was used up on 2026-03-09, but opened on 2026-03-10: one of the two days is wrong.',
      related: ['The day it was opened. 2026-03-10'],
      testOnly: true,
    },
    {
      name: 'opened the day it came in, and still in use',
      text: '#- film.stock.yaml\nstock: film\nlots: [{ lot: C-2610, received: 2026-03-02, opened: 2026-03-02 }]\n',
    },
  ],
})
