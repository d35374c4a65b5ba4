// The carriage runs at another speed than when the alignment was printed.

import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { landingOf } from '../facts.ts'
import { relatedTo, shiftedBy } from '../shared.ts'

export const rule = defineRule({
  code: 'alignment-mode-changed',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The carriage runs at another speed than when the alignment was printed.',
  docs: `Drops keep the speed of the carriage while they fall, so at twice the speed they land twice as far from where they were fired. Picks of one mode hold in another only
where the carriage runs at the same speed. Print the alignment pattern in this mode. Ignore it on a machine that keeps picks for each speed by itself, or while the mode prints
one way (computed; a lower bound, since air is carried along).
${READ_PATTERN}`,
  check({ setup, report }) {
    const { since } = landingOf(setup)
    const at = setup.own.alignment?.mode
    const why = shiftedBy(setup, since?.speed)
    if (!at || !why) return
    const { before, now } = since!.speed!
    report(
      at.place,
      `The alignment was printed in ${at.value} at ${shown(setup, before, 'speed')}, and ${setup.profile.mode?.value} runs at ${shown(setup, now, 'speed')}: ${why}`,
      relatedTo(setup.profile.mode?.place, 'The mode of today.'),
    )
  },
  examples: [
    {
      name: 'aligned in a slower mode',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, gap: 1.5 mm, thickness: 215 µm, mode: $0slow$0}
${MACHINE}${FILM}`,
      message:
        'The alignment was printed in slow at 500 mm/s, and standard runs at 1 m/s: by straight flight, out and back now land 184 µm (5.2 pixels) apart, and the tolerance is 30 µm. Print the alignment pattern again.',
      related: ['The mode of today. standard'],
    },
    {
      name: 'another mode at the same speed',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, gap: 1.5 mm, thickness: 215 µm, mode: half}
${MACHINE}${FILM}`,
    },
  ],
})
