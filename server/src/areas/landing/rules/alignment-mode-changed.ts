// The alignment was printed in a mode of another carriage speed, other directions or another resolution.

import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { landingOf } from '../facts.ts'
import { printedIn, shiftedBy, thenAndNow } from '../shared.ts'

export const rule = defineRule({
  code: 'alignment-mode-changed',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The alignment was printed in a mode that lands its dots otherwise.',
  docs: `Drops keep the speed of the carriage while they fall, so at twice the speed they land twice as far from where they were fired. Picks of one mode hold in another only
where the carriage runs at the same speed, in the same directions and on the same grid: nobody reckons one from the other where directions or resolution differ. Print the alignment pattern in this mode. Ignore it on a machine that keeps picks for each speed by itself, or while the mode prints
one way (computed; a lower bound, since air is carried along).
${READ_PATTERN}`,
  check({ setup, report }) {
    const { since } = landingOf(setup)
    const at = setup.own.alignment?.under
    if (!at || !since) return
    const related = thenAndNow(printedIn(setup)?.mode?.place, setup.profile.mode?.place, 'mode')
    if (since.doubt?.kind === 'mode')
      return report(at.place, `Print the alignment pattern again: it was ${since.doubt.reason}.`, related)
    const why = shiftedBy(setup, since.speed)
    if (!why) return
    const { before, now } = since.speed!
    const mode = printedIn(setup)?.mode?.value
    report(
      at.place,
      `Print the alignment pattern again: it was printed in ${mode} at ${shown(setup, before, 'speed')}, and ${setup.profile.mode?.value} runs at ${shown(setup, now, 'speed')}: ${why}`,
      related,
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
alignment: {date: 2026-03-24, under: $0before$0, thickness: 215 µm}
conditions:
  before: {from: profile, stock: s, printer: p, mode: slow, gap: 1.5 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern again: it was printed in slow at 500 mm/s, and standard runs at 1 m/s: by straight flight, out and back now land 184 µm (5.2 pixels) apart, and the tolerance is 30 µm.',
      related: ['The mode then. slow', 'The mode of today. standard'],
    },
    {
      name: 'aligned on a finer grid',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, under: $0before$0, thickness: 215 µm}
conditions:
  before: {from: profile, stock: s, printer: p, mode: half, gap: 1.5 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern again: it was made in half (720 dpi, two-way), and standard (720 x 360 dpi, two-way) is another way to print.',
      related: ['The mode then. half', 'The mode of today. standard'],
    },
    {
      name: 'another mode at the same speed',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, under: before, thickness: 215 µm}
conditions:
  before: {from: profile, stock: s, printer: p, mode: seven, gap: 1.5 mm}
${MACHINE}${FILM}`,
    },
  ],
})
