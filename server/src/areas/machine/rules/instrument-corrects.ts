// An instrument was found to read wrong: how many checks are brought right by that, and in which profiles.
import { timeOf } from '../../../model/instrument-history.ts'
import { defineRule } from '../../../rules/rule.ts'
import { plural } from '../../../rules/support/words.ts'
import { madeThen, namesOf, placesOf } from '../instruments.ts'

export const rule = defineRule({
  code: 'instrument-corrects',
  severity: 'hint',
  kinds: ['shop'],
  summary: 'Checks are brought right by the error of their instrument.',
  docs: `What an instrument showed too much is taken off every reading of that time, and what it showed too little is added; the readings stay as they were written down. Told for
information, so that it is seen how far a new error reaches before it is believed: the corrections that these profiles ask for have moved by it.`,
  check({ document, shelf, report }) {
    const { content } = document
    if (!shelf.complete || !content?.instruments) return
    for (const [name, { errors }] of content.instruments.entries) {
      for (const entry of errors?.items ?? []) {
        const time = timeOf(entry)
        const made = time && entry.error ? madeThen(shelf, name, time) : []
        if (made.length === 0) continue
        const count = made.reduce((sum, { then }) => sum + then.length, 0)
        report(
          entry.error!.place,
          `${plural(count, 'check')} made with '${name}' in that time ${count === 1 ? 'is' : 'are'} brought right by this error, in ${namesOf(made)}.`,
          { related: placesOf(made, 'Made with it then.') },
        )
      }
    }
  },
  examples: [
    {
      name: 'a tape that was stretched',
      text: `#- rollbook.yaml
shop: S
instruments:
  tape-5m: {kind: tape, division: 1 mm, errors: [{from: 2026-03-10, to: 2026-03-16, error: $0-0.6 ±0.1 mm/m$0}]}
#- a.media.yaml
profile: a
feed:
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: tape-5m}
    - {date: 2026-03-11, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: tape-5m}
#- b.media.yaml
feed:
  checks:
    - {date: 2026-03-16, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: tape-5m}
`,
      message: "2 checks made with 'tape-5m' in that time are brought right by this error, in a and b.media.yaml.",
      related: ['Made with it then. tape-5m', 'Made with it then. tape-5m'],
    },
    {
      name: 'in six profiles',
      text: `#- rollbook.yaml
shop: S
instruments: {tape: {kind: tape, errors: [{from: 2026-03-10, error: $01 mm$0}]}}
${['a', 'b', 'c', 'd', 'e', 'f']
  .map(
    (name) =>
      `#- ${name}.media.yaml\nprofile: ${name}\nfeed: {checks: [{date: 2026-03-16, commanded: 1 m, measured: 1 m, applied: 0 %, with: tape}]}\n`,
  )
  .join('')}`,
      message: "6 checks made with 'tape' in that time are brought right by this error, in a, b, c, d and 2 more.",
      related: ['Made with it then. tape', 'Made with it then. tape', 'Made with it then. tape', 'Made with it then. tape'],
      testOnly: true,
    },
    {
      name: 'measured before',
      text: `#- rollbook.yaml
shop: S
instruments: {tape-5m: {kind: tape, errors: [{from: 2026-03-10, error: 1 mm}]}}
#- a.media.yaml
profile: a
feed: {checks: [{date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: tape-5m}]}
`,
    },
  ],
})
