// A stock wound face in typically lifts its edges as high as the heads stand.
import { suctionOf } from '../model/suction.ts'
import { riseText, smallText, stepText } from '../model/suction-words.ts'
import { defineRule } from './rule.ts'
import { liftFixes, suctionPlaces } from './support/suction.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from './support/suction-example.ts'
import { toldByBase } from './support/told-by-base.ts'

/** Curls less, and meets a printer whose registration is loose enough for the height alone to decide. */
const CASE = `${SPRINGY_FILM.replace('90 mm', '130 mm')}${SUCTION_PRINTER}#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {registration: 400 µm}
`

export const rule = defineRule({
  code: 'wound-in-lifts',
  severity: 'hint',
  kinds: ['media'],
  summary: 'Wound face in, the stock typically lifts its edges as high as the heads stand.',
  docs: `A stock wound with its print face in curls its lead end and edges up on the platen (geometry of winding, from memory). How far the suction reaches
under the web is known only between its ends; with half of the lands holding, as is typical, the edges stand as high as the room left between web and heads. Look at the edges before the
carriage moves, most of all near the core. Raise the gap and align again, or raise the suction. Ignore it where they lie flat. Guards stay closed.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const { trouble, current, clearance } = facts
    const { gap, suction } = setup.profile
    if (trouble !== 'lifts' || !current || clearance === undefined || !gap) return
    if (toldByBase(setup, suction, ...suctionPlaces(setup))) return
    const { units } = setup.shop
    report(
      gap.place,
      `Wound in, this stock typically lifts its edges ${riseText(current, units)} at ${stepText(current.level, units)}, and ${smallText(clearance, units)} is left between it and the heads.`,
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
        'Wound in, this stock typically lifts its edges 1.4 mm (0.75 to 7.5) at level 1 (100 Pa), and 1.3 mm is left between it and the heads.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 1.5 mm
suction: 2
`,
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
