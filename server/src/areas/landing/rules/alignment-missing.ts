// A mode that prints both ways, and nobody has laid out and back on each other for it.

import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { landingOf } from '../facts.ts'
import { offsetText } from '../words.ts'

export const rule = defineRule({
  code: 'alignment-missing',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'A mode that prints both ways has no alignment.',
  docs: `Printing out and back lays dots on each other that were fired from opposite sides. Without an alignment for this gap, this stock and this carriage speed, edges
double and fine text softens. Print the alignment pattern on this stock and write the picks in. An alignment is never taken from a base, because it was printed in another
mode. Ignore it where only large solids are printed.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { profile, own } = setup
    if (landingOf(setup).twoWay !== true || !profile.mode) return
    if (!own.alignment)
      report(
        profile.mode.place,
        `Print the alignment pattern: ${profile.mode.value} prints out and back, and there is no alignment of the two.${apart(setup)}`,
      )
    else if (!own.alignment['two-way']?.entries.size && own.alignment['one-way']?.entries.size) {
      const at = own.alignment['one-way'].$
      report(
        at.key!,
        `Print the two-way pattern too: ${profile.mode.value} prints out and back, and the alignment has picks for one way only.${apart(setup)}`,
      )
    }
  },
  examples: [
    {
      name: 'none at all',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: $0standard$0
gap: 1.5 mm
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern: standard prints out and back, and there is no alignment of the two. Before compensation they land about 370 µm (10 pixels) apart.',
    },
    {
      name: 'one way only',
      text: `#- e.media.yaml
profile: e
printer: p
mode: standard
alignment:
  date: 2026-03-24
  $0one-way$0: {cyan: 0, magenta: 1}
${MACHINE}`,
      message: 'Print the two-way pattern too: standard prints out and back, and the alignment has picks for one way only.',
    },
    {
      name: 'a printer that does not describe its pattern',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
mode: $0standard$0
${MACHINE.replace(/alignment: .*\n/, '')}`,
      message: 'Print the alignment pattern: standard prints out and back, and there is no alignment of the two.',
    },
    {
      name: 'a mode that prints one way',
      text: `#- e.media.yaml
profile: e
printer: p
mode: one-way
${MACHINE}`,
    },
  ],
})

function apart(setup: Setup): string {
  const { offset } = landingOf(setup)
  return offset.ok ? ` Before compensation they land about ${offsetText(setup, offset.value.offset.typical, 2)} apart.` : ''
}
