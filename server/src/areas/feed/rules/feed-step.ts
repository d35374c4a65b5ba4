// A correction between two of the printer's steps: what is keyed in is not what is written down.

import { replaceValue } from '../../../model/edit.ts'
import { formatSi, toStep } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { PERCENT_PRINTER } from '../examples.ts'
import { feedOf } from '../facts.ts'
import { correctionText } from '../words.ts'

export const rule = defineRule({
  code: 'feed-step',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: "The feed correction is not one of the printer's steps.",
  docs: `The number in the file should be the number in the machine. One between two steps cannot be keyed in, so somebody rounds it, and nobody knows
which way. Printers that are told a measured length are not looked at here: their correction is whatever comes out of that length.`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    const { applied, step, entry } = facts
    if (!applied || step === undefined || entry !== 'percent') return
    const nearest = toStep(applied.value.si, step)
    if (nearest === undefined || Math.abs(nearest - applied.value.si) < step * 1e-6) return
    const text = correctionText(facts, nearest)
    report(
      applied.place,
      `${formatSi(applied.value.si, 'relative', { unit: '%', sign: true })} cannot be keyed in: the printer takes steps of ${formatSi(step, 'relative', { unit: '%' })}. The nearest is ${text}.`,
      {
        fixes: () => {
          const edit = replaceValue(applied.place, text)
          return [
            edit.ok
              ? { title: `Set the correction to ${text}`, edits: edit.edits, preferred: true }
              : { title: `Set the correction to ${text}`, edits: [], refused: edit.refused },
          ]
        },
      },
    )
  },
  examples: [
    {
      name: 'a digit too many',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: $0+0.243 %$0}
${PERCENT_PRINTER}`,
      message: '+0.243 % cannot be keyed in: the printer takes steps of 0.01 %. The nearest is +0.24 %.',
      after: `profile: e
printer: p
feed: {correction: +0.24 %}
`,
      fixes: ['Set the correction to +0.24 % [preferred]'],
    },
    {
      name: 'on a step',
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: +0.24 %}
${PERCENT_PRINTER}`,
    },
    {
      name: 'the same step in another unit',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: 2.4 mm/m}
${PERCENT_PRINTER}`,
    },
  ],
})
