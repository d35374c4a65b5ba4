// A pick that the printer's alignment pattern does not have.
import type { F, Table } from '../model/field.ts'
import { landingOf } from '../model/landing.ts'
import { defineRule } from './rule.ts'
import { relatedTo, shiftPicks, signed } from './support/alignment.ts'
import { READ_PATTERN } from './support/cautions.ts'
import { MACHINE } from './support/machine-example.ts'

export const rule = defineRule({
  code: 'picks-beyond-pattern',
  severity: 'error',
  kinds: ['media'],
  summary: "An alignment pick lies outside the printer's pattern.",
  docs: `Picks are counted from the middle patch: a pattern of 11 patches has -5 to +5. A number beyond is a slip of the pen, or the patches were counted from one end. Where the
best patch really is the last one, the true best is off the pattern: key in what there is and print the pattern again. Look also whether \`alignment.patches\` in the printer's
document is written down right.
${READ_PATTERN}`,
  check({ document, setup, report }) {
    const { furthestPick } = landingOf(setup)
    const { alignment } = setup.own
    const patches = setup.printer?.alignment?.patches
    if (furthestPick === undefined || !patches || !alignment) return
    for (const way of ['one-way', 'two-way'] as const) {
      const table = alignment[way]
      const beyond = [...(table?.entries ?? [])].filter(([, pick]) => Math.abs(pick.value) > furthestPick)
      const middle = table && fromTheEdge(table, patches.value)
      for (const [ink, pick] of middle === undefined ? beyond : beyond.slice(0, 1)) {
        const ends = `The pattern of ${patches.value} patches goes from -${furthestPick} to +${furthestPick}, counted from the middle; ${ink} picks ${signed(pick.value)}.`
        const counted =
          middle === undefined ? '' : ` All picks fit if they were counted from the edge, where the middle is ${middle}.`
        report(pick.place, ends + counted, {
          ...relatedTo(patches.place, 'The patches of the pattern.'),
          ...(middle !== undefined && {
            fixes: () => [
              shiftPicks(document, table!.entries.values(), middle, `Count the picks from the middle (take ${middle} off each)`),
            ],
          }),
        })
      }
    }
  },
  examples: [
    {
      name: 'counted from the edge',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: {cyan: $07$0, magenta: 6, yellow: 5, black: 7}
${MACHINE}`,
      message:
        'The pattern of 11 patches goes from -5 to +5, counted from the middle; cyan picks +7. All picks fit if they were counted from the edge, where the middle is 6.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: {cyan: 1, magenta: 0, yellow: -1, black: 1}
`,
    },
    {
      name: 'a slip of the pen',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: {cyan: -1, magenta: $010$0, yellow: 0, black: 1}
${MACHINE}`,
      message: 'The pattern of 11 patches goes from -5 to +5, counted from the middle; magenta picks +10.',
    },
    {
      name: 'the last patch',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: {cyan: 5, magenta: 4, yellow: 5, black: 4.5}
${MACHINE}`,
    },
  ],
})

/** The middle patch, where every pick would be on the pattern if counted from its first patch; undefined where not, or where there is no middle patch. */
function fromTheEdge(table: Table<F<number>>, patches: number): number | undefined {
  const picks = [...table.entries.values()].map((p) => p.value)
  const fits = patches % 2 === 1 && picks.length > 1 && picks.every((p) => p >= 1 && p <= patches)
  return fits ? (patches + 1) / 2 : undefined
}
