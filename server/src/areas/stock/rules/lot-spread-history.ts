// What checks on several lots say of how far the lots of a stock differ: proposed where nobody wrote it down, told where they say otherwise.
import { addKey } from '../../../model/edit.ts'
import { defineRule } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { historyShop } from '../../feed/examples.ts'
import { type History, historyOf } from '../../feed/history.ts'
import { contradicts, rangeText, scatterText, statementOf, statementText } from '../../feed/history-words.ts'

/** Two prints each of six lots, which differ by about 0.6 mm a metre; the prints of one by a tenth of it. */
const LOTS = [998.1, 998.18, 999.3, 999.22, 998.6, 998.69, 997.6, 997.52, 998.9, 998.97, 998.31, 998.38].map(
  (length, i) => [length, `L-${1 + (i >> 1)}`] as const,
)

export const rule = defineRule({
  code: 'lot-spread-history',
  severity: 'hint',
  risk: 'length',
  kinds: ['stock'],
  summary: 'Checks on several lots say how far the lots of a stock differ, and its document does not, or says otherwise.',
  docs: `Without \`lot-spread\` nothing measured on one lot proves anything of the next. With it, old checks go on counting when a new roll is opened, for as much as lots are alike. The
checks of the profiles on this stock tell it, where three lots or more were measured: the first twelve that name it are compared, each profile only with itself and only in one and the same
state, and what a person left out, or a suspect, is not counted. Where the number is written down and the lots say otherwise, look first at what else changed with them.`,
  check({ document, shelf, today, report }) {
    const { stock, 'lot-spread': spread } = document.content ?? {}
    const { root } = document.tree
    if (!shelf.complete || !stock || root?.kind !== 'map') return
    const history = historyOf('stock', String(stock.value), shelf, today)
    const statement = history && statementOf(history)
    if (!history || !statement) return
    if (!spread) {
      const text = statementText(statement, today)
      report(
        stock.place,
        `Write down how far the lots of this stock differ, and checks go on counting on the next one: ${madeText(history)} say ${scatterText(statement.value)} from lot to lot (${rangeText(history)}, 95 %).`,
        { fixes: () => [fixOf(`Write lot-spread: ${text}`, addKey(document.text, root, 'lot-spread', text, 'lots'))] },
      )
    } else if (spread.value && contradicts(history, spread)) {
      const { value, place } = spread.value
      report(
        place,
        `Work the spread of lots out anew, or look at what else changed with them: it says ${scatterText(value.si)}, and ${madeText(history)} say ${scatterText(statement.value)} from lot to lot (${rangeText(history)}, 95 %).`,
      )
    }
  },
  examples: [
    {
      name: 'six lots, two prints each',
      text: historyShop('#- s.stock.yaml\nstock: $0s$0\nlots: [{lot: L-6, opened: 2026-03-20}]\n', [LOTS]),
      message:
        'Write down how far the lots of this stock differ, and checks go on counting on the next one: 12 prints of 6 lots say 0.063 % from lot to lot (0.026 to 0.14 %, 95 %).',
      fixes: ['Write lot-spread: { value: 0.063 %, freedom: 2, date: 2026-03-31 }'],
      after: 'stock: s\nlots: [{lot: L-6, opened: 2026-03-20}]\nlot-spread: { value: 0.063 %, freedom: 2, date: 2026-03-31 }\n',
    },
    {
      name: 'it says a fifth of that',
      text: historyShop('#- s.stock.yaml\nstock: s\nlot-spread: {value: $00.01 %$0, freedom: 5, date: 2026-02-01}\n', [LOTS]),
      message:
        'Work the spread of lots out anew, or look at what else changed with them: it says 0.01 %, and 12 prints of 6 lots say 0.063 % from lot to lot (0.026 to 0.14 %, 95 %).',
    },
    {
      name: 'it says what the lots say',
      text: historyShop('#- s.stock.yaml\nstock: s\nlot-spread: {value: 0.06 %, freedom: 5, date: 2026-02-01}\n', [LOTS]),
    },
    {
      name: 'two lots are too few',
      text: historyShop('#- s.stock.yaml\nstock: s\n', [LOTS.slice(0, 4)]),
    },
  ],
})

const madeText = ({ prints, lots }: History): string => `${prints} prints of ${lots} lots`
