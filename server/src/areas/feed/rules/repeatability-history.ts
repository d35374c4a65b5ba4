// What the checks of its profiles say of a printer's repeatability: proposed where nobody wrote it down, told where they say otherwise.
import { addKey } from '../../../model/edit.ts'
import { defineRule } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { type History, historyOf } from '../history.ts'
import { contradicts, rangeText, scatterText, statementOf, statementText } from '../history-words.ts'

export const rule = defineRule({
  code: 'repeatability-history',
  severity: 'hint',
  risk: 'length',
  kinds: ['printer'],
  summary: 'The prints made on a printer say how far its feed scatters, and its document does not, or says otherwise.',
  docs: `How far lengths differ from print to print with nothing changed decides what one check is worth. Without \`feed: repeatability:\` a wide typical range is assumed, and every new
profile needs three prints before it can be proven. The checks of the profiles on this machine know better: here the first twelve that name it are compared, each profile only with
itself and only in one and the same state, and what a person left out, a suspect, or what was measured before the feed was worked on is not counted. Profiles differ, so the
degrees of freedom stay few however many prints there are. No verdict of a profile reads another one: what you write down here is what they all go by. Where the number is
written down and the prints say otherwise, look first at what changed: roller, tension, another way to measure.`,
  check({ document, shelf, today, report }) {
    const { printer, feed } = document.content ?? {}
    if (!shelf.complete || !printer || !feed) return
    const history = historyOf('printer', String(printer.value), shelf, today)
    const statement = history && statementOf(history)
    if (!history || !statement) return
    const { repeatability } = feed
    if (!repeatability) {
      const text = statementText(statement, today)
      const { node } = feed.$
      if (node.kind !== 'map') return
      report(
        printer.place,
        `Write down how far this feed scatters, and new profiles need fewer prints: ${madeText(history)} say ${scatterText(statement.value)} from print to print (${rangeText(history)}, 95 %).`,
        {
          fixes: () => [
            fixOf(`Write repeatability: ${text}`, addKey(document.text, node, 'repeatability', text, 'pattern-lengths')),
          ],
        },
      )
    } else if (repeatability.value && contradicts(history, repeatability)) {
      const { value, place } = repeatability.value
      report(
        place,
        `Work the repeatability out anew, or look at what changed: it says ${scatterText(value.si)}, and ${madeText(history)} say ${scatterText(statement.value)} from print to print (${rangeText(history)}, 95 %).`,
      )
    }
  },
  examples: [],
})

const madeText = ({ prints, profiles }: History): string => `${prints} prints of ${profiles} profiles`
