// The printer's feed step is so coarse that the nearest one still leaves prints outside the shop's length tolerance.

import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { feedOf } from '../facts.ts'
import { correctionText, longOrShort, perLength } from '../words.ts'

const COARSE = `#- p.printer.yaml
printer: p
feed: {range: [-2 %, 2 %], step: 0.2 %, entry: percent}
`

export const rule = defineRule({
  code: 'rounding-leaves',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: "Rounding to the printer's step leaves more than the length tolerance.",
  docs: `What is keyed in goes to the nearest step of the printer; the rest stays in the print. Where half a step is more than the shop's tolerance, some stocks
cannot be printed true on this machine by its feed alone: scale the job by what is left, before it is sent, and say so on the set-up sheet. Ignore it where prints
are trimmed to size. Look first whether \`feed.step\` in the printer's document is written down right.`,
  check({ setup, report }) {
    const facts = feedOf(setup)
    const { reckoning, tolerance, applied, step, entry, lengthUnit } = facts
    const { keyIn, agreement, wanted } = reckoning ?? {}
    if (!applied || !wanted || step === undefined || keyIn?.value === undefined || !agreement?.asKeyedIn) return
    if (Math.abs(keyIn.left) <= tolerance) return
    const steps = entry === 'percent' ? formatSi(step, 'relative', { unit: '%' }) : formatSi(step, 'length', { unit: lengthUnit })
    const asked = formatSi(wanted.correction, 'relative', { unit: '%', decimals: 3, sign: true })
    const place = setup.printer?.feed?.step?.place
    report(
      applied.place,
      `${correctionText(facts, applied.value.si)} is the nearest to ${asked} that the printer takes in steps of ${steps}, and leaves prints ${longOrShort(setup, keyIn.left)}; ` +
        `the tolerance is ${perLength(setup, tolerance)}.`,
      place && {
        related: [{ file: place.file, span: place.node, message: "The printer's step." }],
      },
    )
  },
  examples: [
    {
      name: 'steps of a fifth of a per cent',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: $00 %$0
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1998.2 mm, applied: 0 %}
${COARSE}`,
      message:
        '0.0 % is the nearest to +0.090 % that the printer takes in steps of 0.2 %, and leaves prints 0.9 mm per metre short; the tolerance is 0.5 mm per metre.',
      related: ["The printer's step. 0.2 %"],
    },
    {
      name: 'a panel that takes whole millimetres of a short pattern',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: $00 %$0
  checks:
    - {date: 2026-03-24, commanded: 500 mm, measured: 499.8 ±0.01 mm, applied: 0 %}
#- p.printer.yaml
printer: p
feed: {range: [-2 %, 2 %], step: 1 mm, entry: measured-length, pattern-lengths: [500 mm]}
#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.03 %}
`,
      message:
        '0.000 % is the nearest to +0.040 % that the printer takes in steps of 1 mm, and leaves prints 0.4 mm per metre short; the tolerance is 0.3 mm per metre.',
      related: ["The printer's step. 1 mm"],
      testOnly: true,
    },
    {
      name: 'near a step',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.2 %
  checks:
    - {date: 2026-03-24, commanded: 2000 mm, measured: 1996.2 mm, applied: 0 %}
${COARSE}`,
    },
  ],
})
