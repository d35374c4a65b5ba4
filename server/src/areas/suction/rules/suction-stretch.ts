// The drag of the suction stretches the web by more than the shop's length tolerance, and the print relaxes by as much.

import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { allowedStretchText } from '../../web/words.ts'
import { SOFT_FILM, SUCTION_PRINTER } from '../examples.ts'
import { suctionOf } from '../facts.ts'
import { lowerLevel, suctionPlaces } from '../shared.ts'
import { betterText, dragText, stepText, stretchText } from '../words.ts'

export const rule = defineRule({
  code: 'suction-stretch',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'The drag of the suction typically stretches the web by more than the length tolerance.',
  docs: `Suction drags on the web as it moves: friction × pressure × length of the suction zone, over the part of the platen that holds (from the
openings alone to all of it, an assumption). What is printed on stretched film comes out shorter once it relaxes. The feed correction takes that up, but only as
long as suction, heat and lot stay the same, so every small change shows as a length error. Take the suction down as far as the web still lies flat. Ignore it where
length checks on the relaxed print agree over several rolls. A lifted edge is the worse fault: never below what holds the curl.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, down } = facts
    const given = setup.profile.suction
    if (trouble !== 'stretch' || !current || !given || toldByBase(setup, given, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    report(
      given.place,
      `At ${stepText(current.level, units)} suction typically drags ${dragText(current, units)} and stretches the web by ${stretchText(current, units)}, more than the ${allowedStretchText(setup)} the shop allows.${betterText(down, stretchText, units)}`,
      { fixes: () => [lowerLevel(document, setup, facts)] },
    )
  },
  examples: [
    {
      name: 'soft film under a strong level',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: $03$0
${SOFT_FILM}${SUCTION_PRINTER}`,
      message:
        'At level 3 (800 Pa) suction typically drags 16 N/m (2.9 to 29) and stretches the web by 0.88 mm/m (0.16 to 1.6), more than the 0.5 mm/m the shop allows. At level 2 (400 Pa) it is 0.44 mm/m (0.08 to 0.8).',
      after: `profile: e
stock: s
printer: p
mode: m
suction: 2
`,
      fixes: ['Set suction 2'],
    },
    {
      name: 'one level down',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 2
${SOFT_FILM}${SUCTION_PRINTER}`,
    },
    {
      name: 'cloth lets the air through',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 4
#- s.stock.yaml
stock: s
family: textile-knit
thickness: 300 µm
modulus: 10 MPa
${SUCTION_PRINTER}`,
    },
  ],
})
