// What the checks of its profiles say of a printer's repeatability: proposed where nobody wrote it down, told where they say otherwise.
import { addKey } from '../../../model/edit.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { historyShop } from '../examples.ts'
import { type History, historyOf } from '../history.ts'
import { contradicts, rangeText, scatterText, statementOf, statementText } from '../history-words.ts'

/** Lengths that scatter by about 0.2 mm about three means, all on one lot. */
const PRINTS = [
  [998.1, 998.45, 998.3, 998.02, 998.38],
  [999.52, 999.2, 999.31, 999.05, 999.44],
  [1000.25, 1000.62, 1000.3, 1000.51, 1000.18],
].map((lengths) => lengths.map((length) => [length, 'L-1'] as const))

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
written down and the prints say otherwise, look first at what changed: roller, tension, another way to measure.
${READ_PATTERN}`,
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
  examples: [
    {
      name: 'three profiles with five prints each',
      text: historyShop('#- p.printer.yaml\nprinter: $0p$0\nfeed:\n  step: 0.01 %\n  pattern-lengths: [1000 mm]\n', PRINTS),
      message:
        'Write down how far this feed scatters, and new profiles need fewer prints: 15 prints of 3 profiles say 0.02 % from print to print (0.009 to 0.045 %, 95 %).',
      fixes: ['Write repeatability: { value: 0.02 %, freedom: 3, date: 2026-03-31 }'],
      after:
        'printer: p\nfeed:\n  step: 0.01 %\n  pattern-lengths: [1000 mm]\n  repeatability: { value: 0.02 %, freedom: 3, date: 2026-03-31 }\n',
    },
    {
      name: 'it says less than half of that',
      text: historyShop(
        '#- p.printer.yaml\nprinter: p\nfeed: {repeatability: {value: $00.005 %$0, freedom: 14, date: 2026-02-01}}\n',
        PRINTS,
      ),
      message:
        'Work the repeatability out anew, or look at what changed: it says 0.005 %, and 15 prints of 3 profiles say 0.02 % from print to print (0.009 to 0.045 %, 95 %).',
    },
    {
      name: 'it says what the prints say',
      text: historyShop(
        '#- p.printer.yaml\nprinter: p\nfeed: {repeatability: {value: 0.02 %, freedom: 14, date: 2026-02-01}}\n',
        PRINTS,
      ),
    },
    {
      name: 'one profile is no printer',
      text: historyShop('#- p.printer.yaml\nprinter: p\nfeed: {step: 0.01 %}\n', PRINTS.slice(0, 1)),
    },
    {
      name: 'another roller since',
      text: historyShop(
        '#- p.printer.yaml\nprinter: p\nfeed: {step: 0.01 %}\nevents: [{date: 2026-03-20, what: feed-roller-changed}]\n',
        PRINTS,
      ),
      testOnly: true,
    },
  ],
})

const madeText = ({ prints, profiles }: History): string => `${prints} prints of ${profiles} profiles`
