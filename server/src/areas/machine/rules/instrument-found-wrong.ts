// An instrument was in doubt: which profiles were measured with it then, and which of them have nothing newer that speaks for them.

import type { RollDocument } from '../../../model/document.ts'
import { doubtOf, suspectOn } from '../../../model/instrument-history.ts'
import type { Measured, MeasuredCheck } from '../../../model/measured.ts'
import { defineRule } from '../../../rules/rule.ts'
import { plural } from '../../../rules/support/words.ts'
import { doubtText, madeThen, namesOf, placesOf } from '../instruments.ts'

export const rule = defineRule({
  code: 'instrument-found-wrong',
  severity: 'warning',
  risk: 'length',
  kinds: ['shop'],
  summary: 'Profiles were measured with an instrument while that was in doubt.',
  docs: `What was measured with an instrument while it was in doubt counts for nothing, in every profile. Those that have no newer check with another instrument rest on
nothing now, or on older checks: measure them again first. Told of each time in doubt, at the instrument; each profile tells of its own checks. If the error of the instrument
becomes known, give it under \`errors\` in place of \`suspect\`: then the checks are brought right by it and count again.`,
  check({ document, shelf, report }) {
    const { content } = document
    if (!shelf.complete || !content?.instruments) return
    for (const [name, { suspect }] of content.instruments.entries) {
      for (const entry of suspect?.items ?? []) {
        const doubt = doubtOf(entry)
        const made = madeThen(shelf, name, doubt)
        if (made.length === 0) continue
        const first = made.filter((profile) => !isMeasuredSince(document, profile, profile.then))
        const rest = made.filter((profile) => !first.includes(profile))
        const count = made.reduce((sum, { then }) => sum + then.length, 0)
        const told = `${plural(count, 'check')} of ${plural(made.length, 'profile')} ${count === 1 ? 'was' : 'were'} made with '${name}' while it was in doubt (${doubtText(doubt)}), and ${count === 1 ? 'counts' : 'count'} for nothing.`
        const again =
          first.length > 0
            ? ` Measure again first, since nothing newer speaks for ${first.length === 1 ? 'it' : 'them'}: ${namesOf(first)}.`
            : ''
        const newer = rest.length > 0 ? ` Newer checks speak for ${namesOf(rest)}.` : ''
        report(doubt.place, `${told}${again}${newer}`, { related: placesOf(made, 'Made with it then.') })
      }
    }
  },
  examples: [
    {
      name: 'three profiles, one measured since',
      text: `#- rollbook.yaml
shop: S
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, suspect: [{from: 2026-03-10, to: 2026-03-16, why: $0fell off the table$0}]}
  rule-2m: {kind: rule, division: 0.5 mm}
#- a.media.yaml
profile: a
feed:
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-11, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
#- b.media.yaml
profile: b
feed:
  checks:
    - {date: 2026-03-12, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-2m}
#- c.media.yaml
profile: c
feed:
  checks:
    - {date: 2026-03-12, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-2m}
#- d.media.yaml
profile: d
feed:
  checks:
    - {date: 2026-03-12, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-18, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
`,
      message:
        "3 checks of 3 profiles were made with 'rule-1m' while it was in doubt (fell off the table, 2026-03-10 to 2026-03-16), and count for nothing. Measure again first, since nothing newer speaks for it: a. Newer checks speak for b and d.",
      related: ['Made with it then. rule-1m', 'Made with it then. rule-1m', 'Made with it then. rule-1m'],
    },
    {
      name: 'one check, and it is still in doubt',
      text: `#- rollbook.yaml
shop: S
instruments:
  rule-1m: {kind: rule, suspect: [{from: 2026-03-10, why: $0lost$0}]}
#- a.media.yaml
profile: a
feed:
  checks:
    - {date: 2026-03-11, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-12, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m, skip: slipped}
    - {date: 2026-03-13, commanded: 1000 mm, measured: 998 mm, with: rule-1m}
`,
      message:
        "1 check of 1 profile was made with 'rule-1m' while it was in doubt (lost, since 2026-03-10), and counts for nothing. Measure again first, since nothing newer speaks for it: a.",
      related: ['Made with it then. rule-1m'],
      testOnly: true,
    },
    {
      name: 'nobody wrote down since when',
      text: `#- rollbook.yaml
shop: S
instruments:
  rule-1m: {kind: rule, suspect: [{to: 2026-03-12, why: $0bent$0}]}
#- a.media.yaml
profile: a
feed:
  checks:
    - {date: 2026-03-11, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-13, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
`,
      message:
        "1 check of 1 profile was made with 'rule-1m' while it was in doubt (bent, a day that is not written down to 2026-03-12), and counts for nothing. Newer checks speak for a.",
      related: ['Made with it then. rule-1m'],
      testOnly: true,
    },
    {
      name: 'nobody used it then',
      text: `#- rollbook.yaml
shop: S
instruments:
  rule-1m: {kind: rule, suspect: [{from: 2026-03-10, to: 2026-03-16, why: fell off the table}]}
#- a.media.yaml
profile: a
feed:
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-17, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
`,
    },
  ],
})

/** Whether a newer check speaks for a profile than those made in doubt: with another instrument, or with one that is not in doubt on its day. */
function isMeasuredSince(
  { content }: RollDocument<'shop'>,
  { checks, otherwise }: Measured,
  then: readonly MeasuredCheck[],
): boolean {
  const [newest = ''] = then
    .map(({ date }) => date)
    .sort()
    .reverse()
  if (otherwise !== undefined && otherwise > newest) return true
  return checks.some(({ instrument, date }) => date > newest && !suspectOn(content?.instruments?.entries.get(instrument), date))
}
