// Picks that do not fit the pattern of the printer: a row or an ink was not looked at.

import { defineRule, type RuleContext } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { mistakesOf } from '../../../rules/support/mistakes.ts'
import { listed, plural } from '../../../rules/support/words.ts'
import { resolveAlias } from '../../../syntax/tree.ts'
import { listSpan } from '../fine.ts'

export const rule = defineRule({
  code: 'picks-count',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The picks do not fit the pattern of the printer.',
  docs: `The fine feed pattern has a row of patches for each place across the web, and the alignment pattern one for each ink. With a pick too few
something was not looked at, and its place or ink may print bands or colour edges; with one too many, the picks belong to another printer.
${READ_PATTERN}`,
  check(context) {
    reportRows(context)
    reportInks(context)
  },
  examples: [
    {
      name: 'a row was not looked at',
      text: `printer: bay-1
feed: { fine: { date: 2026-03-14, applied: 0 %, picks: $0[0, 1]$0 } }
#- bay-1.printer.yaml
printer: bay-1
feed: { fine: { rows: [left, middle, right], patches: 11, step: 2 µm } }
`,
      message:
        "'bay-1' prints 3 rows on its fine pattern, and here are 2 picks: one for each row is due, in the order left, middle and right.",
    },
    {
      name: 'an ink was not looked at',
      text: `printer: bay-1
alignment: { date: 2026-03-14, $0one-way$0: { cyan: 0, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta, black] }
`,
      message: "'one-way' has no pick for black: that ink may print out of line.",
    },
    {
      name: 'a mistyped ink is told by another rule',
      text: `printer: bay-1
alignment: { date: 2026-03-14, one-way: { cyna: 0, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
`,
      testOnly: true,
    },
    {
      name: 'one pick a row and one an ink',
      text: `printer: bay-1
feed: { fine: { date: 2026-03-14, applied: 0 %, picks: [0, 1, 0] } }
alignment: { date: 2026-03-14, one-way: { cyan: 0, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
feed: { fine: { rows: [left, middle, right] } }
`,
    },
    {
      name: 'one pick for three rows',
      text: `printer: bay-1
feed: { fine: { date: 2026-03-14, applied: 0 %, picks: $0[0]$0 } }
#- bay-1.printer.yaml
printer: bay-1
feed: { fine: { rows: [left, middle, right], patches: 11, step: 2 µm } }
`,
      message:
        "'bay-1' prints 3 rows on its fine pattern, and here is 1 pick: one for each row is due, in the order left, middle and right.",
      testOnly: true,
    },
    {
      name: 'two inks were not looked at',
      text: `printer: bay-1
alignment: { date: 2026-03-14, $0two-way$0: { cyan: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta, black] }
`,
      message: "'two-way' has no pick for magenta and black: those inks may print out of line.",
      testOnly: true,
    },
  ],
})

function reportRows(context: RuleContext<'media'>): void {
  const { setup, document } = context
  const rows = setup.printer?.feed?.fine?.rows?.items.map(({ value }) => value)
  const picks = setup.own.feed?.fine?.picks
  const node = picks && resolveAlias(picks.$.node)
  if (rows === undefined || node?.kind !== 'seq' || node.items.length === 0 || node.items.length === rows.length) return
  const place = picks!.$
  const span = listSpan(place)
  if (mistakesOf(document).inDoubt(span)) return
  const found = plural(node.items.length, 'pick')
  const verb = node.items.length === 1 ? 'is' : 'are'
  const due = rows.length === 1 ? `one is due, of the ${rows[0]} row` : `one for each row is due, in the order ${listed(rows)}`
  const message = `'${setup.profile.printer?.value}' prints ${plural(rows.length, 'row')} on its fine pattern, and here ${verb} ${found}: ${due}.`
  context.report(span, message)
}

function reportInks(context: RuleContext<'media'>): void {
  const { setup, document } = context
  const channels = (setup.printer?.heads?.channels?.items ?? []).map((c) => c.value)
  for (const way of ['one-way', 'two-way'] as const) {
    const table = setup.own.alignment?.[way]
    const node = table && resolveAlias(table.$.node)
    if (node?.kind !== 'map') continue
    const written = node.pairs.flatMap((p) => p.key?.text ?? [])
    const missing = channels.filter((c) => !written.includes(c))
    // An ink under a wrong name is one mistake, and told as that.
    if (missing.length === 0 || written.some((name) => !channels.includes(name))) continue
    const key = table!.$.key!
    if (mistakesOf(document).inDoubt(key)) continue
    const inks = missing.length === 1 ? 'that ink' : 'those inks'
    context.report(key, `'${way}' has no pick for ${listed(missing)}: ${inks} may print out of line.`)
  }
}
