// The newest measurement was made in another way than the reference, by what both files say of themselves.

import { defineRule } from '../../../rules/rule.ts'
import { listed, quoted } from '../../../rules/support/words.ts'
import { MEASURED, NEAR, TARGET } from '../examples.ts'
import { colourOf } from '../facts.ts'
import { fileText } from '../words.ts'

export const rule = defineRule({
  code: 'colour-conditions-differ',
  severity: 'warning',
  kinds: ['media'],
  summary: 'The newest measurement was made in another way than the reference.',
  docs: `Light, filter, geometry and backing change what an instrument reads, bright papers and thin films most of all: a difference between the two files is then no difference of the print. Measure
again as the reference was measured. Only what both files say is held against each other; what one of them leaves out is not known.`,
  check({ setup, report }) {
    const { newest } = colourOf(setup)
    const { reference } = setup.colourFiles
    if (!reference || !newest?.comparison.ok) return
    const { conditions } = newest.comparison.value
    if (conditions.length === 0) return
    const each = conditions.map((one) => `${one.keyword} ${quoted(one.measured)} instead of ${quoted(one.reference)}`)
    report(
      newest.file.field.place,
      `${fileText(newest.file)} was measured otherwise than ${fileText(reference)}: ${listed(each)}. Their colour differences are not those of the print alone.`,
    )
  },
  examples: [
    {
      name: 'another backing',
      text: `${MEASURED}${TARGET.replace('BEGIN_DATA_FORMAT', 'SAMPLE_BACKING "white"\nBEGIN_DATA_FORMAT')}${NEAR.replace('BEGIN_DATA_FORMAT', 'SAMPLE_BACKING "black"\nBEGIN_DATA_FORMAT')}`,
      message:
        "'strip.txt' was measured otherwise than 'target.txt': SAMPLE_BACKING 'black' instead of 'white'. Their colour differences are not those of the print alone.",
    },
    {
      name: 'said by one of them',
      text: `${MEASURED.replaceAll('$0', '')}${TARGET}${NEAR.replace('BEGIN_DATA_FORMAT', 'SAMPLE_BACKING "black"\nBEGIN_DATA_FORMAT')}`,
    },
  ],
})
