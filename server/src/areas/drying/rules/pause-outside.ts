// A pause after each pass that the printer cannot be set to.

import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { EXAMPLE_HEAD } from '../../heat/shared.ts'
import { dryingOf } from '../facts.ts'
import { onDrying, timeLike } from '../shared.ts'

export const rule = defineRule({
  code: 'pause-outside',
  severity: 'error',
  risk: 'look',
  kinds: ['media'],
  summary: 'The pause after each pass is outside what the printer can be set to.',
  docs: `The machine cannot be set to this number, so it prints with another one than the profile says, and the print dries for another time than was reckoned with.
Set what the machine takes. Where that is too short to dry the print, more heat behind the platen or a slower mode has to make up for it.`,
  check({ document, setup, report }) {
    const field = setup.profile.drying?.pause
    const { pauseRange: range } = dryingOf(setup)
    if (!field || !range || toldByBase(setup, field, setup.profile.printer)) return
    const { value, place } = field
    const end = endPassed(value.si, range, 'time')
    if (end === undefined) return
    const [low, high] = range.map((time) => timeLike(time, value))
    const bound = timeLike(range[end], value)
    report(place, `The printer takes a pause of ${low} to ${high} after each pass, and ${formatQuantity(value)} is set.`, {
      fixes: () => [writeSetting(document, ['drying', 'pause'], bound, `Set drying.pause to ${bound}`)],
    })
  },
  examples: [
    {
      name: 'too long',
      text: onDrying('mode: m\ndrying:\n  pause: $015 s$0\n'),
      message: 'The printer takes a pause of 0 s to 10 s after each pass, and 15 s is set.',
      after: `${EXAMPLE_HEAD}drying:\n  pause: 10 s\n`,
      fixes: ['Set drying.pause to 10 s'],
    },
    { name: 'at the end of the range', text: onDrying('mode: m\ndrying: {pause: 10 s, run-out: 60 min}\n') },
    {
      name: 'a printer that gives no range',
      text: onDrying('mode: m\ndrying: {pause: 99 s, run-out: 9 h}\n', '', '#- p.printer.yaml\nprinter: p\n'),
      testOnly: true,
    },
    {
      name: 'too short',
      text: onDrying('mode: m\ndrying:\n  pause: $01 s$0\n', undefined, TWO_SECONDS()),
      message: 'The printer takes a pause of 2 s to 10 s after each pass, and 1 s is set.',
      after: `${EXAMPLE_HEAD}drying:\n  pause: 2 s\n`,
      fixes: ['Set drying.pause to 2 s'],
      testOnly: true,
    },
    { name: 'at the lower end', text: onDrying('mode: m\ndrying: {pause: 2 s}\n', undefined, TWO_SECONDS()), testOnly: true },
  ],
})

function TWO_SECONDS(): string {
  return '#- p.printer.yaml\nprinter: p\ndrying: {pause-range: [2 s, 10 s]}\n'
}
