// A gap the printer's heads cannot stand at.
import type { Range } from '../../../calc/range.ts'
import type { Setup } from '../../../model/setup.ts'
import { equalSi } from '../../../quantities/compare.ts'
import { formatQuantity, rewriteIn } from '../../../quantities/format.ts'
import { parseQuantity } from '../../../quantities/parse.ts'
import type { Quantity } from '../../../quantities/quantity.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { suctionOf } from '../../suction/facts.ts'
import { noRoom } from '../../suction/shared.ts'
import { SAME_LENGTH } from '../facts.ts'
import { gapsOf, gapsWithRoom } from '../head-room.ts'

export const rule = defineRule({
  code: 'unknown-gap',
  severity: 'error',
  risk: 'look',
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
        const rise = suctionOf(setup).current?.curl.rise
        const nearest = nearestWithRoom(setup, gap.value, rise)
        if (!nearest) return [noRoom(setup, rise)]
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
      fixes: ['Set the gap to 2.54 mm, the nearest the printer has'],
    },
    {
      name: 'in inches',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2.54 mm
${MACHINE}`,
    },
    {
      name: 'the nearest has no room above the stock',
      text: `#- e.media.yaml
profile: e
printer: p
stock: s
gap: $01.6 mm$0
${MACHINE}#- s.stock.yaml
stock: s
thickness: 1.6 mm
`,
      message: 'The printer has no gap of 1.6 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
stock: s
gap: 2.54 mm
`,
      fixes: ['Set the gap to 2.54 mm, the nearest the printer has'],
      testOnly: true,
    },
    {
      name: 'no gap has room above the stock',
      text: `#- e.media.yaml
profile: e
printer: p
stock: s
gap: $02.2 mm$0
${MACHINE}#- s.stock.yaml
stock: s
thickness: 2.4 mm
`,
      message: 'The printer has no gap of 2.2 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      fixes: [
        'Raise the gap [refused: The widest gap of p is 0.1 in: it does not leave 500 µm below the heads above 2.4 mm of stock.]',
      ],
      testOnly: true,
    },
    {
      name: 'above all there are',
      text: `#- e.media.yaml
profile: e
printer: p
gap: $03 mm$0
${MACHINE}`,
      message: 'The printer has no gap of 3 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      testOnly: true,
    },
    {
      name: 'below all there are, on a stock whose edges are not known',
      text: `#- e.media.yaml
profile: e
printer: p
stock: s
gap: $01.2 mm$0
${MACHINE}#- s.stock.yaml
stock: s
thickness: 0.2 mm
`,
      message: 'The printer has no gap of 1.2 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
stock: s
gap: 1.5 mm
`,
      fixes: ['Set the gap to 1.5 mm, the nearest the printer has'],
      testOnly: true,
    },
    {
      name: 'the lower one is nearer, and how high the edges stand is not known',
      text: `#- e.media.yaml
profile: e
printer: p
stock: s
gap: $02.1 mm$0
${MACHINE}${FILM}`,
      message: 'The printer has no gap of 2.1 mm; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
stock: s
gap: 2.54 mm
`,
      fixes: ['Set the gap to 2.54 mm, the nearest the printer has'],
      testOnly: true,
    },
    {
      name: 'in inches, to be written so',
      text: `#- e.media.yaml
profile: e
printer: p
gap: $00.09 in$0
${MACHINE}`,
      message: 'The printer has no gap of 0.09 in; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
gap: 0.1 in
`,
      fixes: ['Set the gap to 0.1 in, the nearest the printer has'],
      testOnly: true,
    },
    {
      name: 'in eighths',
      text: `#- e.media.yaml
profile: e
printer: p
gap: $01/16 in$0
${MACHINE}`,
      message: 'The printer has no gap of 0.0625 in; it has 1.5 mm, 2 mm and 0.1 in.',
      after: `profile: e
printer: p
gap: 2.0 mm
`,
      fixes: ['Set the gap to 2.0 mm, the nearest the printer has'],
      testOnly: true,
    },
  ],
})

/** The nearest of the printer's gaps that clears stock and edges; never a lower one where how high they stand is not known. */
function nearestWithRoom(setup: Setup, given: Quantity, rise: Range | undefined): Quantity | undefined {
  const known = setup.material.thickness !== undefined
  const enough = known ? gapsWithRoom(setup, rise) : gapsOf(setup)
  const free = known && rise ? enough : enough.filter((gap) => gap.si > given.si)
  return free.reduce<Quantity | undefined>(
    (best, gap) => (!best || Math.abs(gap.si - given.si) < Math.abs(best.si - given.si) ? gap : best),
    undefined,
  )
}

/** The printer's gap in the profile's unit where that says the same, else as the printer's document has it. */
function inUnitOf(mine: Quantity, gap: Quantity): string {
  const text = rewriteIn(gap, mine.unit)
  const parsed = parseQuantity(text, 'length')
  return parsed.ok && equalSi(parsed.value.si, gap.si, 'length') ? text : `${gap.written} ${gap.unit.id}`
}
