// A check made with an instrument that the shop does not list: how far it can be trusted is unknown.
import { nearest } from '../base/nearest.ts'
import { isId } from '../schema/structure.ts'
import { defineRule } from './rule.ts'
import { writeValue } from './support/fixes.ts'
import { doubtful } from './support/references.ts'

export const rule = defineRule({
  code: 'missing-instrument',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check names an instrument that the shop does not list.',
  docs: `How much a check counts depends on the instrument: its division, its limit of error, how it grows with warmth. They stand under
\`instruments\` in rollbook.yaml. Look for a slip in the name, or add the instrument there. Where nobody remembers what was used, leave \`with\`
out.`,
  check(context) {
    const { setup, document, shelf } = context
    if (!shelf.complete) return
    const known = [...setup.shop.instruments.keys()]
    for (const { with: used } of setup.own.feed?.checks?.items ?? []) {
      if (!used || setup.shop.instruments.has(used.value)) continue
      if (used.place.file !== document.file || !isId(used.value) || doubtful(context, used)) continue
      if (!setup.shop.document) {
        context.report(
          used.place,
          `There is no rollbook.yaml that lists the instrument '${used.value}'; how far it can be trusted is not known.`,
        )
        // The same is true of every check: told once.
        return
      }
      const near = nearest(used.value, known)
      const meant = near === undefined ? '.' : `; did you mean '${near}'?`
      context.report(used.place, `rollbook.yaml lists no instrument '${used.value}'${meant}`, {
        fixes: () => (near === undefined ? [] : [writeValue(used.place, near)]),
      })
    }
  },
  examples: [
    {
      name: 'a slip in the name',
      text: `feed:
  checks:
    - { date: 2026-03-14, with: $0steel-rule-3m$0 }
#- rollbook.yaml
shop: Tern Quay Print Works
instruments: { steel-rule-1m: { kind: rule } }
`,
      message: "rollbook.yaml lists no instrument 'steel-rule-3m'; did you mean 'steel-rule-1m'?",
      after: 'feed:\n  checks:\n    - { date: 2026-03-14, with: steel-rule-1m }\n',
      fixes: ["Write 'steel-rule-1m'"],
    },
    {
      name: 'no shop document',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14, with: $0tape$0 }\n    - { date: 2026-03-15, with: tape }\n',
      message: "There is no rollbook.yaml that lists the instrument 'tape'; how far it can be trusted is not known.",
      testOnly: true,
    },
    {
      name: 'an instrument of the shop',
      text: `feed:
  checks:
    - { date: 2026-03-14, with: tape }
#- rollbook.yaml
shop: Tern Quay Print Works
instruments: { tape: { kind: tape } }
`,
    },
    {
      name: 'nothing is like it',
      text: `#- example.media.yaml
profile: example
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: $0laser$0}
#- rollbook.yaml
shop: S
instruments: {steel-rule-1m: {uncertainty: 0.2 mm}}
`,
      message: "rollbook.yaml lists no instrument 'laser'.",
      testOnly: true,
    },
    {
      name: 'no name at all is told by another rule',
      text: `#- example.media.yaml
profile: example
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: Steel Rule}
#- rollbook.yaml
shop: S
instruments: {steel-rule-1m: {uncertainty: 0.2 mm}}
`,
      testOnly: true,
    },
  ],
})
