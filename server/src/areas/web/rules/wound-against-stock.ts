// A springy stock is taken up against the curl it came with, and the pull hardly holds it.
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { LEVEL_PRINTER } from '../examples.ts'
import { webOf } from '../facts.ts'
import { pullRangeText, tensionText } from '../words.ts'

const STIFF = `#- s.stock.yaml
stock: s
family: film-pet
thickness: 250 µm
modulus: 4.5 GPa
poisson: 0.38
curl-radius: 400 mm
roll: {length: 30 m, core: 76 mm}
wound: out
`

/** Share of the pull from which it is worth saying: the first turns are the ones that matter, and they start at less than the full pull. */
const SHARE = 0.1

export const rule = defineRule({
  code: 'wound-against-stock',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'The take-up winds a springy stock against the curl it came with.',
  docs: `A stock keeps some of the curl of the roll it came on. Taken up with the face the other way, its end springs back from the core and the first turns wind loose and shift. The pull that bending it the
wrong way takes is computed from its stiffness and its curl; it is told only where it is more than a tenth of the tension, taking the core to be as that of the stock's own roll. There are good reasons to do it:
the next machine may want that side up. Tape the end down well, and keep hands away from the turning roll.`,
  check({ document, setup, report }) {
    const { tension, againstSet } = webOf(setup)
    const given = setup.profile.web?.wound
    const came = setup.stock?.wound?.value
    if (!given || !came || given.value === came || !tension || !againstSet.ok) return
    const share = againstSet.value.typical / tension.value
    if (!(share > SHARE) || toldByBase(setup, given, setup.profile.web?.tension, setup.profile.stock, setup.profile.printer))
      return
    const { units } = setup.shop
    report(
      given.place,
      `This stock came wound ${came}. Wound ${given.value} it ${againstSet.value.low < againstSet.value.high ? 'typically ' : ''}springs back from the core with ${pullRangeText(againstSet.value, units)} of the pull of ${tensionText(tension, units)}: the first turns wind loose.`,
      { fixes: () => [writeSetting(document, ['web', 'wound'], came, `Wind it ${came}, as it came`)] },
    )
  },
  examples: [
    {
      name: 'thick polyester, light pull',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {wound: $0in$0, tension: 2}
${STIFF}${LEVEL_PRINTER}`,
      message:
        'This stock came wound out. Wound in it springs back from the core with 2.8 N/m of the pull of level 2 (15 N/m): the first turns wind loose.',
      after: `profile: e
stock: s
printer: p
web: {wound: out, tension: 2}
`,
      fixes: ['Wind it out, as it came'],
    },
    {
      name: 'thin film does not mind',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {wound: in, tension: 2}
${STIFF.replace('250 µm', '100 µm')}${LEVEL_PRINTER}`,
    },
    {
      name: 'as it came',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {wound: out, tension: 2}
${STIFF}${LEVEL_PRINTER}`,
    },
  ],
})
