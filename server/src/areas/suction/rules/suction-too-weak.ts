// The suction cannot hold the curl of this stock, whatever the platen: edges or the middle stand up.

import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from '../examples.ts'
import { suctionOf } from '../facts.ts'
import { nextLevel, suctionPlaces } from '../shared.ts'
import { betterText, curlWords, riseLimitWords, riseText, stepText } from '../words.ts'

export const rule = defineRule({
  code: 'suction-too-weak',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The suction leaves a curl standing higher than the print or the heads allow.',
  docs: `A stock that has lain on its core wants back to its curl. Suction presses it flat up to a strip at the edge that stands up by
D / (R² × pressure), with the bending stiffness D and the curl radius R. Drops land early on what stands up, twice that between the two directions, and an edge that stands high is
struck by the heads. This speaks up only where even a platen that holds over its whole face would not do. Raise the suction, cut off the first wraps, or raise the gap and align again.
The carriage is fast and heavy: never hold an edge down by hand.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, up } = facts
    const given = setup.profile.suction
    if (trouble !== 'too-weak' || !current || !given || toldByBase(setup, given, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    report(
      given.place,
      `At ${stepText(current.level, units)} suction leaves ${curlWords(setup)} standing ${riseText(current, units)} high, more than the ${riseLimitWords(facts, current.curl.rise, units)}.${betterText(up, riseText, units)}`,
      { fixes: () => [nextLevel(document, up)] },
    )
  },
  examples: [
    {
      name: 'springy film under little suction',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 4 mm
suction: $01$0
${SPRINGY_FILM}${SUCTION_PRINTER}`,
      message:
        'At level 1 (100 Pa) suction leaves the edges standing 2.9 mm (1.6 to 16) high, more than the 105 µm that the registration tolerance allows.',
    },
    {
      name: 'suction switched off',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
suction: $00$0
${SPRINGY_FILM.replace('wound: in', 'wound: out')}#- p.printer.yaml
printer: p
suction:
  levels: {0: 0 Pa, 1: 2.5 kPa}
  depth: 120 mm
  open-area: 40 %
  hole: 2 mm
`,
      message:
        'At level 0 (0 Pa) suction leaves a bow standing 180 mm high, more than the 300 µm taken as the most (from memory). At level 1 (2.5 kPa) it is 90 µm (63 to 160).',
      fixes: ['Set suction 1'],
    },
    {
      name: 'held',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 4 mm
suction: 4
${SPRINGY_FILM.replace('90 mm', '220 mm')}${SUCTION_PRINTER}`,
    },
    {
      name: 'a curl nobody measured',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 1
#- s.stock.yaml
stock: s
family: film-pp
thickness: 200 µm
${SUCTION_PRINTER}`,
    },
  ],
})
