// The history of the feed is no longer that of one and the same feed: since some day it asks for another correction.
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { EXAMPLE_SHOP, HERE, PLAIN_PAIR } from '../examples.ts'
import { feedChangeOf } from '../watch.ts'
import { plusMinus, signedLength } from '../words.ts'

const checks = (list: readonly (readonly [day: string, mm: number])[]): string =>
  list
    .map(
      ([date, mm], i) =>
        `    - {date: ${i === list.length - 1 ? `$0${date}$0` : date}, commanded: 2000 mm, measured: ${mm} mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}\n`,
    )
    .join('')

export const rule = defineRule({
  code: 'feed-changed',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'Since some day the feed asks for another correction.',
  docs: `Eight checks or more that can be compared, each brought to the settings of now, are watched as a process: an exponentially weighted mean finds what moves slowly, and two of
three checks far out on one side what moved lately (NIST/SEMATECH e-Handbook 6.3.2). Told is the likeliest day of a single step and its size, which errs to the large side, and what was
written down of that time: an event of the machine, another lot, another instrument. Look for the cause before keying in a number: a roller that slips, a lot, a rule that was dropped.
A slow drift shows as one step in its middle; feed-drift tells its slope.
${READ_PATTERN}`,
  check({ setup, report }) {
    const change = feedChangeOf(setup)
    const newest = setup.own.feed?.checks?.items.at(-1)
    if (!change || !newest) return
    const { after, by, shift, U, n, meanwhile } = change
    const when = after === by ? `on ${by}` : `between ${after} and ${by}`
    const what = meanwhile.length > 0 ? ` Then: ${meanwhile.join('; ')}.` : ' Nothing was written down of that time.'
    report(
      newest.date?.place ?? newest.$,
      `Look for what changed ${when}: since then prints need ${signedLength(setup, shift)} (${plusMinus(U)}), by ${n} checks.${what}`,
    )
  },
  examples: [
    {
      name: 'a step in the middle',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.20 %
  checks:
${checks([
  ['2025-11-03', 1996],
  ['2025-11-17', 1995.9],
  ['2025-12-01', 1996.1],
  ['2025-12-15', 1996],
  ['2026-01-05', 1996],
  ['2026-01-19', 1995.9],
  ['2026-02-02', 1997.6],
  ['2026-02-16', 1997.5],
  ['2026-03-02', 1997.6],
  ['2026-03-16', 1997.5],
])}${HERE}${PLAIN_PAIR}events: [{date: 2026-01-28, what: serviced}]
${EXAMPLE_SHOP}`,
      message:
        'Look for what changed between 2026-01-19 and 2026-02-02: since then prints need 0.79 mm per metre less (±0.032 %), by 10 checks. Then: serviced on 2026-01-28.',
    },
    {
      name: 'ten that scatter about one number',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.20 %
  checks:
${checks([
  ['2025-11-03', 1996],
  ['2025-11-17', 1995.9],
  ['2025-12-01', 1996.1],
  ['2025-12-15', 1996],
  ['2026-01-05', 1996.2],
  ['2026-01-19', 1995.9],
  ['2026-02-02', 1996],
  ['2026-02-16', 1995.9],
  ['2026-03-02', 1996.1],
  ['2026-03-16', 1996],
]).replaceAll('$0', '')}${HERE}${PLAIN_PAIR}${EXAMPLE_SHOP}`,
    },
  ],
})
