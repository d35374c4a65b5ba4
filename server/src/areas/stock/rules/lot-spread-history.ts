// What checks on several lots say of how far the lots of a stock differ: proposed where nobody wrote it down, told where they say otherwise.
import { addKey } from '../../../model/edit.ts'
import { defineRule } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { type History, historyOf } from '../../feed/history.ts'
import { contradicts, rangeText, scatterText, statementOf, statementText } from '../../feed/history-words.ts'

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
  examples: [],
})

const madeText = ({ prints, lots }: History): string => `${prints} prints of ${lots} lots`
