// A stock wound face in lifts its edges into the path of the heads, whatever the platen holds.

import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from '../examples.ts'
import { suctionOf } from '../facts.ts'
import { liftFixes, suctionPlaces } from '../shared.ts'
import { riseText, smallText, stepText } from '../words.ts'

export const rule = defineRule({
  code: 'wound-in-strikes',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'Wound face in, the stock lifts its edges as high as the heads stand.',
  docs: `A stock wound with its print face in was shorter on that face, so its lead end and edges curl up on the platen (geometry of winding, from
memory). This suction leaves them standing as high as the room left between web and heads, even if the whole platen held. The heads then strike the edge: they are damaged, and the web is torn
along. Raise the gap and align again, raise the suction, or cut off the first wraps: what is offered leaves half a millimetre below the heads (common practice) at the far end of the range. The carriage is fast and heavy: guards stay closed, and nobody holds an edge down.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, clearance } = facts
    const { gap, suction } = setup.profile
    if (trouble !== 'strikes' || !current || clearance === undefined || !gap) return
    if (toldByBase(setup, suction, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    report(
      gap.place,
      `Wound in, this stock lifts its edges ${riseText(current, units)} at ${stepText(current.level, units)}, and only ${smallText(clearance, units)} is left between it and the heads: they will strike.`,
      { fixes: () => liftFixes(document, setup, facts) },
    )
  },
  examples: [
    {
      name: 'springy film, little suction, low heads',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: $01.5 mm$0
suction: 1
${SPRINGY_FILM}${SUCTION_PRINTER}carriage: {gaps: [4 mm, 1.5 mm, 2 mm]}
`,
      message:
        'Wound in, this stock lifts its edges 2.9 mm (1.6 to 16) at level 1 (100 Pa), and only 1.3 mm is left between it and the heads: they will strike.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 2 mm
suction: 4
`,
      fixes: ['Set suction 4, set the gap to 2 mm, and align again'],
    },
    {
      name: 'a platen of one level, its gaps in no order',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: $01.5 mm$0
suction: 1
${SPRINGY_FILM}${SUCTION_PRINTER.replace('{1: 100 Pa, 2: 400 Pa, 3: 800 Pa, 4: 1600 Pa}', '{1: 100 Pa}').replace('10 %', '40 %')}carriage: {gaps: [6 mm, 1.5 mm, 4 mm, 5 mm]}
`,
      message:
        'Wound in, this stock lifts its edges 2.2 mm (1.6 to 3.9) at level 1 (100 Pa), and only 1.3 mm is left between it and the heads: they will strike.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 5 mm
suction: 1
`,
      fixes: ['Set the gap to 5 mm, and align again'],
    },
    {
      name: 'wound out, the edges press down',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 1.5 mm
suction: 1
${SPRINGY_FILM.replace('wound: in', 'wound: out')}${SUCTION_PRINTER}`,
    },
    {
      name: 'no gap given',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 1
${SPRINGY_FILM}${SUCTION_PRINTER}`,
    },
  ],
})
