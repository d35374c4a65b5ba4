// A pick that the printer's alignment pattern or its fine feed pattern does not have.
import { furthestPick } from '../../../calc/feed-key-in.ts'
import type { F } from '../../../model/field.ts'
import { defineRule, type RuleContext } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { relatedTo, shiftPicks, signed } from '../../landing/shared.ts'
import { MACHINE } from '../../machine/examples.ts'
import { FINE_PRINTER } from '../examples.ts'
import { rowsOf, rowText } from '../rows.ts'

export const rule = defineRule({
  code: 'picks-beyond-pattern',
  severity: 'error',
  risk: 'look',
  kinds: ['media'],
  summary: "A pick lies outside the printer's pattern.",
  docs: `Picks are counted from the middle patch: a pattern of 11 patches has -5 to +5. A number beyond is a slip of the pen, or the patches were counted from one end. Where the
best patch really is the last one, the true best is off the pattern: of an alignment key in what there is, for the feed correct the length first, and print the pattern again. Look
also whether \`alignment.patches\` and \`feed.fine.patches\` in the printer's document are written down right.
${READ_PATTERN}`,
  check(context) {
    const { alignment, feed } = context.setup.own
    const { printer } = context.setup
    for (const way of ['one-way', 'two-way'] as const)
      reportBeyond(context, [...(alignment?.[way]?.entries ?? [])], printer?.alignment?.patches, 'The pattern')
    const picks = feed?.fine?.picks?.items ?? []
    const names = rowsOf(context.setup, picks.length)
    const rows = picks.map((pick, i) => [rowText(names, i), pick] as const)
    reportBeyond(context, rows, printer?.feed?.fine?.patches, 'The fine pattern', ' None of the picks is counted.')
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
      fixes: ['Count the picks from the middle (take 6 off each)'],
      related: ['The patches of the pattern. 11'],
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
      related: ['The patches of the pattern. 11'],
    },
    {
      name: 'no such patch on the fine pattern',
      text: `#- e.media.yaml
profile: e
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, picks: [1, $09$0, 0]}
${FINE_PRINTER}`,
      message:
        'The fine pattern of 11 patches goes from -5 to +5, counted from the middle; the middle row picks +9. None of the picks is counted.',
      related: ['The patches of the pattern. 11'],
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
    {
      name: 'one-way, one ink only',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 0, magenta: $07$0, yellow: 0, black: 0 }
${MACHINE}`,
      message: 'The pattern of 11 patches goes from -5 to +5, counted from the middle; magenta picks +7.',
      related: ['The patches of the pattern. 11'],
      testOnly: true,
    },
    {
      name: 'counted from the edge, up to both ends of it',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: $011$0, yellow: 6, black: 6 }
${MACHINE}`,
      message:
        'The pattern of 11 patches goes from -5 to +5, counted from the middle; magenta picks +11. All picks fit if they were counted from the edge, where the middle is 6.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: -5, magenta: 5, yellow: 0, black: 0 }
`,
      fixes: ['Count the picks from the middle (take 6 off each)'],
      related: ['The patches of the pattern. 11'],
      testOnly: true,
    },
    {
      name: 'a single pick tells nothing of how it was counted',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: $07$0 }
${MACHINE}`,
      message: 'The pattern of 11 patches goes from -5 to +5, counted from the middle; cyan picks +7.',
      related: ['The patches of the pattern. 11'],
      testOnly: true,
    },
    {
      name: 'two picks counted from the edge',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: $07$0, magenta: 6 }
${MACHINE}`,
      message:
        'The pattern of 11 patches goes from -5 to +5, counted from the middle; cyan picks +7. All picks fit if they were counted from the edge, where the middle is 6.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  two-way: { cyan: 1, magenta: 0 }
`,
      fixes: ['Count the picks from the middle (take 6 off each)'],
      related: ['The patches of the pattern. 11'],
      testOnly: true,
    },
  ],
})

type Row = readonly [name: string, pick: F<number>]

/** `counted` says what becomes of picks that cannot be. */
function reportBeyond(
  { document, report }: RuleContext<'media'>,
  rows: readonly Row[],
  patches: F<number> | undefined,
  pattern: string,
  counted = '',
): void {
  if (!patches) return
  const furthest = furthestPick(patches.value)
  const beyond = rows.filter(([, pick]) => Math.abs(pick.value) > furthest)
  const middle = fromTheEdge(rows, patches.value)
  for (const [name, pick] of middle === undefined ? beyond : beyond.slice(0, 1)) {
    const ends = `${pattern} of ${patches.value} patches goes from -${furthest} to +${furthest}, counted from the middle; ${name} picks ${signed(pick.value)}.`
    const edge = middle === undefined ? '' : ` All picks fit if they were counted from the edge, where the middle is ${middle}.`
    report(pick.place, ends + counted + edge, {
      ...relatedTo(patches.place, 'The patches of the pattern.'),
      ...(middle !== undefined && {
        fixes: () => [
          shiftPicks(
            document,
            rows.map(([, row]) => row),
            middle,
            `Count the picks from the middle (take ${middle} off each)`,
          ),
        ],
      }),
    })
  }
}

/** The middle patch, where every pick would be on the pattern if counted from its first patch; undefined where not, or where there is no middle patch. */
function fromTheEdge(rows: readonly Row[], patches: number): number | undefined {
  const fits = patches % 2 === 1 && rows.length > 1 && rows.every(([, { value }]) => value >= 1 && value <= patches)
  return fits ? (patches + 1) / 2 : undefined
}
