// The suction draws thin film into its holes deep enough to show.

import { defineRule } from '../../../rules/rule.ts'
import { LOOK_FROM_OUTSIDE } from '../../../rules/support/cautions.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { DIMPLE_SHOWS, suctionOf } from '../facts.ts'
import { lowerLevel, suctionPlaces } from '../shared.ts'
import { dimpleText, smallText, stepText } from '../words.ts'

const THIN_ON_WIDE_HOLES = `#- s.stock.yaml
stock: s
family: film-pet
thickness: 50 µm
modulus: 4.5 GPa
poisson: 0.38
friction: 0.2
curl-radius: 1200 mm
#- p.printer.yaml
printer: p
suction:
  levels: {1: 100 Pa, 2: 4 kPa}
  depth: 60 mm
  open-area: 20 %
  hole: 6 mm
`

export const rule = defineRule({
  code: 'suction-dimples',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The suction draws the film into its holes so far that the pattern shows.',
  docs: `Over a hole the film is a small drum skin: the suction draws it in by an amount that grows with the fourth power of the hole's width. On a
smooth face a dent shows from about 10 µm (5 to 20 µm, from memory); this speaks up only beyond the whole of that. The drops fly further there as well. Warm film is softer
than the figure says, so heat makes it worse. Spots at the pitch of the holes without this finding are usually cold spots: the holes draw air. Taking suction away
lets edges rise: watch them, and the gap.
${LOOK_FROM_OUTSIDE}`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current } = facts
    const given = setup.profile.suction
    if (trouble !== 'dimples' || !current || !given || toldByBase(setup, given, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    const hole = setup.printer?.suction?.hole
    const over = hole ? ` over holes of ${smallText(hole.value.si, units)}` : ''
    report(
      given.place,
      `At ${stepText(current.level, units)} suction draws dimples ${dimpleText(current, units)} deep${over}; from ${smallText(DIMPLE_SHOWS.typical, units)} (typical) they show.`,
      { fixes: () => [lowerLevel(document, setup, facts)] },
    )
  },
  examples: [
    {
      name: 'thin film over wide holes',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
suction: $02$0
${THIN_ON_WIDE_HOLES}`,
      message: 'At level 2 (4 kPa) suction draws dimples 57 µm deep over holes of 6 mm; from 10 µm (typical) they show.',
      after: `profile: e
stock: s
printer: p
suction: 1
`,
      fixes: ['Set suction 1'],
    },
    {
      name: 'gently',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
suction: 1
${THIN_ON_WIDE_HOLES}`,
    },
  ],
})
