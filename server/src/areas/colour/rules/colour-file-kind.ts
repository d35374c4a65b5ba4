// A file stands under a colour key that takes another kind of file.

import { defineRule } from '../../../rules/rule.ts'
import { quoted } from '../../../rules/support/words.ts'
import { TARGET } from '../examples.ts'
import { ownFiles, readOf, wantedFormat } from '../shared.ts'
import { kindText } from '../words.ts'

export const rule = defineRule({
  code: 'colour-file-kind',
  severity: 'error',
  kinds: ['media'],
  summary: 'A colour file is of another kind than its key takes.',
  docs: `\`icc\` takes an ICC profile, which has the letters \`acsp\` at its 37th byte; \`reference\` and \`measured\` take measurement files as text (CGATS.17, ISO 28178), with their
columns named between BEGIN_DATA_FORMAT and END_DATA_FORMAT. A file is known by what it holds, not by its name. Pictures, spreadsheets and XML are not read: export the
measurement as CGATS text.`,
  check({ setup, report }) {
    for (const named of ownFiles(setup)) {
      const file = readOf(named)
      const wanted = wantedFormat(setup, named)
      if (!file || file.format === wanted) continue
      const takes = wanted === 'icc' ? 'no ICC profile' : 'no measurement file (CGATS text)'
      report(named.field.place, `${quoted(String(named.field.value), 60)} is ${takes}: it is ${kindText(file)}.`)
    }
  },
  examples: [
    {
      name: 'a measurement where an ICC profile is due',
      text: `colour: {icc: $0target.txt$0}\n${TARGET}`,
      message: "'target.txt' is no ICC profile: it is a measurement file (CGATS text).",
    },
    {
      name: 'an ICC profile where a measurement is due',
      text: 'colour: {measured: [{file: $0film.icc$0, date: 2026-03-20}]}\n#- film.icc\nICC profile of class prtr\n',
      message: "'film.icc' is no measurement file (CGATS text): it is an ICC profile (an output profile).",
      testOnly: true,
    },
    {
      name: 'a report',
      text: 'colour: {reference: $0report.pdf$0}\n#- report.pdf\n%PDF-1.7\n',
      message: "'report.pdf' is no measurement file (CGATS text): it is a PDF file.",
    },
    {
      name: 'each where it is due',
      text: `colour: {icc: film.icc, reference: target.txt}\n#- film.icc\nICC profile of class prtr\n${TARGET}`,
    },
  ],
})
