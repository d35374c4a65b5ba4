// The last print is moved on and wound before it can be dry to the touch.

import { duration, durationText } from '../../../model/heat-words.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { EXAMPLE_HEAD } from '../../heat/shared.ts'
import { dryingOf } from '../facts.ts'
import { DRYING_PRINTER, DRYING_STOCK, dryingRunOut, onDrying, timeLike } from '../shared.ts'
import { heldText } from '../words.ts'

export const rule = defineRule({
  code: 'run-out-below-touch-dry',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The last print is wound before it can be dry to the touch.',
  docs: `What was printed last has not the whole job behind it: it waits for the run-out and is then moved on to the roll. Even counted as warm as the warmest place of its way all that
time, it is wound wet at every value of the usual drying rule (10 K more halve the time, 8 to 15; common practice). In truth it is held on the platen and passes what is warmer in
seconds, so the run-out that is offered is the longest it may need on the platen, or the longest of the printer where that is less. Lengthen the run-out, or take the last print off
flat. Ignore it where jobs follow one another without a gap. Caution: let hot parts cool and moving ones stop before you touch a print, with gloves; the safety documents of the machine come first.`,
  check({ document, setup, report }) {
    const facts = dryingOf(setup)
    const { last, held } = facts
    const { profile, shop } = setup
    const runOut = profile.drying?.['run-out']
    if (!last || !runOut || last.available >= last.needed.low) return
    if (toldByBase(setup, runOut, profile.stock, profile.printer, profile.heat?.after, profile.heat?.platen)) return
    const offered = dryingRunOut(facts)
    const where = held.ok ? heldText(held.value, shop.units) : ''
    // Where the platen is the warmest place, once is enough.
    const cooler = held.ok && held.value.needed.typical > 1.02 * last.needed.typical
    const there = cooler ? `, and ${durationText(held.value.needed)} ${where}` : ''
    const short =
      offered?.enough === false
        ? ` The printer takes ${timeLike(offered.runOut, runOut.value)} at most, which may be too short: take it off flat.`
        : ''
    const fixes = () => {
      if (!offered || offered.runOut <= runOut.value.si) return []
      const text = timeLike(offered.runOut, runOut.value)
      const why = offered.enough ? '' : `, the longest of the printer: ${where} it may need more`
      return [writeSetting(document, ['drying', 'run-out'], text, `Set drying.run-out to ${text}${why}`)]
    }
    report(
      runOut.place,
      `The last print waits ${formatQuantity(runOut.value)} and is on the roll ${duration(last.wound)} later, but typically takes ${durationText(last.needed)} to be dry to the touch even at the warmest place${there}.${short}`,
      { fixes },
    )
  },
  examples: [
    {
      name: 'too short a wait',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying:\n  run-out: $02 min$0\nweb: {speed: 60 mm/s}\n'),
      message:
        'The last print waits 2 min and is on the roll 23 s later, but typically takes 5.9 min (5.3 to 6.8) to be dry to the touch even at the warmest place, and 7.9 min (6.9 to 9.9) held on the platen at 38 °C (36 to 39).',
      after: `${EXAMPLE_HEAD}heat: {platen: 40 °C, after: 46 °C}\ndrying:\n  run-out: 10 min\nweb: {speed: 60 mm/s}\n`,
      fixes: ['Set drying.run-out to 10 min'],
    },
    {
      name: 'long enough',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying: {run-out: 7 min}\nweb: {speed: 60 mm/s}\n'),
    },
    {
      name: 'the printer does not wait long enough for a cool platen',
      text: onDrying(
        'mode: m\nheat: {platen: 30 °C, after: 46 °C}\ndrying:\n  run-out: $02 min$0\nweb: {speed: 60 mm/s}\n',
        DRYING_STOCK,
        DRYING_PRINTER.replace('60 min]', '10 min]'),
      ),
      message:
        'The last print waits 2 min and is on the roll 23 s later, but typically takes 5.9 min (5.3 to 6.8) to be dry to the touch even at the warmest place, and 15 min (11 to 20) held on the platen at 29 °C (28 to 30). The printer takes 10 min at most, which may be too short: take it off flat.',
      after: `${EXAMPLE_HEAD}heat: {platen: 30 °C, after: 46 °C}\ndrying:\n  run-out: 10 min\nweb: {speed: 60 mm/s}\n`,
      fixes: [
        'Set drying.run-out to 10 min, the longest of the printer: held on the platen at 29 °C (28 to 30) it may need more',
      ],
    },
    {
      name: 'a platen without a heater is as cold as the room',
      text: onDrying(
        'mode: m\nheat: {after: 46 °C}\ndrying:\n  run-out: $02 min$0\nweb: {speed: 60 mm/s}\n',
        DRYING_STOCK,
        DRYING_PRINTER.replace(/ {2}platen: .*\n/, ''),
      ),
      message:
        'The last print waits 2 min and is on the roll 23 s later, but typically takes 5.9 min (5.3 to 6.9) to be dry to the touch even at the warmest place, and 22 min (11 to 48) held on the platen, which is not heated, at the 23 °C (18 to 28) of the room.',
      after: `${EXAMPLE_HEAD}heat: {after: 46 °C}\ndrying:\n  run-out: 48 min\nweb: {speed: 60 mm/s}\n`,
      fixes: ['Set drying.run-out to 48 min'],
      testOnly: true,
    },
    {
      name: 'a cold web needs longer than the machine waits',
      text: onDrying(
        'mode: m\nheat: {platen: 30 °C, after: 30 °C}\ndrying: {run-out: $030 min$0}\nweb: {speed: 60 mm/s}\n',
        DRYING_STOCK.replace('6 min', '60 min'),
      ),
      message:
        'The last print waits 30 min and is on the roll 23 s later, but typically takes 2.4 h (1.8 to 3.1) to be dry to the touch even at the warmest place. The printer takes 60 min at most, which may be too short: take it off flat.',
      fixes: [
        'Set drying.run-out to 60 min, the longest of the printer: held on the platen at 29 °C (28 to 30) it may need more',
      ],
      testOnly: true,
    },
    {
      name: 'a platen whose heat is not given',
      text: onDrying('mode: m\nheat: {after: 46 °C}\ndrying:\n  run-out: $02 min$0\nweb: {speed: 60 mm/s}\n'),
      message:
        'The last print waits 2 min and is on the roll 23 s later, but typically takes 5.9 min (5.3 to 6.9) to be dry to the touch even at the warmest place, and 22 min (11 to 48) held on the platen, whose heat is not given, at the 23 °C (18 to 28) of the room.',
      fixes: ['Set drying.run-out to 48 min'],
      testOnly: true,
    },
    {
      name: 'the speed of the web is not known',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying: {run-out: 2 min}\n'),
      testOnly: true,
    },
  ],
})
