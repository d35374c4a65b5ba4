// A pick for an ink that the printer does not have: the ink it was meant for stays out of line.
import { nearest } from '../../../base/nearest.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeKey } from '../../../rules/support/fixes.ts'
import { mistakesOf } from '../../../rules/support/mistakes.ts'
import { listed } from '../../../rules/support/words.ts'
import { isId } from '../../../schema/structure.ts'

export const rule = defineRule({
  code: 'unknown-channel',
  severity: 'error',
  kinds: ['media'],
  summary: 'An alignment names an ink that the printer does not have.',
  docs: `The picks of an alignment are kept by ink, named as in the printer's document. A pick under another name is keyed in nowhere, and the ink it
was meant for prints out of line.`,
  check(context) {
    const { setup, document } = context
    const channels = (setup.printer?.heads?.channels?.items ?? []).map((c) => c.value)
    for (const way of ['one-way', 'two-way'] as const) {
      const table = setup.own.alignment?.[way]
      for (const [name, { place }] of table?.entries ?? []) {
        const { key } = place
        if (channels.length === 0 || channels.includes(name) || !key || !isId(name)) continue
        if (mistakesOf(document).inDoubt(key)) continue
        const near = nearest(
          name,
          channels.filter((c) => !table?.entries.has(c)),
        )
        const right = near === undefined ? `; it has ${listed(channels)}.` : `; did you mean '${near}'?`
        context.report(key, `'${setup.profile.printer?.value}' has no ink '${name}'${right}`, {
          fixes: () => (near === undefined || place.aliased ? [] : [writeKey(key, near)]),
        })
      }
    }
  },
  examples: [
    {
      name: 'a mistyped ink',
      text: `printer: bay-1
alignment: { date: 2026-03-14, two-way: { $0cyna$0: 1, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
`,
      message: "'bay-1' has no ink 'cyna'; did you mean 'cyan'?",
      after: 'printer: bay-1\nalignment: { date: 2026-03-14, two-way: { cyan: 1, magenta: 0 } }\n',
      fixes: ["Write 'cyan'"],
    },
    {
      name: 'an ink of another printer',
      text: `printer: bay-1
alignment: { date: 2026-03-14, one-way: { $0white$0: 1, cyan: 0, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
`,
      message: "'bay-1' has no ink 'white'; it has cyan and magenta.",
    },
    {
      name: 'inks of the printer',
      text: `printer: bay-1
alignment: { date: 2026-03-14, one-way: { cyan: 0, magenta: 0 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
`,
    },
    {
      name: 'an ink through an anchor',
      text: `printer: bay-1
x-inks: &inks { $0cyna$0: 1, magenta: 0 }
alignment: { date: 2026-03-14, two-way: *inks }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan, magenta] }
`,
      message: "'bay-1' has no ink 'cyna'; did you mean 'cyan'?",
      testOnly: true,
    },
    {
      name: 'one ink only',
      text: `printer: bay-1
alignment: { date: 2026-03-14, two-way: { $0white$0: 1 } }
#- bay-1.printer.yaml
printer: bay-1
heads: { channels: [cyan] }
`,
      message: "'bay-1' has no ink 'white'; it has cyan.",
      testOnly: true,
    },
    {
      name: 'a printer that names no inks',
      text: `printer: bay-1
alignment: { date: 2026-03-14, two-way: { white: 1 } }
#- bay-1.printer.yaml
printer: bay-1
`,
      testOnly: true,
    },
  ],
})
