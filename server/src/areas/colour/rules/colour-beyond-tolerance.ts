// The newest measurement is further from the colours aimed at than the shop allows.

import { keySpan } from '../../../model/field.ts'
import { defineRule } from '../../../rules/rule.ts'
import { listed } from '../../../rules/support/words.ts'
import { FAR, MEASURED, NEAR, SHOP, TARGET } from '../examples.ts'
import { colourOf } from '../facts.ts'
import { differenceText, fileText, SPREAD_WORDS, worstText } from '../words.ts'

export const rule = defineRule({
  code: 'colour-beyond-tolerance',
  severity: 'warning',
  kinds: ['media'],
  summary: "The newest measurement is beyond the shop's own colour tolerance.",
  docs: `The measured colours are held patch by patch against those aimed at, in CIEDE2000 (ΔE00; Sharma, Wu and Dalal 2005), and mean, 95th percentile and maximum against \`tolerance.colour\` of
rollbook.yaml, the shop's own. Measure the worst patches again first, on a dry print; then look for what changed since the ICC profile was made: ink, stock lot, mode, strikes, heat, ink limit. A
new profile comes last. Each patch counts once, however much of it a print holds.`,
  check({ setup, report }) {
    const { newest } = colourOf(setup)
    if (!newest?.comparison.ok || newest.beyond.length === 0) return
    const { patches, spread } = newest.comparison.value
    // Patches near the mean are not what makes it large.
    const worst = patches.filter(({ difference }, i) => i === 0 || difference > spread.mean)
    const each = newest.beyond.map(
      ({ what, found, tolerance }) => `a ${SPREAD_WORDS[what]} of ${differenceText(found)} (the shop allows ${tolerance.value})`,
    )
    report(
      newest.file.field.place,
      `Measure the worst patches again: ${worstText(worst, 3)}. In ΔE00 ${fileText(newest.file)} has ${listed(each)}.`,
      {
        related: newest.beyond.map(({ tolerance: { place } }) => ({
          file: place.file,
          span: keySpan(place),
          message: "The shop's own tolerance.",
        })),
      },
    )
  },
  examples: [
    {
      name: 'a black that is far off',
      text: `${MEASURED}${TARGET}${FAR}${SHOP}`,
      message:
        "Measure the worst patches again: black 10.73. In ΔE00 'strip.txt' has a maximum of 10.73 (the shop allows 5), a 95th percentile of 10.73 (the shop allows 3) and a mean of 3.58 (the shop allows 1.5).",
      related: ["The shop's own tolerance. max", "The shop's own tolerance. percentile", "The shop's own tolerance. mean"],
    },
    { name: 'within the tolerance', text: `${MEASURED.replaceAll('$0', '')}${TARGET}${NEAR}${SHOP}` },
    {
      name: 'a shop without one',
      text: `${MEASURED.replaceAll('$0', '')}${TARGET}${FAR}#- rollbook.yaml\nshop: s\n`,
      testOnly: true,
    },
  ],
})
