// A feed correction that no check of this profile stands behind.

import { isInherited, type Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'

export const rule = defineRule({
  code: 'feed-unproven',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'The feed correction has no check behind it.',
  docs: `A number that nobody measured is a guess, and a number taken from a base was measured in another mode. Print the feed pattern on this machine, in
this mode, and write one check down. Ignore it for a profile that is never used for work to size.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { profile } = setup
    const correction = profile.feed?.correction
    if (!correction) return
    // A check that is half typed, or wrong by its own rule, is a check all the same.
    const list = setup.own.feed?.checks?.$.node
    if (list?.kind === 'seq' && list.items.length > 0) return
    const at = isInherited(setup, correction) ? (setup.own.base?.place ?? correction.place) : correction.place
    const from = isInherited(setup, correction) ? takenFrom(setup, correction.place.file) : ''
    const node = correction.place.node
    report(
      at,
      `Print the feed pattern and write down what it measures: the correction ${node.kind === 'scalar' ? node.text : ''} has no check behind it${from}.`,
    )
  },
  examples: [
    {
      name: 'a number out of nowhere',
      text: `#- e.media.yaml
profile: e
feed:
  correction: $0+0.20 %$0
`,
      message: 'Print the feed pattern and write down what it measures: the correction +0.20 % has no check behind it.',
    },
    {
      name: 'taken from a base',
      text: `#- e.media.yaml
profile: e
base: $0other$0
#- other.media.yaml
profile: other
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message:
        'Print the feed pattern and write down what it measures: the correction +0.20 % has no check behind it, and it was taken from other.',
    },
    {
      name: 'one check',
      text: `#- e.media.yaml
profile: e
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
    },
    {
      name: 'a list of none',
      text: `#- e.media.yaml
profile: e
feed: {correction: $0+0.20 %$0, checks: []}
`,
      message: 'Print the feed pattern and write down what it measures: the correction +0.20 % has no check behind it.',
      testOnly: true,
    },
    {
      name: 'measured in another mode',
      text: `#- e.media.yaml
profile: e
base: $0other$0
mode: fine
#- other.media.yaml
profile: other
mode: draft
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message:
        'Print the feed pattern and write down what it measures: the correction +0.20 % has no check behind it, and it was taken from other, where it was measured in draft.',
      testOnly: true,
    },
    {
      name: 'of one’s own on a base',
      text: `#- e.media.yaml
profile: e
base: other
feed: {correction: $0+0.20 %$0}
#- other.media.yaml
profile: other
mode: draft
`,
      message: 'Print the feed pattern and write down what it measures: the correction +0.20 % has no check behind it.',
      testOnly: true,
    },
  ],
})

/** Whose correction it is, and whether that was measured in this mode. */
function takenFrom({ bases, profile }: Setup, file: string): string {
  const at = bases.findIndex((base) => base.file === file)
  const mode = bases.slice(at).find((base) => base.content?.mode)?.content?.mode?.value
  const elsewhere = mode !== undefined && mode !== profile.mode?.value ? `, where it was measured in ${mode}` : ''
  return `, and it was taken from ${bases[at]?.baseName ?? 'a base'}${elsewhere}`
}
