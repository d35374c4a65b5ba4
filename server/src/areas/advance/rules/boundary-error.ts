// What is not known of the feed, or what rounding leaves, moves the boundary between two passes by more than a quarter of a pixel.

import { shown } from '../../../model/shown.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { feedOf } from '../../feed/facts.ts'
import { plusMinus } from '../../feed/words.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { throughputOf } from '../facts.ts'

export const rule = defineRule({
  code: 'boundary-error',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'The feed is not known well enough for the passes to meet without bands.',
  docs: `A wrong feed opens or closes the boundary between two passes by the error times the advance of a pass. More than about a quarter of a pixel can be seen
as a light or dark line at every advance (common practice). A length check is rarely sharp enough where the advance is large: print the fine feed pattern, which shows the
boundary itself, or use more passes. Ignore it where bands do not matter, or where none are seen.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { quarterPixel, plan } = throughputOf(setup)
    const { reckoning, stale } = feedOf(setup)
    const { wanted, keyIn, agreement } = reckoning ?? {}
    if (!quarterPixel.ok || !plan.ok || !wanted || stale) return
    const at = setup.profile.feed?.correction?.place ?? setup.own.feed?.checks?.$
    if (!at) return
    const { advance, rasterPitch } = plan.value
    const over = (): string => `over the advance of ${shown(setup, advance, 'length')} that moves the boundary between passes by`
    const limit = (): string => `and a quarter of a pixel is ${shown(setup, rasterPitch / 4, 'length', 2)}`
    if (agreement?.asKeyedIn && keyIn?.value !== undefined && Math.abs(keyIn.left) > quarterPixel.value) {
      const left = formatSi(Math.abs(keyIn.left), 'relative', { unit: '%', digits: 2 })
      const moves = shown(setup, Math.abs(keyIn.left) * advance, 'length', 2)
      report(
        at,
        `The printer's step leaves a feed error of ${left}: ${over()} ${moves}, ${limit()}. Bands may show; more passes make them finer.`,
      )
    } else if (wanted.U > quarterPixel.value) {
      const moves = shown(setup, wanted.U * advance, 'length', 2)
      report(
        at,
        `Print the fine feed pattern: the feed is known to ${plusMinus(wanted.U)}; ${over()} up to ${moves}, ${limit()}.`,
      )
    }
  },
  examples: [
    {
      name: 'one pass and a length check',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: one-pass
feed:
  correction: $0+0.20 %$0
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
${MACHINE}${FILM}`,
      message:
        'Print the fine feed pattern: the feed is known to ±0.15 %; over the advance of 25.4 mm that moves the boundary between passes by up to 37 µm, and a quarter of a pixel is 18 µm.',
    },
    {
      name: 'a coarse step',
      text: `#- e.media.yaml
profile: e
printer: q
mode: one-pass
feed:
  correction: $00 %$0
  checks:
    - {date: 2026-03-24, commanded: 10 m, measured: 9991 ±0.1 mm, applied: 0 %}
#- q.printer.yaml
printer: q
heads: {nozzle-pitch: 1/360 in, nozzles: 360}
modes: {one-pass: {resolution: 720 x 360 dpi, passes: 1, carriage-speed: 1 m/s, directions: two-way}}
feed: {range: [-2 %, 2 %], step: 0.2 %, entry: percent}
`,
      message:
        "The printer's step leaves a feed error of 0.09 %: over the advance of 25.4 mm that moves the boundary between passes by 23 µm, and a quarter of a pixel is 18 µm. Bands may show; more passes make them finer.",
      testOnly: true,
    },
    {
      name: 'eight passes',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
${MACHINE}${FILM}`,
    },
  ],
})
