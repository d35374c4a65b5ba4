// A strictness for a rule that does not exist: the one that was meant is as strict as ever.
import { nearest } from '../base/nearest.ts'
import { renamedRule } from '../schema/renamed.ts'
import { isId } from '../schema/structure.ts'
import { defineRule } from './rule.ts'
import { writeKey } from './support/fixes.ts'
import { mistakesOf } from './support/mistakes.ts'

export const rule = defineRule({
  code: 'unknown-rule',
  severity: 'error',
  kinds: ['shop'],
  summary: 'The shop sets how strict a rule is that does not exist.',
  docs: `Under \`rules\` the shop says how strictly it takes each rule, by the code that stands behind every finding. A code that no rule has changes
nothing. Look for a slip, or for a rule that has been renamed.`,
  check(context) {
    const { document, codes } = context
    for (const [code, { place }] of document.content?.rules?.entries ?? []) {
      const { key } = place
      if (codes.includes(code) || !key || !isId(code) || mistakesOf(document).inDoubt(key)) continue
      const near = renamedRule(code, codes) ?? nearest(code, codes)
      context.report(key, `There is no rule '${code}'${near === undefined ? '.' : `; did you mean '${near}'?`}`, {
        fixes: () => (near === undefined || place.aliased ? [] : [writeKey(key, near)]),
      })
    }
  },
  examples: [
    {
      name: 'a mistyped rule',
      text: '#- rollbook.yaml\nrules: { $0implausable$0: hint }\n',
      message: "There is no rule 'implausable'; did you mean 'implausible'?",
      after: 'rules: { implausible: hint }\n',
      fixes: ["Write 'implausible'"],
    },
    {
      name: 'a rule that has another name now',
      text: '#- rollbook.yaml\nrules: { $0feed-check-slip$0: hint }\n',
      message: "There is no rule 'feed-check-slip'; did you mean 'feed-check-miswritten'?",
      after: 'rules: { feed-check-miswritten: hint }\n',
      fixes: ["Write 'feed-check-miswritten'"],
      testOnly: true,
    },
    { name: 'a rule there is', text: '#- rollbook.yaml\nrules: { implausible: hint }\n' },
    {
      name: 'nothing is like it',
      text: `#- rollbook.yaml
shop: S
rules: { $0xyzzy$0: hint }
`,
      message: "There is no rule 'xyzzy'.",
      testOnly: true,
    },
  ],
})
