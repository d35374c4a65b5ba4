// A complaint of a length that cannot be answered: the one length without the other, or nothing that says how good the measured one is.
import { defineRule } from '../../../rules/rule.ts'
import { knownByOf } from '../claim.ts'

export const rule = defineRule({
  code: 'claim-incomplete',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A complaint of a wrong length lacks what it takes to answer it.',
  docs: `To answer a customer the tool needs what was ordered, what was measured on the print, and with what: an instrument of the shop, the class of another one, or a ± behind the length. A
number of which nobody knows how good it is decides nothing, neither for the shop nor against it. \`rollbook answer\` then says that nobody can tell. Ask while the customer is on the telephone.`,
  check({ setup, report }) {
    for (const seen of setup.own.observed?.items ?? []) {
      const { ordered, measured } = seen
      if (ordered && !measured) report(ordered.place, 'What was ordered is written down, and not what was measured on the print.')
      if (!measured) continue
      if (!ordered) report(measured.place, 'What was measured is written down, and not what was ordered.')
      else if (knownByOf(setup, seen) === undefined)
        report(
          measured.place,
          'It is not known how good this number is: write down with what it was measured (an instrument of the shop, or class-1, class-2, class-3), or a ± behind it.',
        )
    }
  },
  examples: [
    {
      name: 'measured with nobody knows what',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-03-20, fault: length-short, ordered: 5000 mm, measured: $04994 mm$0 }
`,
      message:
        'It is not known how good this number is: write down with what it was measured (an instrument of the shop, or class-1, class-2, class-3), or a ± behind it.',
    },
    {
      name: 'ordered alone',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-03-20, fault: length-short, ordered: $05000 mm$0 }
`,
      message: 'What was ordered is written down, and not what was measured on the print.',
    },
    {
      name: 'measured alone',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-03-20, fault: length-short, measured: $04994 ±1 mm$0 }
`,
      message: 'What was measured is written down, and not what was ordered.',
    },
    {
      name: 'with a class, or with a ±',
      text: `#- e.media.yaml
profile: e
observed:
  - { date: 2026-03-20, fault: length-short, ordered: 5000 mm, measured: 4994 mm, with: class-2 }
  - { date: 2026-03-21, fault: length-short, ordered: 5000 mm, measured: 4994 ±1 mm }
`,
    },
  ],
})
