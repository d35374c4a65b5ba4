// A fault that was seen and is not settled: what to try, in the order that this setup's numbers give.
import type { MediaDocument } from '../../../model/generated/documents.ts'
import { defineRule } from '../../../rules/rule.ts'
import { explainFault } from '../../../schema/explain.ts'
import { type Advice, adviceFor, remedyText } from '../faults.ts'

/** How many remedies the message names; the hover has them all. */
const NAMED = 3

function messageOf(fault: string, advice: Advice | undefined): string {
  if (!advice) return `${fault} is not settled.`
  const named = advice.remedies.slice(0, NAMED)
  const list = named.map((r, i) => `${i + 1}. ${remedyText(r)} (${r.reason ?? r.words.replace(/\.$/, '')})`)
  const message = [
    `${fault} is not settled. First ${firstSentence(advice.first)}`,
    list.length > 0 && `Then try, in this order: ${list.join('; ')}.`,
    advice.caution && `Caution: ${advice.caution}`,
  ]
  return message.filter(Boolean).join(' ')
}

const firstSentence = (text: string): string => /^.*?\.(?= |$)/.exec(text)?.[0] ?? text

export const rule = defineRule({
  code: 'open-fault',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'A fault was seen and is not settled yet.',
  docs: `Someone wrote down a fault and no date on which it was settled. What to look at first and what to try come from the page of the fault (common practice), the order moved by
what the numbers of this profile say for and against each setting; what they rule out is left out, and so is a step that another fault of this profile speaks against. One step on this
machine is offered for what is named, where it is safe; a step of suction, tension or heat asks for a new feed check. Change one thing at a time, print the same piece again, and write \`settled\` when
it is gone. Heat, moving carriages and rolls, and solvent vapour can hurt: the machine's and the material's own safety documents come first.`,
  check({ document, setup, report }) {
    for (const seen of (setup.own as MediaDocument).observed?.items ?? []) {
      const { fault } = seen
      if (!fault || seen.settled) continue
      if (!explainFault(fault.value)) continue
      // Somebody who writes down thousands is told of the first ones, and only these are weighed.
      const advice = (): Advice | undefined => adviceFor(document, setup, fault.value, seen)
      report(fault.place, () => messageOf(fault.value, advice()), {
        steps: () => (advice()?.remedies ?? []).slice(0, NAMED).map((r) => r.step),
      })
    }
  },
  examples: [
    {
      name: 'a stale feed check is looked at first',
      text: `#- e.media.yaml
profile: e
feed:
  correction: +0.20 %
  checks:
    - {date: 2025-11-30, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
observed:
  - {date: 2026-03-30, fault: $0length-short$0, note: 5 m banner came out short}
`,
      message:
        'length-short is not settled. First let it cool and relax, measure again with a good rule, and add a length check. Then try, in this order: 1. look at feed.correction (the newest check is 121 days old, and one proves the feed for 30: check again first); 2. lower web.tension (it stretches the web while it is printed, and the print relaxes); 3. lower suction (its drag stretches the web while it is printed, and the print relaxes). Caution: measure on the table, not on the machine: a rule over a live machine brings hands between carriage and heaters.',
    },
    {
      name: 'settled',
      text: `#- e.media.yaml
profile: e
observed:
  - {date: 2026-03-10, fault: length-short, settled: 2026-03-12}
`,
    },
  ],
})
