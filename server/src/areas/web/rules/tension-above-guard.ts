// The web is pulled harder than its material takes.
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { KNIT, LEVEL_PRINTER, RANGE_PRINTER } from '../examples.ts'
import { webOf } from '../facts.ts'
import { pullAtMost } from '../shared.ts'
import { pullRangeText, tensionText } from '../words.ts'

export const rule = defineRule({
  code: 'tension-above-guard',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web tension is above what the material typically takes.',
  docs: `Trade tables give the pull a material takes per thickness, for lines that run without pause; a printer that feeds in steps runs far lower, so
this is a ceiling and no setting (published tables for film and paper, from memory for cloth and canvas). Above it film necks in and stays stretched, knits lose their shape, edges tear, and prints shrink after
unloading. Told only above the whole range of the typical ceiling. A web under pull that tears whips: stand clear, and never take up slack by hand while the machine runs.`,
  check({ document, setup, report }) {
    const facts = webOf(setup)
    const { tension, guard, misfit } = facts
    if (!tension || !guard.ok || misfit?.startsWith('too-') || tension.value <= guard.value.high) return
    if (toldByBase(setup, setup.profile.web?.tension, setup.profile.stock, setup.profile.printer)) return
    const { units } = setup.shop
    const family = setup.material.family?.title.toLowerCase() ?? 'this stock'
    report(
      tension.place,
      `${family[0]!.toUpperCase()}${family.slice(1)} of this thickness typically takes ${pullRangeText(guard.value, units)} at most; ${tensionText(tension, units)} is set.`,
      { fixes: () => [pullAtMost(document, facts, guard.value.low)] },
    )
  },
  examples: [
    {
      name: 'knit pulled like film',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: $050 N/m$0}
${KNIT}${RANGE_PRINTER}`,
      message: 'Knitted textile of this thickness typically takes 15 N/m (6 to 45) at most; 50 N/m is set.',
      after: `profile: e
stock: s
printer: p
web: {tension: 6 N/m}
`,
      fixes: ['Set the tension to 6 N/m'],
    },
    {
      name: 'no level is gentle enough to offer',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: $04$0}
${KNIT.replace('300 µm', '200 µm')}${LEVEL_PRINTER}`,
      message: 'Knitted textile of this thickness typically takes 10 N/m (4 to 30) at most; level 4 (40 N/m) is set.',
    },
    {
      name: 'gently',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
web: {tension: 8 N/m}
${KNIT}${RANGE_PRINTER}`,
    },
  ],
})
