// A run-out that the printer cannot be set to.

import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { EXAMPLE_HEAD } from '../../heat/shared.ts'
import { dryingOf } from '../facts.ts'
import { onDrying, timeLike } from '../shared.ts'

export const rule = defineRule({
  code: 'run-out-outside',
  severity: 'error',
  risk: 'look',
  kinds: ['media'],
  summary: 'The run-out is outside what the printer can be set to.',
  docs: `The machine cannot be set to this number, so the last print is left for another time than the profile says before it is moved on. Set what the machine takes; where that is
too short, leave the roll in the machine until the last print is dry to a gloved touch, with the machine stopped as its safety documents say.`,
  check({ document, setup, report }) {
    const field = setup.profile.drying?.['run-out']
    const { runOutRange: range } = dryingOf(setup)
    if (!field || !range || toldByBase(setup, field, setup.profile.printer)) return
    const { value, place } = field
    const end = endPassed(value.si, range, 'time')
    if (end === undefined) return
    const [low, high] = range.map((time) => timeLike(time, value))
    const bound = timeLike(range[end], value)
    report(place, `The printer takes a run-out of ${low} to ${high}, and ${formatQuantity(value)} is set.`, {
      fixes: () => [writeSetting(document, ['drying', 'run-out'], bound, `Set drying.run-out to ${bound}`)],
    })
  },
  examples: [
    {
      name: 'too long',
      text: onDrying('mode: m\ndrying:\n  run-out: $02 h$0\n'),
      message: 'The printer takes a run-out of 0 h to 1 h, and 2 h is set.',
      after: `${EXAMPLE_HEAD}drying:\n  run-out: 1 h\n`,
      fixes: ['Set drying.run-out to 1 h'],
    },
    { name: 'at the end of the range', text: onDrying('mode: m\ndrying: {pause: 10 s, run-out: 60 min}\n') },
    {
      name: 'a printer that gives no range',
      text: onDrying('mode: m\ndrying: {pause: 99 s, run-out: 9 h}\n', '', '#- p.printer.yaml\nprinter: p\n'),
      testOnly: true,
    },
    {
      name: 'too short',
      text: onDrying('mode: m\ndrying:\n  run-out: $01 min$0\n', undefined, FIVE_MINUTES()),
      message: 'The printer takes a run-out of 5 min to 60 min, and 1 min is set.',
      after: `${EXAMPLE_HEAD}drying:\n  run-out: 5 min\n`,
      fixes: ['Set drying.run-out to 5 min'],
      testOnly: true,
    },
    {
      name: 'at the lower end',
      text: onDrying('mode: m\ndrying: {run-out: 300 s}\n', undefined, FIVE_MINUTES()),
      testOnly: true,
    },
  ],
})

function FIVE_MINUTES(): string {
  return '#- p.printer.yaml\nprinter: p\ndrying: {run-out-range: [5 min, 60 min]}\n'
}
