// The checks or the read-backs of a profile stand out of order.
import type { F, List, Section } from '../../../model/field.ts'
import { defineRule, type Fix } from '../../../rules/rule.ts'
import { fixOf } from '../../../rules/support/fixes.ts'
import { inOrder } from '../../../rules/support/in-order.ts'
import { relatedTo } from '../../landing/shared.ts'

interface Dated extends Section {
  readonly date?: F<string>
}

/** Moves the lines. Not preferred: a mistyped date is mended where it stands. */
function sorted(text: string, { $: { node } }: List<Dated>, what: string): Fix | undefined {
  const edit = node.kind === 'seq' ? inOrder(text, node) : undefined
  return edit && fixOf(`Put the ${what}s in the order of their dates`, edit)
}

export const rule = defineRule({
  code: 'check-order',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'The feed checks or the read-backs are not in the order of their dates.',
  docs: `Checks and read-backs stand oldest first, so that a new one is always the last line and a merge shows what was added. One out of order is often one with a mistyped date, and dates decide
which checks count and what the machine has. Put the date right or move the line, with its comment; what is reckoned does not change with the order.`,
  check({ document, setup: { own }, report }) {
    const judge = (list: List<Dated> | undefined, what: string): void => {
      let before: F<string> | undefined
      for (const { date } of list?.items ?? []) {
        if (!list || !date) continue
        if (before && date.value < before.value) {
          report(date.place, `This ${what} of ${date.value} stands after one of ${before.value}: the oldest comes first.`, {
            ...relatedTo(before.place, 'The later one.'),
            fixes: () => [sorted(document.text, list, what)],
          })
          return
        }
        before = date
      }
    }
    judge(own.feed?.checks, 'check')
    judge(own.keyed, 'read-back')
  },
  examples: [
    {
      name: 'a mistyped month',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: $02026-02-24$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message: 'This check of 2026-02-24 stands after one of 2026-03-20: the oldest comes first.',
      after: `profile: e
feed:
  checks:
    - {date: 2026-02-24, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      fixes: ['Put the checks in the order of their dates'],
      related: ['The later one. 2026-03-20'],
    },
    {
      name: 'two night shifts at the end, one with its comment and lines of its own',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    # All on the same roll.
    - {date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %} # day
    - {date: 2026-03-21, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    # night
    - date: $02026-03-10$0
      commanded: 1000 mm
      measured: 998 mm
      applied: 0 %
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: 0 %}
gap: 2 mm
`,
      message: 'This check of 2026-03-10 stands after one of 2026-03-21: the oldest comes first.',
      after: `profile: e
feed:
  checks:
    # All on the same roll.
    - {date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    # night
    - date: 2026-03-10
      commanded: 1000 mm
      measured: 998 mm
      applied: 0 %
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %} # day
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: 0 %}
    - {date: 2026-03-21, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
gap: 2 mm
`,
      fixes: ['Put the checks in the order of their dates'],
      related: ['The later one. 2026-03-21'],
      testOnly: true,
    },
    {
      name: 'a read-back above an older one',
      text: `#- e.media.yaml
profile: e
keyed:
  - {date: 2026-03-20, slot: 3}
  - {date: $02026-02-24$0, slot: 2}
`,
      message: 'This read-back of 2026-02-24 stands after one of 2026-03-20: the oldest comes first.',
      after: `profile: e
keyed:
  - {date: 2026-02-24, slot: 2}
  - {date: 2026-03-20, slot: 3}
`,
      fixes: ['Put the read-backs in the order of their dates'],
      related: ['The later one. 2026-03-20'],
    },
    {
      name: 'oldest first, two on one day',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
    },
    {
      name: 'one without a date',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - {date: $02026-02-24$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message: 'This check of 2026-02-24 stands after one of 2026-03-20: the oldest comes first.',
      related: ['The later one. 2026-03-20'],
      testOnly: true,
    },
    {
      name: 'one that is no check',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
    - to come
    - {date: $02026-02-24$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
`,
      message: 'This check of 2026-02-24 stands after one of 2026-03-20: the oldest comes first.',
      related: ['The later one. 2026-03-20'],
      testOnly: true,
    },
  ],
})
