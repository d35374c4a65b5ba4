// A measurement or an event dated after today: the year slipped, and the check would count as fresh for longer than it is.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { daysOf } from './support/happened.ts'

export const rule = defineRule({
  code: 'future-date',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'Something is dated after today.',
  docs: `Checks, readings, picks, faults and what was done to a machine happened; they cannot be dated after today. Most often the year is wrong in
January. A check from the future counts as the newest one, and as fresh for longer than it is; an event of the future opens nothing, and what was
measured before it goes on being trusted. Ignore it where the computer's clock is wrong, and set the clock.`,
  check(context) {
    const { document, today } = context
    for (const { value: date, place } of daysOf(document))
      if (date > today && place.file === document.file) context.report(place, `${date} lies ahead: today is ${today}.`)
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
      testOnly: true,
    },
    {
      name: 'an event of next year',
      text: '#- bay-1.printer.yaml\nevents:\n  - { date: $02027-03-14$0, what: feed-roller-changed }\n',
      message: '2027-03-14 lies ahead: today is 2026-03-31.',
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
