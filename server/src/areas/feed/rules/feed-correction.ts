// The correction in the profile is not the one its checks ask for: prints come out long or short.

import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { isMistyped } from '../../../rules/support/mistakes.ts'
import { HERE, PERCENT_PRINTER, PLAIN_PAIR } from '../examples.ts'
import { type FeedFacts, feedOf } from '../facts.ts'
import { feedAdvice } from '../next.ts'
import { capital } from '../reckoning-words.ts'
import { setFromAllChecks } from '../shared.ts'
import { isExpectation, measuredElsewhere, verdictOf } from '../verdict.ts'
import { missingFirst } from '../verdict-words.ts'
import { askedText, correctionText, keyInText, longOrShort } from '../words.ts'

/** What is done before anything is keyed in, where the checks prove nothing of today. */
function whenExpected(facts: FeedFacts, error: string): string | undefined {
  if (!isExpectation(facts)) return undefined
  const { doubtful } = verdictOf(facts)
  if (doubtful === 'unsettled') return `Prints come out ${error}.`
  const first = doubtful === 'not-read' ? missingFirst(facts) : 'Print the pattern, and key in nothing before.'
  return `${first} By what is known prints come out ${error}.`
}

export const rule = defineRule({
  code: 'feed-correction',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The feed correction differs from what the checks ask for.',
  docs: `Each check says which correction would have made its pattern come out true. Put together, by weight, they ask for another number than the one
in the profile: either the difference is more than their uncertainty allows, or it would put prints outside the shop's length tolerance. Accept the fix, key the
number in, and print one more check. Where a check is wrong, leave it out with a reason instead.
${READ_PATTERN}`,
  check({ document, setup, report }) {
    const facts = feedOf(setup)
    const { reckoning, applied, tolerance } = facts
    // A check that stands apart pulls the result: it is dealt with first (feed-outlier), and the number after it.
    if (!reckoning?.wanted || !reckoning.keyIn || reckoning.suspects.length > 0) return
    // What was measured under other conditions says nothing of how it prints now (feed-other-conditions).
    if (measuredElsewhere(facts)) return
    const { wanted, agreement, keyIn } = reckoning
    const fixes = () => [setFromAllChecks(document, setup, facts)]
    const asked = () => askedText(facts, wanted)
    if (!applied) {
      if (isMistyped(document)) return
      const at = setup.own.feed?.$
      if (at) report(at.key ? at.key : at, `There is no correction yet, and ${asked()}.`, { fixes })
      return
    }
    if (!agreement || agreement.asKeyedIn) return
    if (agreement.withinU && Math.abs(agreement.lengthError) <= tolerance) return
    const advice = feedAdvice(facts)
    const key = keyIn.value === undefined ? ` But ${keyIn.reason}.` : ''
    const error = longOrShort(setup, agreement.lengthError)
    const keyedIn = advice?.machine === 'key-in' && verdictOf(facts).doubtful !== 'disagree'
    const toDo = keyedIn ? `Key in ${keyInText(facts)}: prints come out ${error}.` : `Prints come out ${error}.`
    report(
      applied.place,
      `${whenExpected(facts, error) ?? toDo} ${capital(asked())}, and ${correctionText(facts, applied.value.si)} is set.${key}`,
      { fixes },
    )
  },
  examples: [
    {
      name: 'set too low',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: $0+0.05 %$0 # keyed in last week
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %, under: here}
${HERE}${PLAIN_PAIR}`,
      message: 'Key in +0.25 %: prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.',
      after: `profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.25 % # keyed in last week
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %, under: here}
${HERE}`,
      fixes: ['Set the correction to +0.25 % (from 1 check) [preferred]'],
    },
    {
      name: 'nobody wrote down under what it was measured',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: $0+0.05 %$0
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
${PLAIN_PAIR}`,
      message:
        'Print the pattern, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.',
      fixes: ['Set the correction to +0.25 % (from 1 check)'],
    },
    {
      name: 'on a stock that is not named',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: $0+0.05 %$0
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
${PERCENT_PRINTER}`,
      message:
        'Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.',
      fixes: ['Set the correction to +0.25 % (from 1 check)'],
    },
    {
      name: 'not set yet',
      text: `#- e.media.yaml
profile: e
printer: p
$0feed$0:
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: 0 %}
${PERCENT_PRINTER}`,
      message: 'There is no correction yet, and 1 check asks for +0.20 % ±0.11 %.',
      after: `profile: e
printer: p
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: 0 %}
`,
      fixes: ['Set the correction to +0.20 % (from 1 check)'],
    },
    {
      name: 'measured before the roller was changed',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %, under: here}
${HERE}${PLAIN_PAIR}events: [{date: 2026-03-22, what: feed-roller-changed}]
`,
      testOnly: true,
    },
    {
      name: 'as the checks ask',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: 0 %}
${PERCENT_PRINTER}`,
    },
  ],
})
