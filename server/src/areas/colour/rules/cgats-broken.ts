// A measurement file has faults, so that no colours are taken from it.
import { patchesOf } from '../../../model/patches.ts'
import { defineRule } from '../../../rules/rule.ts'
import { plural, quotedFile } from '../../../rules/support/words.ts'
import { TARGET } from '../examples.ts'
import { cgatsOf } from '../facts.ts'
import { ownMeasurements } from '../shared.ts'

export const rule = defineRule({
  code: 'cgats-broken',
  severity: 'error',
  kinds: ['media'],
  summary: 'A measurement file cannot be used.',
  docs: `Colours are taken from the columns LAB_L, LAB_A and LAB_B of a measurement file (CGATS.17, ISO 28178), and patches are known by SAMPLE_ID, or by SAMPLE_NAME where there is none. Rows
and columns have to be as many as the file says, numbers have a decimal point, and no patch stands twice. Otherwise a row may have slipped, and the file is not compared at all
until it is whole: export it again, with Lab.`,
  check({ setup, report }) {
    for (const named of ownMeasurements(setup)) {
      const [first, ...others] = patchesOf(cgatsOf(named)!).faults
      if (first === undefined) continue
      const more = others.length > 0 ? ` (and ${plural(others.length, 'fault')} more)` : ''
      report(named.field.place, `${quotedFile(String(named.field.value))} is not compared: ${first}${more}.`)
    }
  },
  examples: [
    {
      name: 'a comma in a number',
      text: `colour: {reference: $0target.txt$0}\n${TARGET.replace('94 0', '94,1 0')}`,
      message: "'target.txt' is not compared: line 7: LAB_L is '94,1', which is no number with a decimal point.",
    },
    {
      name: 'a file without Lab',
      text: `colour: {measured: [{file: $0strip.txt$0, date: 2026-03-20}]}\n#- strip.txt\nCGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID XYZ_X XYZ_Y XYZ_Z\nEND_DATA_FORMAT\nBEGIN_DATA\n1 80 84 70\nEND_DATA\n`,
      message: "'strip.txt' is not compared: it has no columns LAB_L, LAB_A and LAB_B; XYZ is not taken for it.",
      testOnly: true,
    },
    {
      name: 'a file that was cut',
      text: `colour: {measured: [{file: $0target.txt$0, date: 2026-03-20}]}\n${TARGET.replace(/3 black[\s\S]*/, '')}`,
      message:
        "'target.txt' is not compared: line 6: the data begin here, and END_DATA is missing, so the file was perhaps not copied whole (and 1 fault more).",
    },
    {
      name: 'a patch twice',
      text: `colour: {reference: $0target.txt$0}\n${TARGET.replace('3 black', '02 black')}`,
      message: "'target.txt' is not compared: line 9: the patch '2' stands in line 8 already.",
      testOnly: true,
    },
    { name: 'a whole file', text: `colour: {reference: target.txt}\n${TARGET}` },
  ],
})
