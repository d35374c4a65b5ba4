// The suction typically leaves the curl of this stock standing too high, and a stronger level would hold it.

import { defineRule } from '../../../rules/rule.ts'
import { LOOK_FROM_OUTSIDE } from '../../../rules/support/cautions.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from '../examples.ts'
import { suctionOf } from '../facts.ts'
import { nextLevel, suctionPlaces } from '../shared.ts'
import { betterText, curlWords, riseLimitWords, riseText, stepText } from '../words.ts'

const MILD = SPRINGY_FILM.replace('90 mm', '400 mm').replace('wound: in', 'wound: out')

export const rule = defineRule({
  code: 'suction-may-not-hold',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The suction typically leaves a curl standing higher than the print allows.',
  docs: `How far the suction reaches under the web is not known, only its ends: the openings alone, or the whole platen. With half of the lands holding,
as is typical, the edge of this stock stands up further than the shop's registration or the gap allows. Look at the edge near the end of a roll, where the curl is
strongest. Ignore it where the edges lie flat; a lifted edge is a head strike.
${LOOK_FROM_OUTSIDE}`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, up } = facts
    const given = setup.profile.suction
    if (trouble !== 'may-not-hold' || !current || !given || toldByBase(setup, given, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    const [rise, limit] = [riseText(current, units), riseLimitWords(facts, current.curl.rise, units)]
    const above = limit.startsWith(`${rise.split(' (')[0]} `) ? 'just over' : 'more than'
    report(
      given.place,
      `At ${stepText(current.level, units)} suction typically leaves ${curlWords(setup)} standing ${rise} high, ${above} the ${limit}.${betterText(up, riseText, units)}`,
      { fixes: () => [nextLevel(document, up)] },
    )
  },
  examples: [
    {
      name: 'one level too low',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: $01$0
${MILD}${SUCTION_PRINTER}`,
      message:
        'At level 1 (100 Pa) suction typically leaves a bow standing 140 µm (79 to 790) high, more than the 105 µm that the registration tolerance allows. At level 2 (400 Pa) it is 36 µm (20 to 200).',
      after: `profile: e
stock: s
printer: p
mode: m
suction: 2
`,
      fixes: ['Set suction 2'],
    },
    {
      name: 'by less than the figures show',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: $01$0
${MILD}${SUCTION_PRINTER.replace('100 Pa', '142 Pa').replace('7 m/s', '7.6 m/s').replace('1000 mm/s', '1140 mm/s')}`,
      message:
        'At level 1 (142 Pa) suction typically leaves a bow standing 100 µm (56 to 560) high, just over the 100 µm that the registration tolerance allows. At level 2 (400 Pa) it is 36 µm (20 to 200).',
      fixes: ['Set suction 2'],
      testOnly: true,
    },
    {
      name: 'held',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 3
${MILD}${SUCTION_PRINTER}`,
    },
  ],
})
