// The pull stretches the web by more than the length tolerance, and the checks do not say whether they were measured under it.

import type { RollDocument } from '../../../model/document.ts'
import { addKey } from '../../../model/edit.ts'
import type { Fix } from '../../../rules/rule.ts'
import { defineRule } from '../../../rules/rule.ts'
import { plural } from '../../../rules/support/words.ts'
import type { FeedEvidence } from '../../feed/evidence.ts'
import { feedOf } from '../../feed/facts.ts'
import { KNIT, RANGE_PRINTER } from '../examples.ts'
import { webOf } from '../facts.ts'
import { allowedStretchText, strainText, tensionText } from '../words.ts'

export const rule = defineRule({
  code: 'tension-stretch',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'The pull stretches the web by more than the length tolerance, and the checks do not say how they were measured.',
  docs: `Under the pull of the take-up the web is longer than it will be on the table. Where that is more than the shop's length tolerance, a check read on the machine and one
read on the relaxed print ask for different corrections. Say of each check whether the web was still pulled: \`tensioned: true\` brings its length to the relaxed web, \`tensioned: false\` says
that it was relaxed already. Cloth is not linear, and knits creep back for an hour: measure them the next day (common practice).`,
  check({ document, setup, report }) {
    const { tension, strain } = webOf(setup)
    const tolerance = setup.shop.tolerance.length.value
    if (!tension || !strain.ok || strain.value.typical <= tolerance) return
    const { evidence } = feedOf(setup)
    const silent = evidence.filter(({ check, leftOut, recent }) => leftOut === undefined && recent && !check.tensioned)
    const newest = silent.at(-1)
    if (!newest) return
    const { units } = setup.shop
    const typical = strain.value.low < strain.value.high ? 'typically ' : ''
    report(
      newest.check.date?.place ?? newest.check.$,
      `${tensionText(tension, units)} ${typical}stretches this stock by ${strainText(strain.value, units)}, more than the ${allowedStretchText(setup)} the shop allows, and ${silent.length === 1 ? 'this check does' : `${plural(silent.length, 'check')} do`} not say whether the web was pulled or relaxed when measured.`,
      { fixes: () => [mark(document, silent, false), mark(document, silent, true)] },
    )
  },
  examples: [
    {
      name: 'a knit, and nobody says how it was measured',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
feed:
  correction: +1.60 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 985 mm, applied: 0 %}
    - {date: $02026-03-28$0, commanded: 1000 mm, measured: 1000 mm, applied: +1.60 %}
web: {tension: 7 N/m}
${KNIT}${RANGE_PRINTER}`,
      message:
        '7 N/m stretches this stock by 1.6 mm/m, more than the 0.5 mm/m the shop allows, and 2 checks do not say whether the web was pulled or relaxed when measured.',
      after: `profile: e
stock: s
printer: p
feed:
  correction: +1.60 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 985 mm, applied: 0 %, tensioned: false}
    - {date: 2026-03-28, commanded: 1000 mm, measured: 1000 mm, applied: +1.60 %, tensioned: false}
web: {tension: 7 N/m}
`,
      fixes: ['Say that they were measured relaxed', 'Say that they were measured under pull'],
    },
    {
      name: 'by what is typical of the family',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
feed:
  checks:
    - {date: $02026-03-20$0, commanded: 1000 mm, measured: 985 mm, applied: 0 %}
web: {tension: 7 N/m}
${KNIT.replace('modulus: 15 MPa\n', '')}${RANGE_PRINTER}`,
      message:
        '7 N/m typically stretches this stock by 1.2 mm/m (0.23 to 4.7), more than the 0.5 mm/m the shop allows, and this check does not say whether the web was pulled or relaxed when measured.',
      fixes: ['Say that it was measured relaxed', 'Say that it was measured under pull'],
    },
    {
      name: 'one that says it',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 985 mm, applied: 0 %, tensioned: false}
web: {tension: 7 N/m}
${KNIT}${RANGE_PRINTER}`,
    },
    {
      name: 'film that hardly stretches',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
web: {tension: 20 N/m}
${KNIT.replace('textile-knit', 'film-pet').replace('15 MPa', '4.5 GPa')}${RANGE_PRINTER}`,
    },
  ],
})

function mark(document: RollDocument, checks: readonly FeedEvidence[], tensioned: boolean): Fix {
  const title = `Say that ${checks.length === 1 ? 'it was' : 'they were'} measured ${tensioned ? 'under pull' : 'relaxed'}`
  const edits = []
  for (const { check } of checks) {
    const { node, aliased } = check.$
    if (aliased || node.kind !== 'map')
      return { title, edits: [], refused: 'A check is shared through an anchor and an alias; write it out first.' }
    const edit = addKey(document.text, node, 'tensioned', String(tensioned), '')
    if (!edit.ok) return { title, edits: [], refused: edit.refused }
    edits.push(...edit.edits)
  }
  return { title, edits }
}
