// A correction between two of the printer's steps: what is keyed in is not what is written down.
import { equalSi } from '../../../quantities/compare.ts'
import { formatSi, toStep } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
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
  check({ document, setup, report }) {
    const facts = feedOf(setup)
    const { applied, step, entry } = facts
    if (!applied || step === undefined || entry !== 'percent') return
    const nearest = toStep(applied.value.si, step)
    if (nearest === undefined || equalSi(nearest, applied.value.si, 'relative')) return
    if (toldByBase(setup, applied, setup.profile.printer)) return
    const text = correctionText(facts, nearest)
    report(
      applied.place,
      `${formatSi(applied.value.si, 'relative', { unit: '%', sign: true })} cannot be keyed in: the printer takes steps of ${formatSi(step, 'relative', { unit: '%' })}. The nearest is ${text}.`,
      { fixes: () => [writeSetting(document, ['feed', 'correction'], text, `Set the correction to ${text}`, true)] },
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
    {
      name: 'taken from a base of another printer',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
base: $0b$0
printer: p
${PERCENT_PRINTER}#- b.media.yaml
profile: b
printer: q
feed: {correction: +0.243 %}
`,
      message: '+0.243 % cannot be keyed in: the printer takes steps of 0.01 %. The nearest is +0.24 %.',
      after: `profile: e
base: b
printer: p
feed: { correction: +0.24 % }
`,
      fixes: ['Set the correction to +0.24 % [preferred]'],
      related: ['The value stands here. +0.243 %'],
    },
    {
      name: 'a printer that is told a measured length',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
feed: {correction: +0.243 %}
${PERCENT_PRINTER.replace('0.01 %, entry: percent', '1 mm, entry: measured-length')}`,
    },
  ],
})
