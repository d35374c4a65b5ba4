// The print is wound up before it is dry to the touch, at the speed of the job.

import { duration, durationText } from '../../../model/heat-words.ts'
import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { EXAMPLE_HEAD } from '../../heat/shared.ts'
import { dryingOf } from '../facts.ts'
import { DRYING_STOCK, dryingPause, onDrying } from '../shared.ts'

export const rule = defineRule({
  code: 'drying-too-short',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The print reaches the roll before it is dry to the touch.',
  docs: `The web takes so long from the print to the roll, and the stock's \`dry-touch\` says how long a print needs, brought to the temperatures of this way by the usual rule that 10 K
more halve the time (8 to 15; common practice). It is told only where the time is too short at every value of that rule: the print sticks to the back of the next lap, loses its gloss or
marks. Give it a pause after each pass (the fix), more heat behind the platen, less ink, or a slower mode; the run-out does not help, since it is for the last print only. Ignore it where
jobs are taken off flat, or where a fan dries the print faster than the data sheet says. Caution: solvent that is wound in comes out later; ventilate, keep ignition sources and static
away, and follow the safety data sheet of the ink, local codes and licensed practice.`,
  check({ document, setup, report }) {
    const facts = dryingOf(setup)
    const { profile, own } = setup
    if (facts.margin?.verdict !== 'wet' || !facts.winding.ok || !facts.needed.ok || !facts.pass.ok) return
    const pause = profile.drying?.pause
    if (toldByBase(setup, pause, profile.mode, profile.stock, profile.printer, profile.heat?.after)) return
    const at = pause?.place ?? own.drying?.$ ?? profile.mode?.place
    if (!at) return
    const dries = dryingPause(facts)
    const fixes = () => {
      if (dries === undefined) return []
      const text = `${dries} s`
      return [writeSetting(document, ['drying', 'pause'], text, `Set drying.pause to ${text}`)]
    }
    const { winding, needed, pass } = facts
    report(
      at.key && at.node.kind === 'map' ? at.key : at,
      `At ${shown(setup, pass.value.webSpeed, 'speed', 2)} a print is on the roll after ${duration(winding.value.running)}, and on this way it typically takes ${durationText(needed.value.time)} to be dry to the touch.`,
      { fixes },
    )
  },
  examples: [
    {
      name: 'a fast mode',
      text: onDrying('mode: fast\nheat: {after: 50 °C}\ndrying:\n  pause: $00 s$0\n'),
      message:
        'At 6.5 mm/s a print is on the roll after 3.6 min, and on this way it typically takes 10 min (8.7 to 12) to be dry to the touch.',
      after: `${EXAMPLE_HEAD.replace('mode: m', 'mode: fast')}heat: {after: 50 °C}\ndrying:\n  pause: 4.7 s\n`,
      fixes: ['Set drying.pause to 4.7 s'],
    },
    {
      name: 'no pause yet',
      text: onDrying('mode: fast\nheat: {after: 50 °C}\n$0drying$0:\n  run-out: 5 min\n'),
      message:
        'At 6.5 mm/s a print is on the roll after 3.6 min, and on this way it typically takes 10 min (8.7 to 12) to be dry to the touch.',
      after: `${EXAMPLE_HEAD.replace('mode: m', 'mode: fast')}heat: {after: 50 °C}\ndrying:\n  run-out: 5 min\n  pause: 4.7 s\n`,
      fixes: ['Set drying.pause to 4.7 s'],
      testOnly: true,
    },
    {
      name: 'no pause the machine takes would dry it',
      text: onDrying('mode: $0fast$0\nheat: {after: 40 °C}\n', DRYING_STOCK.replace('6 min', '40 min')),
      message:
        'At 6.5 mm/s a print is on the roll after 3.6 min, and on this way it typically takes 1.6 h (1.2 to 2.1) to be dry to the touch.',
      testOnly: true,
    },
    { name: 'slow enough', text: onDrying('mode: m\nheat: {after: 50 °C}\ndrying: {pause: 0 s}\n') },
    { name: 'may be dry or not', text: onDrying('mode: m\nheat: {after: 44 °C}\n'), testOnly: true },
    { name: 'the heater behind the platen is not set yet', text: onDrying('mode: fast\n'), testOnly: true },
  ],
})
