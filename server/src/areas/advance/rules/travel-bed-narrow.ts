// The carriage always crosses the whole bed, and the stock is much narrower: output is given away.
import { percentText, shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { throughputOf } from '../facts.ts'

/** Share of the output from which it is worth a word (a choice of ours). */
const WORTH_TELLING = 0.1

export const rule = defineRule({
  code: 'travel-bed-narrow',
  severity: 'hint',
  kinds: ['media'],
  summary: 'Travel over the whole bed costs much output on this stock.',
  docs: `With travel \`bed\` every pass takes as long as on the widest job; on a narrower stock that time prints nothing. Travel \`image\` turns at the
edge of the print. Ignore it where the longer pass is wanted to dry, or where every job must look the same whatever its width: with \`image\` the web moves faster over
the heaters, so look at drying again before the first job (heat and vapour: the safety documents of machine and ink come first). Reckoned for a job as wide as the
stock's widest width that fits the bed.`,
  check({ document, setup, report }) {
    const { travel, pass, other, narrow } = throughputOf(setup)
    const field = setup.profile.carriage?.travel
    if (travel !== 'bed' || !field || !pass.ok || !other.ok || toldByBase(setup, field, setup.profile.mode, setup.profile.stock))
      return
    const lost = 1 - pass.value.areaRate / other.value.areaRate
    if (lost < WORTH_TELLING) return
    const narrowest = narrow
      ? `, and ${percentText(1 - narrow.bed.areaRate / narrow.image.areaRate)} on ${shown(setup, narrow.bed.width, 'length', 4)}`
      : ''
    report(
      field.place,
      `Travel over the whole bed costs ${percentText(lost)} of the output on ${shown(setup, pass.value.width, 'length', 4)} stock${narrowest}: ` +
        `${shown(setup, pass.value.areaRate, 'area-rate', 2)} instead of ${shown(setup, other.value.areaRate, 'area-rate', 2)}.`,
      { fixes: () => [writeSetting(document, ['carriage', 'travel'], 'image', 'Turn at the edge of the print (travel: image)')] },
    )
  },
  examples: [
    {
      name: 'a narrow stock',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
carriage: {travel: $0bed$0, strikes: 1}
${MACHINE}${FILM}`,
      message:
        'Travel over the whole bed costs 10 % of the output on 1372 mm stock, and 31 % on 914 mm: 7.2 m²/h instead of 8 m²/h.',
      after: `profile: e
stock: s
printer: p
mode: standard
carriage: {travel: image, strikes: 1}
`,
      fixes: ['Turn at the edge of the print (travel: image)'],
    },
    {
      name: 'taken from a base, in another mode',
      text: `#- e.media.yaml
profile: e
base: $0other$0
mode: slow
#- other.media.yaml
profile: other
stock: s
printer: p
mode: standard
carriage:
  travel: bed
${MACHINE}${FILM}`,
      message:
        'Travel over the whole bed costs 11 % of the output on 1372 mm stock, and 34 % on 914 mm: 3.9 m²/h instead of 4.4 m²/h.',
      after: `profile: e
base: other
mode: slow
carriage: { travel: image }
`,
      fixes: ['Turn at the edge of the print (travel: image)'],
      related: ['The value stands here. bed'],
      testOnly: true,
    },
    {
      name: 'told by the base',
      text: `#- e.media.yaml
profile: e
base: other
#- other.media.yaml
profile: other
stock: s
printer: p
mode: standard
carriage: {travel: bed}
${MACHINE}${FILM}`,
      testOnly: true,
    },
    {
      name: 'as wide as the bed',
      text: `#- e.media.yaml
profile: e
stock: w
printer: p
mode: standard
carriage: {travel: bed}
${MACHINE}#- w.stock.yaml
stock: w
thickness: 200 µm
widths: [1520 mm]
`,
    },
  ],
})
