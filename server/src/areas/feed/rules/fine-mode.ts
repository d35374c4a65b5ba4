// Fine picks of another mode than the profile prints in, or of nobody knows which: a patch there is another share of the advance.
import { addKey } from '../../../model/edit.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { resolveAlias } from '../../../syntax/tree.ts'
import { FINE_PRINTER } from '../examples.ts'
import { fineOf } from '../fine.ts'

const TWO_MODES = FINE_PRINTER.replace('\n  m:', '\n  quick: {resolution: 720 x 360 dpi, passes: 2}\n  m:')

export const rule = defineRule({
  code: 'fine-mode',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The fine feed picks belong to another mode, or do not say to which.',
  docs: `Fine picks trim the advance of the mode they were printed in. With half the passes the advance is twice as long, and the same patch means half the correction; heat and
drag differ too. So picks of another mode are left out, and so are picks that do not say in which of a printer's modes they were printed. Print the fine pattern in this mode. The fix writes down the mode of
today: take it only if you know that the pattern was printed in it.
${READ_PATTERN}`,
  check({ document, setup, report }) {
    const found = fineOf(setup, 'other-mode')
    if (!found) return
    const { fine } = setup.own.feed!
    const mode = setup.profile.mode?.value
    const message = `The fine picks are left out: ${found.fine.reason}. Print the fine pattern in ${mode ?? 'this mode'}.`
    if (fine!.mode) return report(fine!.mode.place, message)
    report(found.at, message, {
      fixes: () => {
        const map = resolveAlias(fine!.$.node)
        if (mode === undefined || map?.kind !== 'map') return []
        const title = `Write down that it was printed in ${mode}`
        const edit = addKey(document.text, map, 'mode', mode, 'applied')
        return [edit.ok ? { title, edits: edit.edits } : { title, edits: [], refused: edit.refused }]
      },
    })
  },
  examples: [
    {
      name: 'picked in another mode',
      text: `#- e.media.yaml
profile: e
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, mode: $0quick$0, picks: [2, 2, 2]}
${TWO_MODES}`,
      message:
        'The fine picks are left out: they were printed in quick, and the profile prints in m. Print the fine pattern in m.',
    },
    {
      name: 'nobody says in which',
      text: `#- e.media.yaml
profile: e
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, picks: $0[2, 2, 2]$0}
${TWO_MODES}`,
      message:
        'The fine picks are left out: they do not say which of the 2 modes of p they were printed in, and each has an advance of its own. Print the fine pattern in m.',
      after: `profile: e
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, mode: m, picks: [2, 2, 2]}
`,
      fixes: ['Write down that it was printed in m'],
    },
    {
      name: 'picked in this mode',
      text: `#- e.media.yaml
profile: e
printer: p
mode: m
feed:
  correction: +0.24 %
  fine: {date: 2026-03-24, applied: +0.24 %, mode: m, picks: [0, 0, 0]}
${TWO_MODES}`,
    },
  ],
})
