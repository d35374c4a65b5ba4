// Checks were made with an instrument while it was in doubt: they are listed, and count for nothing.
import type { Check } from '../../../model/generated/documents.ts'
import { type Doubt, suspectOn } from '../../../model/instrument-history.ts'
import { defineRule, type Related } from '../../../rules/rule.ts'
import { bestInstrument, doubtText } from '../instruments.ts'

/** So many of the other checks are shown beside the newest. */
const SHOWN = 4

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-1m:
    {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: [0.3 mm, 0.2 mm/m], suspect: [{from: 2026-03-10, why: dropped}]}
  rule-2m: {kind: rule, division: 0.5 mm, length: 2 m, limit-of-error: [0.1 mm, 0.1 mm/m]}
  tape-5m: {kind: tape, division: 1 mm, length: 5 m, limit-of-error: [0.3 mm, 0.2 mm/m], due: 2026-03-01}
`

/** The checks of one time in doubt. */
interface Doubted {
  readonly name: string
  readonly doubt: Doubt
  readonly checks: Check[]
}

export const rule = defineRule({
  code: 'instrument-in-doubt',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check was made with an instrument while that was in doubt.',
  docs: `The shop's document says that the instrument cannot be trusted on that day: it was dropped, bent or found wrong. What was measured with it then counts for nothing, and stays
written down. Measure the same prints again with another instrument if they were kept. If the error of the instrument becomes known, give it under its \`errors\` in place of
\`suspect\`: then the checks are brought right by it and count again. Told once for each time in doubt, at its newest check.`,
  check({ setup, report }) {
    const all = new Map<string, Doubted>()
    for (const check of setup.own.feed?.checks?.items ?? []) {
      const { date, with: used, skip } = check
      if (!date || !used || skip) continue
      const doubt = suspectOn(setup.shop.instruments.get(used.value), date.value)
      if (!doubt) continue
      const key = `${used.value} ${doubt.from} ${doubt.to}`
      const one = all.get(key)
      if (one) one.checks.push(check)
      else all.set(key, { name: used.value, doubt, checks: [check] })
    }
    for (const { name, doubt, checks } of all.values()) {
      const newest = checks.reduce((last, check) => (check.date!.value >= last.date!.value ? check : last))
      const others = checks.filter((check) => check !== newest)
      const length = Math.max(...checks.map(({ commanded }) => commanded?.value.si ?? 0))
      const best = length > 0 ? bestInstrument(setup, length) : undefined
      const [made, count, their] =
        others.length === 0
          ? ['This check was', 'it counts', 'its print']
          : [`${checks.length} checks, this one on ${newest.date!.value} the newest, were`, 'they count', 'their prints']
      const again = `measure ${their} again first with ${best ?? 'an instrument that is right'}, or print anew`
      report(
        newest.with!.place,
        `${made} made with ${name} while it was in doubt (${doubtText(doubt)}); ${count} for nothing: ${again}.`,
        {
          related: [
            { file: doubt.place.file, span: doubt.place.node, message: 'Why it was in doubt.' },
            ...others.slice(-SHOWN).map((check): Related => {
              const { file, node } = check.with!.place
              return { file, span: node, message: 'Made with it too.' }
            }),
          ],
        },
      )
    }
  },
  examples: [
    {
      name: 'a week after the fall',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-17, commanded: 1000 mm, measured: 997 mm, applied: 0 %, with: $0rule-1m$0}
${SHOP}`,
      message:
        'This check was made with rule-1m while it was in doubt (dropped, since 2026-03-10); it counts for nothing: measure its print again first with rule-2m, or print anew.',
      related: ['Why it was in doubt. dropped'],
    },
    {
      name: 'several, one left out already',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-10, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-17, commanded: 1000 mm, measured: 997 mm, applied: 0 %, with: $0rule-1m$0}
    - {date: 2026-03-18, commanded: 1000 mm, measured: 997 mm, applied: 0 %, with: rule-1m, skip: slipped}
${SHOP}`,
      message:
        '2 checks, this one on 2026-03-17 the newest, were made with rule-1m while it was in doubt (dropped, since 2026-03-10); they count for nothing: measure their prints again first with rule-2m, or print anew.',
      related: ['Why it was in doubt. dropped', 'Made with it too. rule-1m'],
      testOnly: true,
    },
    {
      name: 'nothing else is long enough',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-17, commanded: 3000 mm, measured: 2997 mm, applied: 0 %, with: $0rule-1m$0}
${SHOP}`,
      message:
        'This check was made with rule-1m while it was in doubt (dropped, since 2026-03-10); it counts for nothing: measure its print again first with an instrument that is right, or print anew.',
      related: ['Why it was in doubt. dropped'],
      testOnly: true,
    },
    {
      name: 'two errors for one day',
      text: `#- e.media.yaml
profile: e
feed: {checks: [{date: 2026-03-17, commanded: 1000 mm, measured: 997 mm, applied: 0 %, with: $0tape$0}]}
#- rollbook.yaml
shop: S
instruments: {tape: {kind: tape, errors: [{from: 2026-03-01, error: 0.2 mm/m}, {from: 2026-03-10, to: 2026-03-20, error: 0.4 mm/m}]}}
`,
      message:
        'This check was made with tape while it was in doubt (two errors are written down for that time, 2026-03-10 to 2026-03-20); it counts for nothing: measure its print again first with an instrument that is right, or print anew.',
      related: ['Why it was in doubt. 0.4 mm/m'],
      testOnly: true,
    },
    {
      name: 'before the fall, and with another',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-17, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-2m}
${SHOP}`,
    },
  ],
})
