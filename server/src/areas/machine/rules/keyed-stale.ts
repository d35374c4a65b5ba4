// The machine was read back before it was given the value that the file has now.
import { keyedOf } from '../../../areas/machine/read-back.ts'
import { writtenText } from '../../../model/setting.ts'
import { defineRule } from '../../../rules/rule.ts'
import { MACHINE } from '../examples.ts'

export const rule = defineRule({
  code: 'keyed-stale',
  severity: 'hint',
  kinds: ['media'],
  summary: 'The settings were read back before the last change was keyed in.',
  docs: `A check, a fine pattern, an alignment or a heat reading of a later day was made with the value that the file has, so the machine has had it since; what was read
back before says nothing of today. Read the machine back again and add what it has as a new entry. Ignore it until the next time somebody stands there anyway.`,
  check({ setup, report }) {
    const old = keyedOf(setup).filter((found) => found.since)
    for (const date of new Set(old.map((found) => found.date))) {
      const [first, ...others] = old.filter((found) => found.date === date)
      if (!date || !first?.since || !first.setting) continue
      const more = others.length > 0 ? ` (and ${others.length} more)` : ''
      report(
        date.place,
        `Read the machine back again: on ${date.value} it had ${first.path.join('.')} ${writtenText(first.keyed)}${more}, and ${first.since.what} of ${first.since.date} ` +
          `was made with ${writtenText(first.setting)}.`,
      )
    }
  },
  examples: [
    {
      name: 'a check after it',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: +0.25 %}
keyed:
  - {date: $02026-03-10$0, correction: +0.20 %}
${MACHINE}`,
      message:
        'Read the machine back again: on 2026-03-10 it had feed.correction +0.20 %, and the check of 2026-03-24 was made with +0.25 %.',
    },
    {
      name: 'a check before it',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-09, commanded: 1000 mm, measured: 1000 mm, applied: +0.25 %}
keyed:
  - {date: 2026-03-10, correction: +0.20 %}
${MACHINE}`,
    },
    {
      name: 'read back again since',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: +0.25 %}
keyed:
  - {date: 2026-03-10, correction: +0.20 %}
  - {date: 2026-03-25, correction: +0.25 %}
${MACHINE}`,
      testOnly: true,
    },
    {
      name: 'two settings, and only one of them read back since',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: +0.25 %}
alignment: {date: 2026-03-24, under: here}
conditions: {here: {from: profile, stock: s, printer: p, mode: standard, gap: 2 mm}}
keyed:
  - {date: $02026-03-10$0, correction: +0.20 %, gap: 1.5 mm}
  - {date: 2026-03-25, correction: +0.25 %}
${MACHINE}`,
      message:
        'Read the machine back again: on 2026-03-10 it had gap 1.5 mm, and the alignment of 2026-03-24 was made with 2 mm.',
      testOnly: true,
    },
    {
      name: 'two of them',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
feed:
  correction: +0.25 %
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: +0.25 %}
alignment: {date: 2026-03-24, under: as-now}
conditions:
  as-now: {from: profile, stock: s, printer: p, mode: standard, gap: 2 mm}
keyed:
  - {date: $02026-03-10$0, correction: +0.20 %, gap: 1.5 mm}
${MACHINE}`,
      message:
        'Read the machine back again: on 2026-03-10 it had gap 1.5 mm (and 1 more), and the alignment of 2026-03-24 was made with 2 mm.',
      testOnly: true,
    },
    {
      name: 'an alignment of another machine',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
alignment: {date: 2026-03-24, under: elsewhere}
conditions:
  elsewhere: {from: profile, stock: s, printer: q, mode: standard, gap: 2 mm}
keyed:
  - {date: 2026-03-10, gap: 1.5 mm}
${MACHINE}`,
      testOnly: true,
    },
  ],
})
