// One ink's pick lies far from those of all others.

import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { landingOf } from '../../landing/facts.ts'
import { signed } from '../../landing/shared.ts'
import { MACHINE } from '../../machine/examples.ts'

export const rule = defineRule({
  code: 'pick-stands-apart',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: "One ink's alignment pick stands apart from the others.",
  docs: `Inks of one carriage usually pick within a patch of each other, since the same gap and speed move them all. One that lies far off was misread (yellow is hard to see),
its head has moved or tilts, or its drops are slower. Look at that row again through a loupe before it is keyed in; where it is real, leave it. A pick counts as apart when it lies
more than 3.5 robust deviations from the median, and no deviation is taken for less than half a patch (Iglewicz and Hoaglin 1993, from memory).
${READ_PATTERN}`,
  check({ setup, report }) {
    const { picks, furthestPick } = landingOf(setup)
    const { alignment } = setup.own
    for (const way of ['one-way', 'two-way'] as const) {
      const found = picks[way]
      if (!found?.ok) continue
      for (const { channel, deviation } of found.value.apart) {
        const pick = alignment?.[way]?.entries.get(channel)
        if (!pick || (furthestPick !== undefined && Math.abs(pick.value) > furthestPick)) continue
        const size = shown(setup, Math.abs(deviation), 'length')
        report(
          pick.place,
          `${channel} picks ${signed(pick.value)}, ${size} from the median of the inks: read that row again, or look at its head.`,
        )
      }
    }
  },
  examples: [
    {
      name: 'three patches away',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: 1, yellow: $0-2$0, black: 1 }
${MACHINE}`,
      message: 'yellow picks -2, 54 µm from the median of the inks: read that row again, or look at its head.',
    },
    {
      name: 'beyond the pattern, which is told by itself',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: 1, yellow: -7, black: 1 }
${MACHINE}`,
      testOnly: true,
    },
    {
      name: 'a patch away',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: 1, yellow: 0, black: 2 }
${MACHINE}`,
    },
    {
      name: 'one-way',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 0, magenta: 0, yellow: $0-3$0, black: 0 }
${MACHINE}`,
      message: 'yellow picks -3, 54 µm from the median of the inks: read that row again, or look at its head.',
      testOnly: true,
    },
    {
      name: 'at the end of the pattern',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: 1, yellow: $0-5$0, black: 1 }
${MACHINE}`,
      message: 'yellow picks -5, 108 µm from the median of the inks: read that row again, or look at its head.',
      testOnly: true,
    },
  ],
})
