// The pull is too weak to carry the web over its free path: it hangs.
import { valueText } from '../../../model/range-words.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { BANNER, LEVEL_PRINTER } from '../examples.ts'
import { SAG_PART, webOf } from '../facts.ts'
import { pullAtLeast } from '../shared.ts'
import { pullText, tensionText } from '../words.ts'

export const rule = defineRule({
  code: 'tension-below-sag',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web tension is too low to keep the web from hanging on its way to the take-up.',
  docs: `A web sags between its supports by grammage × g × span² ÷ (8 × tension). This takes the whole path from the print zone to the take-up as one free span and allows a tenth of it, which
is generous: bars and the platen carry most webs. Below that the web hangs loose, wanders and winds soft, and slack can run into a hot part or under the carriage. Ignore it where a
dancer or a loop carries the web on purpose. Never take up slack by hand while the machine runs.`,
  check({ document, setup, report }) {
    const facts = webOf(setup)
    const { tension, least, span, guard } = facts
    if (!tension || !least.ok || span === undefined || tension.value >= least.value.low) return
    if (toldByBase(setup, setup.profile.web?.tension, setup.profile.stock, setup.profile.printer)) return
    const { units } = setup.shop
    const most = guard.ok ? guard.value.low : Number.POSITIVE_INFINITY
    report(
      tension.place,
      `At ${tensionText(tension, units)} this web hangs by more than one part in ${SAG_PART} of the ${valueText(span, 'length', { units })} to the take-up, taken as one free span: ${pullText(least.value.low, units)} would just carry it.`,
      { fixes: () => [pullAtLeast(document, facts, least.value.high, most)] },
    )
  },
  examples: [
    {
      name: 'heavy banner, lightest level',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: $01$0}
${BANNER}${LEVEL_PRINTER}`,
      message:
        'At level 1 (8 N/m) this web hangs by more than one part in 10 of the 1400 mm to the take-up, taken as one free span: 8.75 N/m would just carry it.',
      after: `profile: e
stock: s
printer: p
web: {tension: 2}
`,
      fixes: ['Set tension level 2'],
    },
    {
      name: 'one level up',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: 2}
${BANNER}${LEVEL_PRINTER}`,
    },
  ],
})
