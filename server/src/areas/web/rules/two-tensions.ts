// A printer that gives both a range and levels of tension: which of them is set on the machine cannot be told.
import { keySpan } from '../../../model/field.ts'
import { defineRule } from '../../../rules/rule.ts'
import { mistakesOf } from '../../../rules/support/mistakes.ts'

export const rule = defineRule({
  code: 'two-tensions',
  severity: 'error',
  risk: 'harm',
  kinds: ['printer'],
  summary: 'A printer gives both a range and levels of web tension.',
  docs: `On some machines the pull on the web is set freely, within \`tension-range\`; on others a level is chosen, and \`tension-levels\` says what
each pulls. With both, a bare 3 in a profile may be a level or a slip. Keep the one that the machine has.`,
  check(context) {
    const { document } = context
    const { 'tension-range': range, 'tension-levels': levels } = document.content?.web ?? {}
    if (!range || !levels) return
    const [first, second] = range.$.node.start < levels.$.node.start ? [range.$, levels.$] : [levels.$, range.$]
    const span = keySpan(second)
    if (mistakesOf(document).inDoubt(span)) return
    const message =
      "Both 'tension-range' and 'tension-levels' stand here: the pull on the web is set freely or by level, not both. Keep one."
    context.report(span, message, {
      related: [{ file: first.file, span: keySpan(first), message: 'The other one.' }],
    })
  },
  examples: [
    {
      name: 'both',
      text: `#- bay-1.printer.yaml
web:
  tension-range: [2 N/m, 40 N/m]
  $0tension-levels$0: { 1: 8 N/m, 2: 15 N/m }
`,
      message:
        "Both 'tension-range' and 'tension-levels' stand here: the pull on the web is set freely or by level, not both. Keep one.",
      related: ['The other one. tension-range'],
    },
    {
      name: 'both, the levels first',
      text: `#- bay-1.printer.yaml
web:
  tension-levels: { 1: 8 N/m, 2: 15 N/m }
  $0tension-range$0: [2 N/m, 40 N/m]
`,
      message:
        "Both 'tension-range' and 'tension-levels' stand here: the pull on the web is set freely or by level, not both. Keep one.",
      related: ['The other one. tension-levels'],
      testOnly: true,
    },
    { name: 'levels', text: '#- bay-1.printer.yaml\nweb:\n  tension-levels: { 1: 8 N/m, 2: 15 N/m }\n' },
  ],
})
