// An instrument has two errors for one day: which of them holds?

import { shortened } from '../base/shortened.ts'
import { addDays } from '../model/dates.ts'
import { addKey } from '../model/edit.ts'
import type { ErrorOfAnInstrument } from '../model/generated/documents.ts'
import { overlap, timeOf } from '../model/instrument-history.ts'
import { formatQuantity } from '../quantities/format.ts'
import { defineRule, type Fix } from './rule.ts'
import { fixOf } from './support/fixes.ts'

export const rule = defineRule({
  code: 'instrument-errors-overlap',
  severity: 'error',
  risk: 'length',
  kinds: ['shop'],
  summary: 'An instrument has two errors for one day.',
  docs: `Readings are brought right by the error that the instrument had on their day, and there can be one only. Where two hold, nobody can say which, and what was measured with it on
these days counts for nothing. End the one on the day before the other begins.`,
  check({ document, report }) {
    for (const [name, { errors }] of document.content?.instruments?.entries ?? []) {
      const items = errors?.items ?? []
      for (const [i, later] of items.entries()) {
        const time = timeOf(later)
        const earlier = time && items.slice(0, i).find((one) => differs(one, later) && overlap(timeOf(one)!, time))
        if (!earlier || !time) continue
        const both = overlap(timeOf(earlier)!, time)!
        const days =
          both.to === both.from ? `on ${both.from}` : both.to ? `from ${both.from} to ${both.to}` : `from ${both.from} on`
        report(
          later.error!.place,
          `${errorText(later)} and ${errorText(earlier)} both hold for '${name}' ${days}: which is right? Until that is settled, what it measured then counts for nothing.`,
          {
            related: [{ file: document.file, span: earlier.error!.place.node, message: 'The other error.' }],
            fixes: () => [ended(document.text, earlier, later) ?? ended(document.text, later, earlier)],
          },
        )
      }
    }
  },
  examples: [
    {
      name: 'the older one was never ended',
      text: `#- rollbook.yaml
instruments:
  tape-5m:
    errors:
      - { from: 2026-01-20, error: +0.2 mm/m }
      - { from: 2026-03-01, error: $0+0.6 ±0.1 mm/m$0 }
`,
      message:
        "+0.6 ±0.1 mm/m and +0.2 mm/m both hold for 'tape-5m' from 2026-03-01 on: which is right? Until that is settled, what it measured then counts for nothing.",
      after: `instruments:
  tape-5m:
    errors:
      - { from: 2026-01-20, to: 2026-02-28, error: +0.2 mm/m }
      - { from: 2026-03-01, error: +0.6 ±0.1 mm/m }
`,
      fixes: ["End '+0.2 mm/m' on 2026-02-28"],
      related: ['The other error. +0.2 mm/m'],
    },
    {
      name: 'the newer one stands first',
      text: `#- rollbook.yaml
instruments: { tape: { errors: [{ from: 2026-03-01, error: 0.6 mm }, { from: 2026-01-20, error: $00.2 mm/m$0 }] } }
`,
      message:
        "0.2 mm/m and 0.6 mm both hold for 'tape' from 2026-03-01 on: which is right? Until that is settled, what it measured then counts for nothing.",
      after:
        'instruments: { tape: { errors: [{ from: 2026-03-01, error: 0.6 mm }, { from: 2026-01-20, to: 2026-02-28, error: 0.2 mm/m }] } }\n',
      fixes: ["End '0.2 mm/m' on 2026-02-28"],
      related: ['The other error. 0.6 mm'],
      testOnly: true,
    },
    {
      name: 'they share their last day',
      text: `#- rollbook.yaml
instruments: { tape: { errors: [{ from: 2026-01-20, to: 2026-03-01, error: 0.6 mm }, { from: 2026-03-01, to: 2026-03-20, error: $00.2 mm/m$0 }] } }
`,
      message:
        "0.2 mm/m and 0.6 mm both hold for 'tape' on 2026-03-01: which is right? Until that is settled, what it measured then counts for nothing.",
      related: ['The other error. 0.6 mm'],
      testOnly: true,
    },
    {
      name: 'a span of days in which both hold',
      text: `#- rollbook.yaml
instruments: { tape: { errors: [{ from: 2026-01-20, to: 2026-03-01, error: 0.6 mm }, { from: 2026-02-20, error: $00.2 mm/m$0 }] } }
`,
      message:
        "0.2 mm/m and 0.6 mm both hold for 'tape' from 2026-02-20 to 2026-03-01: which is right? Until that is settled, what it measured then counts for nothing.",
      related: ['The other error. 0.6 mm'],
      testOnly: true,
    },
    {
      name: 'one after the other, and twice the same',
      text: `#- rollbook.yaml
instruments:
  tape-5m:
    errors:
      - { from: 2026-01-20, to: 2026-02-28, error: +0.2 mm/m }
      - { from: 2026-03-01, error: +0.6 mm/m }
      - { from: 2026-03-10, error: 0.06 % }
`,
    },
  ],
})

function differs(a: ErrorOfAnInstrument, b: ErrorOfAnInstrument): boolean {
  const [one, other] = [a.error?.value, b.error?.value]
  if (!one || !other || !a.from || !b.from) return false
  return one.dimension !== other.dimension || one.si !== other.si || one.uncertainty !== other.uncertainty
}

/** As it is written, with its sign. */
function errorText({ error }: ErrorOfAnInstrument): string {
  const { value, place } = error!
  return place.node.kind === 'scalar' ? shortened(place.node.text) : formatQuantity(value)
}

/** Ends an error that goes on the day before another begins. */
function ended(text: string, earlier: ErrorOfAnInstrument, later: ErrorOfAnInstrument): Fix | undefined {
  if (earlier.to || later.from!.value <= earlier.from!.value) return undefined
  const { node, aliased } = earlier.$
  if (node.kind !== 'map' || aliased) return undefined
  const day = addDays(later.from!.value, -1)
  return fixOf(`End '${errorText(earlier)}' on ${day}`, addKey(text, node, 'to', day, 'from'))
}
