// Two readings of the room of one day that differ: only one of them can speak for the checks of that day.
import type { RoomReading } from '../../../model/generated/documents.ts'
import { compareSi } from '../../../quantities/compare.ts'
import { formatQuantity } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { relatedTo } from '../../landing/shared.ts'

export const rule = defineRule({
  code: 'room-twice',
  severity: 'hint',
  kinds: ['printer'],
  summary: 'The room was read twice on one day, with different values.',
  docs: `A check without a climate of its own takes that of its day, and of two readings the one that stands later. Where the room changed over the day,
give the checks made before their own \`climate\`. Where one reading is wrong, put it right.`,
  check({ document, report }) {
    const before = new Map<string, RoomReading>()
    for (const reading of document.content?.room?.items ?? []) {
      const { date } = reading
      if (!date) continue
      const other = before.get(date.value)
      before.set(date.value, reading)
      if (!other || !(differs(other, reading, 'temperature') || differs(other, reading, 'humidity'))) continue
      report(
        date.place,
        `${date.value} is read twice: ${valuesOf(other)}, and here ${valuesOf(reading)}. This one counts for the checks of that day.`,
        relatedTo(other.date!.place, 'The reading before.'),
      )
    }
  },
  examples: [
    {
      name: 'morning and afternoon',
      text: `#- bay-1.printer.yaml
room:
  - { date: 2026-03-10, temperature: 19 °C, humidity: 41 %RH }
  - { date: $02026-03-10$0, temperature: 25 °C, humidity: 41 %RH }
`,
      message:
        '2026-03-10 is read twice: 19 °C and 41 %RH, and here 25 °C and 41 %RH. This one counts for the checks of that day.',
      related: ['The reading before. 2026-03-10'],
    },
    {
      name: 'the humidity alone',
      text: `#- bay-1.printer.yaml
room:
  - { date: 2026-03-10, humidity: 41 %RH }
  - { date: $02026-03-10$0, humidity: 51 %RH }
`,
      message: '2026-03-10 is read twice: 41 %RH, and here 51 %RH. This one counts for the checks of that day.',
      related: ['The reading before. 2026-03-10'],
      testOnly: true,
    },
    {
      name: 'the same in other words, and one of each',
      text: `#- bay-1.printer.yaml
room:
  - { date: 2026-03-10, temperature: 68 °F }
  - { date: 2026-03-10, temperature: 20 °C }
  - { date: 2026-03-10, humidity: 41 %RH }
  - { date: 2026-03-11, humidity: 51 %RH }
`,
    },
  ],
})

function differs(a: RoomReading, b: RoomReading, key: 'temperature' | 'humidity'): boolean {
  const [one, other] = [a[key]?.value, b[key]?.value]
  return one !== undefined && other !== undefined && compareSi(one.si, other.si, key) !== 0
}

const valuesOf = ({ temperature, humidity }: RoomReading): string =>
  [temperature, humidity].flatMap((field) => (field ? [formatQuantity(field.value)] : [])).join(' and ')
