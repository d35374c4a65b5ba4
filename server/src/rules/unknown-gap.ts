// A gap the printer's heads cannot stand at.
import { SAME_LENGTH } from '../model/landing.ts'
import { equalSi } from '../quantities/compare.ts'
import { formatQuantity, rewriteIn } from '../quantities/format.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { defineRule } from './rule.ts'
import { MACHINE } from './support/machine-example.ts'
import { writeSetting } from './support/setting.ts'
import { toldByBase } from './support/told-by-base.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'unknown-gap',
  severity: 'error',
  kinds: ['media'],
  summary: 'The gap is not one of those the printer has.',
  docs: `The heads stand at fixed heights on this printer, and the next shift will set one of them: if the file names another, nobody knows which. Choose the next
higher one when in doubt, set it with the carriage at rest and power down as the machine's safety documents say, and print the alignment pattern again. Where the
machine has been measured again, mend \`carriage.gaps\` in its document.`,
  check({ document, setup, report }) {
    const { gap } = setup.profile
    const gaps = setup.printer?.carriage?.gaps?.items ?? []
    if (
      !gap ||
      gaps.length === 0 ||
      toldByBase(setup, gap, setup.profile.printer) ||
      gaps.some((g) => Math.abs(g.value.si - gap.value.si) <= SAME_LENGTH)
    )
      return
    const written = (q: Quantity): string => formatQuantity(q)
    report(gap.place, `The printer has no gap of ${written(gap.value)}; it has ${listed(gaps.map((g) => written(g.value)))}.`, {
      fixes: () => {
        const thickness = setup.material.thickness ?? 0
        const free = gaps.filter((g) => g.value.si > thickness)
        const nearest = free.reduce<Quantity | undefined>((best, g) => {
          const nearer = !best || Math.abs(g.value.si - gap.value.si) < Math.abs(best.si - gap.value.si)
          return nearer ? g.value : best
        }, undefined)
        if (!nearest) return []
        const text = inUnitOf(gap.value, nearest)
        return [writeSetting(document, ['gap'], text, `Set the gap to ${text}, the nearest the printer has`)]
      },
    })
  },
  examples: [
    {
      name: 'between two',
      text: `#- e.media.yaml
profile: e
printer: p
gap: $02.4 mm$0   # as on the other machine
${MACHINE}`,
      message: 'The printer has no gap of 2.4 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
gap: 2.54 mm   # as on the other machine
`,
    },
    {
      name: 'in inches',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2.54 mm
${MACHINE}`,
    },
  ],
})

/** The printer's gap in the profile's unit where that says the same, else as the printer's document has it. */
function inUnitOf(mine: Quantity, gap: Quantity): string {
  const text = rewriteIn(gap, mine.unit)
  const parsed = parseQuantity(text, 'length')
  return parsed.ok && equalSi(parsed.value.si, gap.si, 'length') ? text : `${gap.written} ${gap.unit.id}`
}
