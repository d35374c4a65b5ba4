// The feed correction has been moving one way for months: a roller wears or gathers dirt, and the next date it leaves the tolerance is known.

import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { type FeedDrift, feedDriftOf } from '../drift.ts'
import { EXAMPLE_SHOP, PERCENT_PRINTER } from '../examples.ts'
import { driftSentence } from '../words.ts'

const checks = (values: readonly number[]): string =>
  values
    .map(
      (mm, i) =>
        `    - {date: 2025-${String(i + 4).padStart(2, '0')}-15, commanded: 2000 mm, measured: ${mm.toFixed(1)} mm, applied: 0 %}`,
    )
    .join('\n')

const onLots = (list: readonly (readonly [day: string, lot: string, mm: number])[]): string =>
  list
    .map(
      ([day, lot, mm]) =>
        `    - {date: 2026-${day}, lot: ${lot}, commanded: 2000 mm, measured: ${mm.toFixed(1)} mm, applied: 0 %}`,
    )
    .join('\n')

export const rule = defineRule({
  code: 'feed-drift',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'The feed correction drifts with time.',
  docs: `A line through all the checks slopes by more than their scatter explains (t test at 95 %; NIST/SEMATECH e-Handbook 4.1.4). Each lot has a level of its own, so
that a new lot is not taken for drift; checks that name no lot count as one. Feed rollers wear and gather dirt, tension springs tire (common practice). The date given is when prints with today's correction leave the shop's length tolerance if nothing is done:
check before then, and look at the rollers. A change of instrument in the middle of the history, or of a lot that nobody wrote down, can look like drift.
${READ_PATTERN}`,
  check({ setup, report }) {
    const drift = feedDriftOf(setup)
    const at = setup.profile.feed?.correction?.place ?? setup.own.feed?.checks?.$
    if (drift?.drift.real && at) report(at, `${next(drift)}: ${driftSentence(setup, drift).replace(/^By/, 'by')}`)
  },
  examples: [
    {
      name: 'a roller that gathers dust',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: $0+0.20 %$0
  checks:
${checks([1996.0, 1996.4, 1996.9, 1997.2, 1997.7, 1998.0, 1998.5, 1998.8])}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
      message:
        'Print the feed pattern now: by 8 checks since 2025-04-15 prints need 0.2 mm per metre less every thirty days (±0.001 %). By that line, prints with the correction set have left the tolerance.',
    },
    {
      name: 'a new lot with a level of its own',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.30 %
  checks:
${onLots([
  ['01-10', 'BN-101', 1996.2],
  ['01-24', 'BN-101', 1996.3],
  ['02-20', 'BN-118', 1993.6],
  ['03-02', 'BN-118', 1993.4],
  ['03-16', 'BN-118', 1994.0],
  ['03-28', 'BN-118', 1993.6],
])}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
      testOnly: true,
    },
    {
      name: 'a drift that goes on over a change of lot',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: $0+0.30 %$0
  checks:
${onLots([
  ['01-10', 'BN-101', 1996.2],
  ['01-24', 'BN-101', 1996.4],
  ['02-07', 'BN-101', 1996.7],
  ['02-20', 'BN-118', 1993.6],
  ['03-02', 'BN-118', 1993.8],
  ['03-16', 'BN-118', 1994.1],
  ['03-28', 'BN-118', 1994.3],
])}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
      message:
        'Print the feed pattern by 2026-04-27: by 7 checks on 2 lots since 2026-01-10 prints need 0.29 mm per metre less every thirty days (±0.0036 %). Prints with the correction set leave the tolerance about 2026-05-04, at the earliest 2026-04-27.',
      testOnly: true,
    },
    {
      name: 'only scatter',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.20 %
  checks:
${checks([1996.0, 1996.4, 1995.9, 1996.2, 1996.3, 1995.8, 1996.1, 1996.0])}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
    },
  ],
})

/** What to do, and until when. */
const next = ({ reached }: FeedDrift): string => {
  const day = reached?.earliest ?? reached?.expected
  return reached?.already ? 'Print the feed pattern now' : day ? `Print the feed pattern by ${day}` : 'Look at the feed roller'
}
