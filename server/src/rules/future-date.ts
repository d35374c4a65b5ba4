// A measurement or an event dated after today: the year slipped, and the check would count as fresh for longer than it is.

import { replaceValue } from '../model/edit.ts'
import type { F } from '../model/field.ts'
import { isDate } from '../model/read.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { fixOf } from './support/fixes.ts'
import { daysOf } from './support/happened.ts'
import { commented } from './support/trace.ts'

export const rule = defineRule({
  code: 'future-date',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'Something is dated after today.',
  docs: `Checks, readings, picks, faults and what was done to a machine happened; they cannot be dated after today. Most often the year is wrong in
January. A check from the future counts as the newest one, and as fresh for longer than it is; an event of the future opens nothing, and what was
measured before it goes on being trusted. The day of a measurement is for whoever made it to put right; for others the year before is offered, and what
was written stays on the line. Ignore it where the computer's clock is wrong, and set the clock.`,
  check(context) {
    const { document, today } = context
    for (const day of daysOf(document)) {
      const { value: date, place } = day
      if (date <= today || place.file !== document.file) continue
      context.report(place, `${date} lies ahead: today is ${today}.`, {
        fixes: () => (document.kind === 'media' ? [] : [yearBefore(context, day)]),
      })
    }
  },
  examples: [
    {
      name: 'a check from next year',
      text: 'feed:\n  checks:\n    - { date: $02027-03-14$0, commanded: 1000 mm, measured: 999 mm, applied: 0 % }\n',
      message: '2027-03-14 lies ahead: today is 2026-03-31.',
    },
    {
      name: 'an instrument from next week',
      text: '#- rollbook.yaml\ninstruments: { tape: { kind: tape, calibrated: $02026-04-07$0, due: 2027-04-07 } }\n',
      message: '2026-04-07 lies ahead: today is 2026-03-31.',
      fixes: ["Write '2025-04-07', and keep what was written in a comment"],
      testOnly: true,
    },
    {
      name: 'an event of next year',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: $02027-03-14$0, what: feed-roller-changed }\n',
      message: '2027-03-14 lies ahead: today is 2026-03-31.',
      after: 'events:\n  - { date: 2026-03-14, what: feed-roller-changed } # was 2027-03-14, corrected 2026-03-31\n',
      fixes: ["Write '2026-03-14', and keep what was written in a comment"],
    },
    {
      name: 'an instrument that will be in doubt until it is back from the test house',
      text: '#- rollbook.yaml\ninstruments: { tape: { suspect: [{ from: 2026-03-20, to: 2026-04-20, why: dropped }] } }\n',
      testOnly: true,
    },
    { name: 'today', text: 'keyed: [{ date: 2026-03-31 }]\n' },
    { name: 'an instrument that is due next year', text: '#- rollbook.yaml\ninstruments: { tape: { due: 2027-04-07 } }\n' },
  ],
})

/** The newest such day that is no longer ahead. */
function yearBefore({ document, today }: RuleContext, { value, place }: F<string>): Fix | undefined {
  const years = [0, 1].map((back) => Number(today.slice(0, 4)) - back)
  const day = years.map((year) => `${year}${value.slice(4)}`).find((one) => one <= today && isDate(one))
  if (day === undefined) return undefined
  const title = `Write '${day}', and keep what was written in a comment`
  const [written, kept] = [
    replaceValue(place, day, 'mend'),
    commented(document.text, place.node, `was ${value}, corrected ${today}`),
  ]
  return fixOf(title, written.ok && kept.ok ? { ok: true, edits: [...written.edits, ...kept.edits] } : written)
}
