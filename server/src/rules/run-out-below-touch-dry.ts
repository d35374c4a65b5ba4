// The last print is moved on and wound before it can be dry to the touch.
import { dryingOf } from '../model/drying.ts'
import { duration, durationText } from '../model/heat-words.ts'
import { formatQuantity, toStep } from '../quantities/format.ts'
import { defineRule } from './rule.ts'
import { DRYING_STOCK, onDrying, timeLike } from './support/drying.ts'
import { EXAMPLE_HEAD } from './support/heat.ts'
import { writeSetting } from './support/setting.ts'
import { toldByBase } from './support/told-by-base.ts'

export const rule = defineRule({
  code: 'run-out-below-touch-dry',
  severity: 'warning',
  kinds: ['media'],
  summary: 'The last print is wound before it can be dry to the touch.',
  docs: `What was printed last has not the whole job behind it: it waits for the run-out and is then moved on to the roll. Even counted as warm as the warmest place of its way all that
time, it is wound wet at every value of the usual drying rule (10 K more halve the time, 8 to 15; common practice). Lengthen the run-out, or take the last print off flat. Ignore it where
jobs follow one another without a gap. Caution: let hot parts cool and moving ones stop before you touch a print, with gloves; the safety documents of the machine come first.`,
  check({ document, setup, report }) {
    const { last, runOutRange } = dryingOf(setup)
    const { profile } = setup
    const runOut = profile.drying?.['run-out']
    if (!last || !runOut || last.available >= last.needed.low) return
    if (toldByBase(setup, runOut, profile.stock, profile.printer, profile.heat?.after, profile.heat?.platen)) return
    const enough = toStep(last.needed.typical - last.wound, HALF_MINUTE, 'up')
    const fixes = () => {
      if (enough === undefined || !runOutRange || enough < runOutRange[0] || enough > runOutRange[1]) return []
      const text = timeLike(enough, runOut.value)
      return [writeSetting(document, ['drying', 'run-out'], text, `Set drying.run-out to ${text}`)]
    }
    report(
      runOut.place,
      `The last print waits ${formatQuantity(runOut.value)} and is on the roll ${duration(last.wound)} later, but typically takes ${durationText(last.needed)} to be dry to the touch even at the warmest place.`,
      { fixes },
    )
  },
  examples: [
    {
      name: 'too short a wait',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying:\n  run-out: $02 min$0\nweb: {speed: 60 mm/s}\n'),
      message:
        'The last print waits 2 min and is on the roll 23 s later, but typically takes 5.9 min (5.3 to 6.8) to be dry to the touch even at the warmest place.',
      after: `${EXAMPLE_HEAD}heat: {platen: 40 °C, after: 46 °C}\ndrying:\n  run-out: 5.5 min\nweb: {speed: 60 mm/s}\n`,
    },
    {
      name: 'long enough',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying: {run-out: 7 min}\nweb: {speed: 60 mm/s}\n'),
    },
    {
      name: 'a cold web needs longer than the machine waits',
      text: onDrying(
        'mode: m\nheat: {platen: 30 °C, after: 30 °C}\ndrying: {run-out: $030 min$0}\nweb: {speed: 60 mm/s}\n',
        DRYING_STOCK.replace('6 min', '60 min'),
      ),
      message:
        'The last print waits 30 min and is on the roll 23 s later, but typically takes 2.4 h (1.8 to 3.1) to be dry to the touch even at the warmest place.',
      testOnly: true,
    },
    {
      name: 'the speed of the web is not known',
      text: onDrying('mode: m\nheat: {platen: 40 °C, after: 46 °C}\ndrying: {run-out: 2 min}\n'),
      testOnly: true,
    },
  ],
})

/** s, to which a run-out is rounded up. */
const HALF_MINUTE = 30
