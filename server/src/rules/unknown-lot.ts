// A check on a lot that the stock does not list: whether it speaks for the roll on the printer cannot be told.
import { nearest } from '../base/nearest.ts'
import { defineRule } from './rule.ts'
import { writeValue } from './support/fixes.ts'
import { doubtful } from './support/references.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'unknown-lot',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A check names a lot that the stock does not list.',
  docs: `Lots differ in length and stiffness, and a check speaks for its own. A lot that the stock's document does not list was mistyped, or came in
without being written down. Ignore it where the shop does not keep its lots; a stock that lists none is left in peace.`,
  check(context) {
    const { setup, document } = context
    const lots = (setup.stock?.lots?.items ?? []).flatMap((l) => (l.lot ? [String(l.lot.value)] : []))
    if (lots.length === 0) return
    for (const { lot } of setup.own.feed?.checks?.items ?? []) {
      if (!lot || lot.place.file !== document.file || lots.includes(String(lot.value)) || doubtful(context, lot)) continue
      const near = nearest(String(lot.value), lots)
      const meant = near === undefined ? '.' : `; did you mean '${near}'?`
      context.report(lot.place, `'${setup.profile.stock?.value}' lists no lot ${quoted(String(lot.value))}${meant}`, {
        fixes: () => (near === undefined ? [] : [writeValue(lot.place, near)]),
      })
    }
  },
  examples: [
    {
      name: 'a mistyped lot',
      text: `stock: film
feed: { checks: [{ date: 2026-03-14, lot: $0C-2601$0 }] }
#- film.stock.yaml
stock: film
lots: [{ lot: C-2610 }]
`,
      message: "'film' lists no lot 'C-2601'; did you mean 'C-2610'?",
      after: 'stock: film\nfeed: { checks: [{ date: 2026-03-14, lot: C-2610 }] }\n',
      fixes: ["Write 'C-2610'"],
    },
    {
      name: 'a lot that was received',
      text: `stock: film
feed: { checks: [{ date: 2026-03-14, lot: 2610 }] }
#- film.stock.yaml
stock: film
lots: [{ lot: 2610 }]
`,
    },
    {
      name: 'a stock that keeps no lots',
      text: 'stock: film\nfeed: { checks: [{ date: 2026-03-14, lot: 7 }] }\n#- film.stock.yaml\nstock: film\n',
    },
    {
      name: 'nothing is like it',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %, lot: $0X$0}
#- s.stock.yaml
stock: s
lots: [{lot: C-2610, received: 2026-01-10}]
`,
      message: "'s' lists no lot 'X'.",
      testOnly: true,
    },
  ],
})
