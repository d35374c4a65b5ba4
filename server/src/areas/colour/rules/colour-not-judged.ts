// Colours were measured, and nothing says whether they are good enough.

import { defineRule } from '../../../rules/rule.ts'
import { MEASURED, NEAR, SHOP, TARGET } from '../examples.ts'
import { colourOf } from '../facts.ts'
import { differenceText, fileText } from '../words.ts'

export const rule = defineRule({
  code: 'colour-not-judged',
  severity: 'hint',
  kinds: ['media'],
  summary: 'Colours were measured, and nothing says whether they are good enough.',
  docs: `A measurement is judged by two things that only the shop can give: the colours aimed at (\`colour.reference\`) and how far a print may be from them (\`tolerance.colour\` in rollbook.yaml). No
number of a standard is taken in their place. Without them "nothing found" says nothing of the colours.`,
  check({ setup, report }) {
    const { newest } = colourOf(setup)
    if (!newest) return
    const { file, comparison } = newest
    if (!setup.profile.colour?.reference) {
      report(file.field.place, `${fileText(file)} is not judged: the profile names no reference, the colours aimed at.`)
      return
    }
    const tolerance = setup.shop.document?.tolerance?.colour
    if (!comparison.ok || tolerance?.mean || tolerance?.percentile || tolerance?.max) return
    const { mean, max } = comparison.value.spread
    report(
      file.field.place,
      `${fileText(file)} is not judged: ΔE00 is ${differenceText(mean)} in the mean and ${differenceText(max)} at most, and rollbook.yaml gives no tolerance.colour.`,
    )
  },
  examples: [
    {
      name: 'no tolerance',
      text: `${MEASURED}${TARGET}${NEAR}`,
      message:
        "'strip.txt' is not judged: ΔE00 is 0.42 in the mean and 0.47 at most, and rollbook.yaml gives no tolerance.colour.",
    },
    {
      name: 'no reference',
      text: `colour: {measured: [{file: $0strip.txt$0, date: 2026-03-20}]}\n${NEAR}`,
      message: "'strip.txt' is not judged: the profile names no reference, the colours aimed at.",
    },
    { name: 'both', text: `${MEASURED.replaceAll('$0', '')}${TARGET}${NEAR}${SHOP}` },
  ],
})
