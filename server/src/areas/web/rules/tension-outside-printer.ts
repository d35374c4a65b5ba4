// A web tension beyond what the printer pulls.

import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { RANGE_PRINTER } from '../examples.ts'
import { webOf } from '../facts.ts'
import { setPullText } from '../shared.ts'
import { pullText } from '../words.ts'

export const rule = defineRule({
  code: 'tension-outside-printer',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web tension is beyond what the printer pulls.',
  docs: `The printer's document gives the lowest and the highest tension its take-up can be set to. A pull beyond it cannot be keyed in; often a unit
slipped, or the figure is the whole pull and not that of one metre of width. The fix sets the nearest end, where the material takes it.`,
  check({ document, setup, report }) {
    const { misfit, tension, range, guard } = webOf(setup)
    if ((misfit !== 'too-little' && misfit !== 'too-much') || !tension || !range) return
    const given = setup.profile.web?.tension
    if (!given || toldByBase(setup, given, setup.profile.printer)) return
    const { units } = setup.shop
    const end = misfit === 'too-little' ? 0 : 1
    const item = setup.printer?.web?.['tension-range']?.items[end]
    const bearable = !guard.ok || range[end] <= guard.value.low
    report(
      given.place,
      `${setup.profile.printer!.value} pulls ${pullText(range[0], units)} to ${pullText(range[1], units)}; ${pullText(tension.value, units)} is set.`,
      { fixes: () => (bearable && item ? [setPullText(document, formatQuantity(item.value))] : []) },
    )
  },
  examples: [
    {
      name: 'the pull of the whole width',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: $095 N/m$0}
${RANGE_PRINTER}`,
      message: 'p pulls 5 N/m to 60 N/m; 95 N/m is set.',
      after: `profile: e
printer: p
web: {tension: 60 N/m}
`,
      fixes: ['Set the tension to 60 N/m'],
    },
    {
      name: 'too little',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: $00.02 lbf/in$0}
${RANGE_PRINTER}`,
      message: 'p pulls 5 N/m to 60 N/m; 3.5 N/m is set.',
      after: `profile: e
printer: p
web: {tension: 5 N/m}
`,
      fixes: ['Set the tension to 5 N/m'],
    },
    {
      name: 'inside',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 60 N/m}
${RANGE_PRINTER}`,
    },
    {
      name: 'an end that is too much for the stock',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: $095 N/m$0}
#- s.stock.yaml
stock: s
family: textile-knit
thickness: 200 µm
${RANGE_PRINTER}`,
      message: 'p pulls 5 N/m to 60 N/m; 95 N/m is set.',
      testOnly: true,
    },
  ],
})
