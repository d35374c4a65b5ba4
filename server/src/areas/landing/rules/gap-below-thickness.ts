// The heads stand so low that the stock nearly or really touches them.

import { shown } from '../../../model/shown.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { SPRINGY_FILM, SUCTION_PRINTER } from '../../suction/examples.ts'
import { suctionOf } from '../../suction/facts.ts'
import { noRoom, setGap } from '../../suction/shared.ts'
import { LEAST_FLIGHT } from '../facts.ts'
import { gapsWithRoom, leavesRoom } from '../head-room.ts'
import { relatedTo } from '../shared.ts'

export const rule = defineRule({
  code: 'gap-below-thickness',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The gap leaves the stock no room below the heads.',
  docs: `The gap is counted from the platen, so the stock takes its thickness away from it. Less than about half a millimetre above the stock is too little for any web (common
practice): an edge, a splice or a bubble then touches heads that move at a metre a second, which wrecks heads and tears the web. Raise the gap with the carriage at rest and
hands clear, as the machine's safety documents say, and print the alignment pattern again. Curl and cockle need more than this.`,
  check({ document, setup, report }) {
    const { gap } = setup.profile
    const { thickness } = setup.material
    if (!gap || thickness === undefined || toldByBase(setup, gap, setup.profile.stock)) return
    if (leavesRoom(gap.value.si, thickness, undefined)) return
    const left = gap.value.si - thickness
    const stock = shown(setup, thickness, 'length')
    const least = shown(setup, LEAST_FLIGHT, 'length')
    const why =
      left > 0
        ? `leaves ${shown(setup, left, 'length')} above the ${stock} of stock, and at least ${least} is common practice`
        : `is no higher than the stock, which is ${stock} thick`
    report(
      gap.place,
      `A gap of ${formatQuantity(gap.value)} ${why}${left > 0 ? ': an edge or a splice touches the moving heads' : ': the moving heads touch it'}.`,
      {
        ...relatedTo(setup.stock?.thickness?.place, 'The thickness of the stock.'),
        fixes: () => {
          const { current } = suctionOf(setup)
          const rise = current?.curl.rise
          const enough = gapsWithRoom(setup, rise)[0]
          const clears = rise
            ? 'the lowest that clears the stock and its edges'
            : 'the lowest that clears the stock if it lies flat'
          return [enough ? setGap(document, enough, `${clears}, and align again`) : noRoom(setup, rise)]
        },
      },
    )
  },
  examples: [
    {
      name: 'no room',
      text: `#- e.media.yaml
profile: e
stock: board
printer: p
gap: $01.5 mm$0
${MACHINE.replace('[1.5 mm, 2.0 mm, 0.1 in]', '[0.1 in, 2.0 mm, 1.5 mm]')}#- board.stock.yaml
stock: board
thickness: 1.5 mm
`,
      message: 'A gap of 1.5 mm is no higher than the stock, which is 1.5 mm thick: the moving heads touch it.',
      after: `profile: e
stock: board
printer: p
gap: 2 mm
`,
      fixes: ['Set the gap to 2 mm, the lowest that clears the stock if it lies flat, and align again'],
      related: ['The thickness of the stock. 1.5 mm'],
    },
    {
      name: 'too little room',
      text: `#- e.media.yaml
profile: e
stock: board
printer: p
gap: $01.5 mm$0
${MACHINE}#- board.stock.yaml
stock: board
thickness: 1.2 mm
`,
      message:
        'A gap of 1.5 mm leaves 300 µm above the 1.2 mm of stock, and at least 500 µm is common practice: an edge or a splice touches the moving heads.',
      after: `profile: e
stock: board
printer: p
gap: 2 mm
`,
      fixes: ['Set the gap to 2 mm, the lowest that clears the stock if it lies flat, and align again'],
      related: ['The thickness of the stock. 1.2 mm'],
    },
    {
      name: 'a stock that curls',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
gap: $00.5 mm$0
suction: 4
${SPRINGY_FILM}${SUCTION_PRINTER}carriage: {gaps: [2 mm, 0.8 mm, 1 mm]}
`,
      message:
        'A gap of 0.5 mm leaves 300 µm above the 200 µm of stock, and at least 500 µm is common practice: an edge or a splice touches the moving heads.',
      after: `profile: e
stock: s
printer: p
mode: m
gap: 2 mm
suction: 4
`,
      fixes: ['Set the gap to 2 mm, the lowest that clears the stock and its edges, and align again'],
      related: ['The thickness of the stock. 200 µm'],
    },
    {
      name: 'a film',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
gap: 1.5 mm
${MACHINE}${FILM}`,
    },
  ],
})
