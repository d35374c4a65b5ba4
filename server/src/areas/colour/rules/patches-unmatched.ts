// The newest measurement and the reference do not have the same patches.

import type { Patch } from '../../../model/patches.ts'
import { defineRule } from '../../../rules/rule.ts'
import { listed } from '../../../rules/support/words.ts'
import { MEASURED, NEAR, OTHER_STRIP, TARGET } from '../examples.ts'
import { colourOf } from '../facts.ts'
import { fileText, patchesText, patchText } from '../words.ts'

export const rule = defineRule({
  code: 'patches-unmatched',
  severity: 'warning',
  kinds: ['media'],
  summary: 'Patches of the newest measurement and of the reference do not belong together.',
  docs: `Patches are matched by their SAMPLE_ID. Where one file has patches that the other does not, or prints a patch of the same name with other inks, another chart was printed, or the rows were
numbered anew. Only patches that match are compared, so mean and maximum tell of a part of the chart. Measure the chart that the reference describes, or take the reference of this one.`,
  check({ setup, report }) {
    const { newest } = colourOf(setup)
    const { reference } = setup.colourFiles
    if (!newest || !reference) return
    const { file, comparison } = newest
    if (!comparison.ok) {
      if (comparison.problem.input === 'colour')
        report(file.field.place, `${fileText(file)} and ${fileText(reference)} have no patch in common: nothing is compared.`)
      return
    }
    const { notMeasured, notAimedAt, otherInks, patches } = comparison.value
    const told = [
      ...(notMeasured.length > 0 ? [`it lacks ${named(notMeasured)}`] : []),
      ...(notAimedAt.length > 0 ? [`${fileText(reference)} lacks ${named(notAimedAt)}`] : []),
      ...otherInks
        .slice(0, 1)
        .map(
          ({ patch, field, reference: aim, measured }) =>
            `${patchesText(otherInks.length)} ${otherInks.length > 1 ? 'are' : 'is'} of other inks (${patchText(patch)}: ${field} ${measured} instead of ${aim})`,
        ),
    ]
    if (told.length > 0)
      report(file.field.place, `Only ${patchesText(patches.length)} of ${fileText(file)} can be compared: ${listed(told)}.`)
  },
  examples: [
    {
      name: 'another strip',
      text: `${MEASURED}${TARGET}${OTHER_STRIP}`,
      message:
        "Only 1 patch of 'strip.txt' can be compared: it lacks black, 'target.txt' lacks red and 1 patch is of other inks (cyan: CMYK_C 50 instead of 100).",
    },
    {
      name: 'no patch in common',
      text: `${MEASURED}${TARGET}${NEAR.replace(/^(\d) /gm, 'A$1 ')}`,
      message: "'strip.txt' and 'target.txt' have no patch in common: nothing is compared.",
      testOnly: true,
    },
    { name: 'the same strip', text: `${MEASURED.replaceAll('$0', '')}${TARGET}${NEAR}` },
  ],
})

/** "black", "4 patches (black, red and so on)". */
function named(patches: readonly Patch[]): string {
  if (patches.length <= 2) return listed(patches.map(patchText))
  return `${patchesText(patches.length)} (${patches.slice(0, 2).map(patchText).join(', ')} and so on)`
}
