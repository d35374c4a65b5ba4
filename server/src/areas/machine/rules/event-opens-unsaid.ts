// The machine was serviced or moved, and nobody says what was touched: until then all that was measured before goes on being trusted.
import type { RollDocument } from '../../../model/document.ts'
import { addKey } from '../../../model/edit.ts'
import { kindsOfEvidence, mustSay, opensByDefault } from '../../../model/events.ts'
import type { KindOfEvidence, MachineEvent } from '../../../model/generated/documents.ts'
import { defineRule, type Fix } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'

const WORDS = { serviced: 'The machine was serviced', moved: 'The machine was moved' } as const

export const rule = defineRule({
  code: 'event-opens-unsaid',
  severity: 'hint',
  risk: 'length',
  kinds: ['printer'],
  summary: 'The machine was serviced or moved, and nobody says what was touched.',
  docs: `A service may be a new feed roller or a wiped window, and a move may be across the room or across the town. So neither opens anything by itself:
all that was measured before goes on being trusted. Ask whoever did the work, and write down under \`opens\` what has to be measured again; an
empty list says that nothing was touched that prints depend on.`,
  check({ document, report }) {
    for (const event of document.content?.events?.items ?? []) {
      const { what, opens } = event
      if (!what || opens || !mustSay(what.value)) continue
      const words = WORDS[what.value as keyof typeof WORDS] ?? 'Something was done to the machine'
      report(what.place, `${words}, and nothing says what was touched: all that was measured before goes on being trusted.`, {
        fixes: () => answers().map(([reason, kinds]) => saying(document, event, reason, kinds)),
      })
    }
  },
  examples: [
    {
      name: 'the yearly service',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: 2026-03-10, what: $0serviced$0, note: by the maker }\n',
      message: 'The machine was serviced, and nothing says what was touched: all that was measured before goes on being trusted.',
      after: 'events:\n  - { date: 2026-03-10, what: serviced, opens: [feed, fine], note: by the maker }\n',
      fixes: [
        'The feed was touched: write opens: [feed, fine]',
        'The heads were touched: write opens: [alignment, fine, colour]',
        'The heaters were touched: write opens: [heat, feed]',
        'It was levelled anew: write opens: [feed, alignment, fine]',
        'All of it was touched: write opens: [feed, fine, alignment, heat, colour]',
        'Nothing was touched that prints depend on: write opens: []',
      ],
    },
    {
      name: 'moved, on lines of its own',
      text: '#- bay-1.printer.yaml\nevents:\n  - date: 2026-03-10\n    what: $0moved$0\n',
      message: 'The machine was moved, and nothing says what was touched: all that was measured before goes on being trusted.',
      after: 'events:\n  - date: 2026-03-10\n    what: moved\n    opens: [feed, fine]\n',
      fixes: [
        'The feed was touched: write opens: [feed, fine]',
        'The heads were touched: write opens: [alignment, fine, colour]',
        'The heaters were touched: write opens: [heat, feed]',
        'It was levelled anew: write opens: [feed, alignment, fine]',
        'All of it was touched: write opens: [feed, fine, alignment, heat, colour]',
        'Nothing was touched that prints depend on: write opens: []',
      ],
      testOnly: true,
    },
    {
      name: 'it says so',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: 2026-03-10, what: serviced, opens: [] }\n  - { date: 2026-03-11, what: feed-roller-changed }\n',
    },
  ],
})

/** What may have been touched, and what that opens: as the event of that name does. */
const answers = (): readonly (readonly [string, readonly KindOfEvidence[]])[] => [
  ['The feed was touched', opensByDefault('feed-roller-changed')],
  ['The heads were touched', opensByDefault('head-changed')],
  ['The heaters were touched', opensByDefault('heater-replaced')],
  ['It was levelled anew', opensByDefault('levelled')],
  ['All of it was touched', kindsOfEvidence().map(({ value }) => value as KindOfEvidence)],
  ['Nothing was touched that prints depend on', []],
]

function saying(document: RollDocument, { $ }: MachineEvent, reason: string, kinds: readonly KindOfEvidence[]): Fix | undefined {
  if ($.aliased || $.node.kind !== 'map') return undefined
  const value = `[${kinds.join(', ')}]`
  return fixOf(`${reason}: write opens: ${value}`, addKey(document.text, $.node, 'opens', value, 'what'))
}
