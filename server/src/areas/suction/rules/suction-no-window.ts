// No suction of this printer both holds this stock flat and leaves its length and face alone: something else has to give.
import type { SuctionRow } from '../../../calc/suction-window.ts'
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { allowedStretchText } from '../../web/words.ts'
import { PRESSURE_PRINTER, SUCTION_PRINTER } from '../examples.ts'
import { DIMPLE_SHOWS, type SuctionFacts, type SuctionStep, suctionOf } from '../facts.ts'
import { suctionPlaces } from '../shared.ts'
import { curlWords, dimpleText, riseLimitWords, riseText, smallText, stepText, stretchText } from '../words.ts'

const LIMP_AND_CURLED = `#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 100 µm
modulus: 0.3 GPa
poisson: 0.4
friction: 0.8
curl-radius: 38 mm
`

export const rule = defineRule({
  code: 'suction-no-window',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'No suction of the printer typically holds this stock flat without stretching or dimpling it.',
  docs: `Weak suction leaves the curl, strong suction stretches the web or draws it into the holes, and on this pairing the two meet: by typical figures
no setting does neither. Hold the curl first, for a lifted edge is a head strike, and take the rest up elsewhere: cut off the first wraps, let the roll rest warm, cover
the holes beside the web, or check the length on the relaxed print and accept its correction. Ignore it where the prints are right.`,
  check({ setup, report }) {
    const facts = suctionOf(setup)
    const given = setup.profile.suction
    if (facts.trouble !== 'no-window' || !facts.current || !given || toldByBase(setup, given, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    const others = facts.levels.length > 0 ? `no level of ${setup.profile.printer!.value}` : 'no pressure'
    report(
      given.place,
      `By typical figures ${others} holds this stock without harm: ${stepText(facts.current.level, units)} ${harms(setup, facts, facts.current)}.`,
    )
  },
  examples: [
    {
      name: 'limp film with a strong curl',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: $03$0
${LIMP_AND_CURLED}${SUCTION_PRINTER}`,
      message:
        'By typical figures no level of p holds this stock without harm: level 3 (800 Pa) stretches it by 1.4 mm/m (0.26 to 2.6) when 0.5 mm/m is allowed.',
    },
    {
      name: 'by pressure',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: $0400 Pa$0
${LIMP_AND_CURLED.replace('38 mm', '20 mm')}${PRESSURE_PRINTER}`,
      message:
        'By typical figures no pressure holds this stock without harm: 400 Pa leaves a curl standing 340 µm (190 to 1900) high, more than the 300 µm taken as the most (from memory) and stretches it by 0.7 mm/m (0.13 to 1.3) when 0.5 mm/m is allowed.',
    },
    {
      name: 'less curl',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 1
${LIMP_AND_CURLED.replace('38 mm', '600 mm')}${SUCTION_PRINTER}`,
    },
  ],
})

function harms(setup: Setup, facts: SuctionFacts, row: SuctionRow<SuctionStep>): string {
  const { units } = setup.shop
  const told = row.faults.map((fault) =>
    fault === 'curl'
      ? `leaves ${curlWords(setup)} standing ${riseText(row, units)} high, more than the ${riseLimitWords(facts, row.curl.rise, units)}`
      : fault === 'stretch'
        ? `stretches it by ${stretchText(row, units)} when ${allowedStretchText(setup)} is allowed`
        : `draws dimples ${dimpleText(row, units)} deep (they show from ${smallText(DIMPLE_SHOWS.typical, units)})`,
  )
  return listed(told)
}
