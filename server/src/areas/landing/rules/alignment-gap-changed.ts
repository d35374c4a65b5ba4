// The heads stand at another height than when the alignment was printed.

import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { landingOf } from '../facts.ts'
import { printedIn, shiftedBy, thenAndNow } from '../shared.ts'

export const rule = defineRule({
  code: 'alignment-gap-changed',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The gap has changed since the alignment was printed.',
  docs: `Drops that fly further land further from where they were fired, to the right on the way out and to the left on the way back. A new gap therefore doubles the
edges of everything printed two ways, until the alignment pattern is printed again at that gap. Do not lower the gap to get the old alignment back if the heads have
touched: heads come first. Set the gap with the carriage at rest, as the machine's safety documents say. Ignore it while the mode prints one way (computed: twice the
carriage speed, over the drop speed, times the change; a lower bound, since air is carried along).`,
  check({ setup, report }) {
    const { since } = landingOf(setup)
    const at = setup.own.alignment?.under
    const why = shiftedBy(setup, since?.gap)
    if (!at || !why) return
    const { before, now } = since!.gap!
    report(
      at.place,
      `Print the alignment pattern again: it was printed at a gap of ${shown(setup, before, 'length')}, and the gap is ${shown(setup, now, 'length')}: ${why}`,
      thenAndNow(printedIn(setup)?.gap?.place, setup.profile.gap?.place, 'gap'),
    )
  },
  examples: [
    {
      name: 'raised after a head strike',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 2.0 mm
alignment: {date: 2026-03-24, under: $0before$0, thickness: 215 µm}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern again: it was printed at a gap of 1.5 mm, and the gap is 2 mm: by straight flight, out and back now land 143 µm (4 pixels) apart, and the tolerance is 30 µm.',
      related: ['The gap then. 1.5 mm', 'The gap of today. 2.0 mm'],
    },
    {
      name: 'lowered',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, under: $0before$0}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 2 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern again: it was printed at a gap of 2 mm, and the gap is 1.5 mm: by straight flight, out and back now land 143 µm (4 pixels) apart, and the tolerance is 30 µm.',
      related: ['The gap then. 2 mm', 'The gap of today. 1.5 mm'],
      testOnly: true,
    },
    {
      name: 'in a mode that prints one way',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: one-way
gap: 2.0 mm
alignment: {date: 2026-03-24, under: before}
conditions:
  before: {from: profile, stock: s, printer: p, mode: one-way, gap: 1.5 mm}
${MACHINE}${FILM}`,
      testOnly: true,
    },
    {
      name: 'the same gap in inches',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 0.1 in
alignment: {date: 2026-03-24, under: before}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 2.54 mm}
${MACHINE}${FILM}`,
    },
    {
      name: 'of another machine',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 2.0 mm
alignment: {date: 2026-03-24, under: before}
conditions:
  before: {from: profile, stock: s, printer: other, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      testOnly: true,
    },
  ],
})
