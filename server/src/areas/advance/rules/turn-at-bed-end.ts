// The carriage always goes to the end of the bed, and the stock is much narrower: output is given away.
import type { RollDocument } from '../../../model/document.ts'
import { percentText, shown } from '../../../model/shown.ts'
import { defineRule, type Fix } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { type TurnPasses, throughputOf } from '../facts.ts'

/** Share of the output from which it is worth a word (a choice of ours). */
const WORTH_TELLING = 0.1

export const rule = defineRule({
  code: 'turn-at-bed-end',
  severity: 'hint',
  kinds: ['media'],
  summary: 'Turning at the end of the bed costs much output on this stock.',
  docs: `With \`bed-end\` every pass takes as long as on the widest job; on a narrower stock that time prints nothing. \`web-edge\` still gives every print on
a roll the same time, whatever its width; \`print-edge\` turns where the print ends and gives the most output. Ignore it where the longer pass is wanted to dry, or where all rolls
must look the same: the sooner the carriage turns, the faster the web moves over the heaters, so look at drying again before the first job (heat and vapour: the safety documents of
machine and ink come first). Reckoned for a print as wide as the stock's widest width that fits the bed.`,
  check({ document, setup, report }) {
    const { turnAt, full, narrow } = throughputOf(setup)
    const field = setup.profile.carriage?.['turn-at']
    if (turnAt !== 'bed-end' || !field || !full || toldByBase(setup, field, setup.profile.mode, setup.profile.stock)) return
    const [bedEnd, webEdge] = [full['bed-end'], full['web-edge']]
    const lost = lostShare(full)
    if (lost < WORTH_TELLING) return
    const narrowest = narrow
      ? `, and ${percentText(lostShare(narrow))} on ${shown(setup, narrow['bed-end'].web, 'length', 4)}`
      : ''
    report(
      field.place,
      `Turning at the end of the bed costs ${percentText(lost)} of the output on ${shown(setup, bedEnd.web, 'length', 4)} stock${narrowest}: ` +
        `${shown(setup, bedEnd.areaRate, 'area-rate', 2)} instead of ${shown(setup, webEdge.areaRate, 'area-rate', 2)}.`,
      {
        fixes: () => [
          turnAtFix(document, 'web-edge', 'Turn at the edge of the web (turn-at: web-edge)'),
          turnAtFix(document, 'print-edge', 'Turn at the edge of the print (turn-at: print-edge)'),
        ],
      },
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
carriage: {turn-at: $0bed-end$0, strikes: 1}
${MACHINE}${FILM}`,
      message:
        'Turning at the end of the bed costs 10 % of the output on 1372 mm stock, and 31 % on 914 mm: 7.2 m²/h instead of 8 m²/h.',
      after: `profile: e
stock: s
printer: p
mode: standard
carriage: {turn-at: web-edge, strikes: 1}
`,
      fixes: ['Turn at the edge of the web (turn-at: web-edge)', 'Turn at the edge of the print (turn-at: print-edge)'],
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
  turn-at: bed-end
${MACHINE}${FILM}`,
      message:
        'Turning at the end of the bed costs 11 % of the output on 1372 mm stock, and 34 % on 914 mm: 3.9 m²/h instead of 4.4 m²/h.',
      after: `profile: e
base: other
mode: slow
carriage: { turn-at: web-edge }
`,
      fixes: ['Turn at the edge of the web (turn-at: web-edge)', 'Turn at the edge of the print (turn-at: print-edge)'],
      related: ['The value stands here. bed-end'],
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
carriage: {turn-at: bed-end}
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
carriage: {turn-at: bed-end}
${MACHINE}#- w.stock.yaml
stock: w
thickness: 200 µm
widths: [1520 mm]
`,
    },
  ],
})

/** What turning at the end of the bed loses of the output over a whole web. */
const lostShare = (turns: TurnPasses): number => 1 - turns['bed-end'].areaRate / turns['web-edge'].areaRate

const turnAtFix = (document: RollDocument, place: string, title: string): Fix =>
  writeSetting(document, ['carriage', 'turn-at'], place, title)
