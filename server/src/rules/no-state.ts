// Evidence that tells no state: the settings it was made under are not known, so it proves nothing. Told once a profile.

import { putUnder } from '../model/state-add.ts'
import { kindWords, type MadeUnder, madeUnder } from '../model/state-evidence.ts'
import { settingsNow } from '../model/states.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { fixOf } from './support/fixes.ts'
import { doubtful } from './support/references.ts'
import { listed, plural } from './support/words.ts'

/** More entries than these are not offered one by one. */
const OFFERED = 6

export const rule = defineRule({
  code: 'no-state',
  severity: 'hint',
  kinds: ['media'],
  summary: 'Evidence does not tell under which settings it was made.',
  docs: `A check, an alignment or a reading speaks for the settings it was made with. Without \`under\` nobody knows them: the evidence is shown, and what
follows from it is the number to expect, but nothing is proven by it. Put an entry under the settings as they are today only where you know that they
ran: entry by entry, and never in one go. Where nobody knows, print again.`,
  check(context) {
    const made = madeUnder(context.setup.own).filter((one) => isOpen(context, one))
    const [first] = made
    if (!first) return
    const kinds = [...new Set(made.map(({ kind }) => kind))].map((kind) => {
      const count = made.filter((one) => one.kind === kind).length
      return plural(count, kindWords(kind), kindWords(kind, count))
    })
    const tell = made.length === 1 ? 'tells' : 'tell'
    context.report(
      first.date?.place ?? first.place,
      `${listed(kinds)} ${tell} no state: made under settings that are not known, so ${made.length === 1 ? 'it is' : 'they are'} shown and ${made.length === 1 ? 'proves' : 'prove'} nothing.`,
      { steps: () => offersOf(context, made) },
    )
  },
  examples: [
    {
      name: 'a check and an alignment',
      text: `stock: film
printer: bay-1
mode: fine
feed:
  checks:
    - { date: $02026-03-14$0, commanded: 1000 mm, measured: 999 mm, applied: 0 % }
alignment: { date: 2026-03-14 }
#- bay-1.printer.yaml
printer: bay-1
`,
      message:
        '1 feed check and 1 alignment tell no state: made under settings that are not known, so they are shown and prove nothing.',
    },
    {
      name: 'one check, under a state that is there',
      text: `stock: film
printer: bay-1
mode: fine
feed: { checks: [{ date: $02026-03-14$0, commanded: 1000 mm, measured: 999 mm, applied: 0 % }] }
conditions: { as-set: { from: profile, stock: film, printer: bay-1, mode: fine } }
`,
      message: '1 feed check tells no state: made under settings that are not known, so it is shown and proves nothing.',
      testOnly: true,
    },
    {
      name: 'a reading, and no state yet',
      text: `stock: film
printer: bay-1
mode: fine
heat:
  readings:
    - { date: $02026-03-14$0, zone: platen, set: 42 °C, web: 40 °C }

notes: none
`,
      message: '1 heat reading tells no state: made under settings that are not known, so it is shown and proves nothing.',
      testOnly: true,
    },
    {
      name: 'no printer is named',
      text: 'alignment: { date: $02026-03-14$0 }\n',
      message: '1 alignment tells no state: made under settings that are not known, so it is shown and proves nothing.',
      testOnly: true,
    },
    {
      name: 'under a state, or left out',
      text: `feed:
  checks:
    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 %, under: morning }
    - { date: 2026-03-14, commanded: 1000 mm, measured: 989 mm, applied: 0 %, skip: the web slipped }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
    },
  ],
})

/** What a person left out counts for nothing anyway, and what is mistyped is told first. */
function isOpen(context: RuleContext<'media'>, { under, place }: MadeUnder): boolean {
  if (under || place.file !== context.document.file || doubtful(context, { value: undefined, place })) return false
  const node = place.node
  return node.kind === 'map' && !node.pair('skip') && !node.pair('under')
}

/** One for each entry. What cannot be written for one, because of what the profile lacks, is told once. */
function offersOf(context: RuleContext<'media'>, made: readonly MadeUnder[]): readonly Fix[] {
  const fixes = made.slice(0, OFFERED).map((one) => underToday(context, one))
  return fixes.every(({ refused }) => refused !== undefined && refused === fixes[0]!.refused) ? fixes.slice(0, 1) : fixes
}

function underToday({ document, setup }: RuleContext<'media'>, { kind, date, path }: MadeUnder) {
  const step = path.at(-1)
  const which = `${typeof step === 'number' ? `${kindWords(kind)} ${step + 1}` : `the ${kindWords(kind)}`}${date ? ` of ${date.value}` : ''}`
  return fixOf(
    `Put ${which} under the settings as they are today`,
    putUnder(document, setup, path, settingsNow(setup), 'profile'),
  )
}
