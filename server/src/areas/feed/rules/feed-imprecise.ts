// The checks agree, but not closely enough to promise the shop's tolerance: the pattern is too short or the rule too coarse.

import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { EXAMPLE_SHOP, PERCENT_PRINTER } from '../examples.ts'
import { feedOf } from '../facts.ts'
import { checksText, perLength, plusMinus } from '../words.ts'

export const rule = defineRule({
  code: 'feed-imprecise',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: "The feed checks cannot prove the shop's length tolerance.",
  docs: `What a check proves is limited by the rule: its division at both ends of the pattern, its limit of error, and the temperature of rule and web.
More checks with the same rule do not help beyond a point, because they share its error; a longer pattern or a better rule does. Ignore it where prints are not
measured by anyone.`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    const { reckoning, tolerance, newest } = facts
    const { combined, wanted, keyIn, fine, proof } = reckoning ?? {}
    // A suspect among them spoils the proof by itself, and is told of by its own rule.
    if (!combined || !wanted || !keyIn || !proof || proof.known || facts.stale || reckoning?.suspects.length) return
    const picks = fine?.use === 'used' ? fine : undefined
    const length = proof.required?.length
    const help =
      length !== undefined
        ? `A pattern of ${formatSi(Math.ceil(length * 10) / 10, 'length', { unit: 'm' })} measured the same way would prove that`
        : proof.required
          ? 'A better rule would prove that'
          : `${picks ? 'The picks and the rounding' : 'The rounding'} alone leave more: no rule would prove that`
    const who = `${checksText(combined.n)}${picks ? ' and the fine picks' : ''}`
    const rounding = wanted.U <= tolerance ? `, the rounding leaves ${perLength(setup, keyIn.left)}` : ''
    const at = newest?.check.measured?.place ?? setup.own.feed?.checks?.$
    if (at)
      report(
        at,
        `${who} prove${combined.n === 1 && !picks ? 's' : ''} the correction to ${plusMinus(wanted.U)}${rounding}, and the shop's tolerance is ${formatSi(tolerance, 'relative', { unit: '%', digits: 2 })}. ${help}.`,
      )
  },
  examples: [
    {
      name: 'a short pattern',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  checks:
    - {date: 2026-03-24, commanded: 500 mm, measured: $0499.1 mm$0, applied: 0 %, with: rule-1m}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
      message:
        "1 check proves the correction to ±0.14 %, and the shop's tolerance is 0.05 %. A pattern of 1.8 m measured the same way would prove that.",
    },
    {
      name: 'a long one',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  checks:
    - {date: 2026-03-24, commanded: 5000 mm, measured: 4991 ±0.2 mm, applied: 0 %, with: rule-1m}
${PERCENT_PRINTER}${EXAMPLE_SHOP}`,
    },
  ],
})
