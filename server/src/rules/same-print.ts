// A check that says it is the strip of the line above, measured once more, where that cannot be.
import type { F } from '../model/field.ts'
import type { Check } from '../model/generated/documents.ts'
import { type SettingValue, sameValue } from '../model/setting.ts'
import { defineRule } from './rule.ts'
import { doubtful } from './support/references.ts'
import { removeSetting } from './support/setting.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'same-print',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check is said to be the strip above, and cannot be.',
  docs: `With \`same-print: true\` a line says that the strip of the line above was measured once more: its reading counts, its feed does not count twice. One
strip was printed on one day, at one length, with one correction, on one lot and in one state. Where these differ, one of the lines is
miswritten, or this was a print of its own: then leave \`same-print\` out.`,
  check(context) {
    const checks = context.setup.own.feed?.checks?.items ?? []
    for (const [i, check] of checks.entries()) {
      const said = check['same-print']
      if (!said?.value || said.place.file !== context.document.file || doubtful(context, said)) continue
      const above = checks[i - 1]
      const parts = above && differing(above, check)
      if (parts?.length === 0) continue
      const message = parts
        ? `It cannot be the strip of the line above, measured once more: ${listed(parts)} ${parts.length === 1 ? 'differs' : 'differ'}.`
        : 'There is no check above whose strip this could be, measured once more.'
      context.report(said.place, message, {
        fixes: () => [
          removeSetting(context.document, ['feed', 'checks', i, 'same-print'], "Leave 'same-print' out: a print of its own"),
        ],
      })
    }
  },
  examples: [
    {
      name: 'on another day',
      text: `feed:
  checks:
    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 % }
    - { date: 2026-03-15, commanded: 100 cm, measured: 999.2 mm, applied: +0.1 %, same-print: $0true$0 }
`,
      message: 'It cannot be the strip of the line above, measured once more: date and applied differ.',
      after: `feed:
  checks:
    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 % }
    - { date: 2026-03-15, commanded: 100 cm, measured: 999.2 mm, applied: +0.1 % }
`,
      fixes: ["Leave 'same-print' out: a print of its own"],
    },
    {
      name: 'nothing above',
      text: 'feed: { checks: [{ date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 %, same-print: $0true$0 }] }\n',
      message: 'There is no check above whose strip this could be, measured once more.',
      after: 'feed: { checks: [{ date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 % }] }\n',
      fixes: ["Leave 'same-print' out: a print of its own"],
      testOnly: true,
    },
    {
      name: 'read again, with another rule',
      text: `feed:
  checks:
    - { date: 2026-03-14, commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: tape }
    - { date: 2026-03-14, commanded: 1 m, measured: 999.2 mm, applied: 0 %, with: rule, same-print: true }
    - { date: 2026-03-15, commanded: 1 m, measured: 999.2 mm, applied: 0 %, same-print: false }
`,
    },
  ],
})

/** What one strip cannot have two of. Another lot only where both lines tell one. */
function differing(above: Check, check: Check): readonly string[] {
  const other = (a: F<SettingValue> | undefined, b: F<SettingValue> | undefined): boolean =>
    a === undefined || b === undefined ? a !== b : !sameValue(a.value, b.value)
  const keys = (['date', 'commanded', 'applied', 'under'] as const).filter((key) => other(above[key], check[key]))
  return above.lot && check.lot && other(above.lot, check.lot) ? [...keys, 'lot'] : keys
}
