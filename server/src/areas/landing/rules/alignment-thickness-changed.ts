// The stock is thicker or thinner than what the alignment was printed on.

import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { landingOf } from '../facts.ts'
import { relatedTo, shiftedBy } from '../shared.ts'

export const rule = defineRule({
  code: 'alignment-thickness-changed',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The stock differs in thickness from what the alignment was printed on.',
  docs: `The heads stand above the platen, so what the drops fly is the gap less the stock. On another thickness they land elsewhere, and out and back part. Print the
alignment pattern on this stock. Where only the stock's document was put right and the material is the same, put \`alignment.thickness\` right too. Ignore it while the mode
prints one way (computed; a lower bound, since air is carried along).
${READ_PATTERN}`,
  check({ setup, report }) {
    const { since } = landingOf(setup)
    const at = setup.own.alignment?.thickness
    const why = shiftedBy(setup, since?.thickness)
    if (!at || !why) return
    const { before, now } = since!.thickness!
    report(
      at.place,
      `Print the alignment pattern again: it was printed on ${shown(setup, before, 'length')}, and the stock is ${shown(setup, now, 'length')} thick: ${why}`,
      relatedTo(setup.stock?.thickness?.place, 'The thickness of the stock.'),
    )
  },
  examples: [
    {
      name: 'aligned on another stock',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, under: before, thickness: $00.4 mm$0}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern again: it was printed on 400 µm, and the stock is 215 µm thick: by straight flight, out and back now land 52.9 µm (1.5 pixels) apart, and the tolerance is 30 µm.',
      related: ['The thickness of the stock. 215 µm'],
    },
    {
      name: 'a little thicker, within the tolerance',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-24, under: before, thickness: 250 µm}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
    },
  ],
})
