// A stock wound face in typically lifts its edges so near to the heads that next to nothing is left.

import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { LEAST_FLIGHT } from '../../landing/facts.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from '../examples.ts'
import { suctionOf } from '../facts.ts'
import { liftFixes, suctionPlaces } from '../shared.ts'
import { riseText, smallText, stepText } from '../words.ts'

const CASE = `${SPRINGY_FILM.replace('90 mm', '130 mm')}${SUCTION_PRINTER}carriage: {gaps: [10 mm, 2.5 mm, 1.5 mm, 8.5 mm]}
`

export const rule = defineRule({
  code: 'wound-in-lifts',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'Wound face in, the stock typically lifts its edges up to the heads, or nearly.',
  docs: `A stock wound with its print face in curls its lead end and edges up on the platen (geometry of winding, from memory). How far the suction reaches
under the web is known only between its ends; with half of the lands holding, as is typical, less than half a millimetre is left between the edges and the heads, or nothing (half a millimetre is common
practice). A struck edge wrecks heads and tears the web. Look at the edges before the carriage moves, most of all near the core. Raise the gap and align again, or raise the suction: what is offered leaves that
room at the far end of the range too. Ignore it where they lie flat on every roll. The carriage is fast and heavy: set the gap at rest, guards stay closed, and nobody holds an edge down.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, clearance } = facts
    const { gap, suction } = setup.profile
    if (trouble !== 'lifts' || !current || clearance === undefined || !gap) return
    if (toldByBase(setup, suction, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    const { rise } = current.curl
    const [free, least] = [smallText(clearance, units), smallText(LEAST_FLIGHT, units)]
    const left =
      rise.typical >= clearance
        ? `and only ${free} is left between it and the heads: they may strike`
        : `and of the ${free} below the heads ${smallText(clearance - rise.typical, units)} is left: at least ${least} is common practice`
    report(
      gap.place,
      `Wound in, this stock typically lifts its edges ${riseText(current, units)} at ${stepText(current.level, units)}, ${left}.`,
      { fixes: () => liftFixes(document, setup, facts) },
    )
  },
  examples: [
    {
      name: 'it may reach the heads',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: $01.5 mm$0
suction: 1
${CASE}`,
      message:
        'Wound in, this stock typically lifts its edges 1.4 mm (0.75 to 7.5) at level 1 (100 Pa), and only 1.3 mm is left between it and the heads: they may strike.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 1.5 mm
suction: 4
`,
      fixes: ['Set suction 4', 'Set the gap to 8.5 mm, and align again'],
    },
    {
      name: 'too little is left',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: $02 mm$0
suction: 1
${CASE.replace('3: 800 Pa, 4: 1600 Pa', '3: 500 Pa')}`,
      message:
        'Wound in, this stock typically lifts its edges 1.4 mm (0.75 to 7.5) at level 1 (100 Pa), and of the 1.8 mm below the heads 434 µm is left: at least 500 µm is common practice.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 8.5 mm
suction: 1
`,
      fixes: ['Set the gap to 8.5 mm, and align again'],
    },
    {
      name: 'more suction',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: 1.5 mm
suction: 2
${CASE}`,
    },
  ],
})
