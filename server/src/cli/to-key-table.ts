// What to key in as a table, a row a setting; and an empty table with a row a profile, in which somebody writes what the machine has, for `rollbook import`.
import { evidenceKind } from '../model/evidence.ts'
import { parseQuantity } from '../quantities/parse.ts'
import type { ToKeySlot } from '../report/fleet/to-key.ts'
import { placeName } from '../report/fleet/to-key-text.ts'
import type { CsvCell } from './csv.ts'
import { columnName, PROFILE } from './import-columns.ts'

interface Table {
  readonly header: readonly string[]
  readonly rows: readonly (readonly CsvCell[])[]
}

const text = (words: string | undefined): CsvCell => ({ text: words ?? '', isNumber: false })

/** In the order of the list: what is in doubt stands in its slot here, and its state tells. */
export function toKeyTable(slots: readonly ToKeySlot[]): Table {
  const header = ['slot', PROFILE, 'stock', 'mode', 'key', 'where', 'key in', 'file', 'state', 'machine had', 'read back', 'note']
  const rows = slots.flatMap(({ slot, profile, stock, mode, items }) =>
    items.map(({ key, where, text: keyed, file, state, machine, since, note, ways }) => [
      slot === undefined ? text('') : { text: String(slot), isNumber: true },
      text(profile),
      text(stock),
      text(mode),
      text(key),
      text(where),
      text(state === 'key-in' ? keyed : undefined),
      text(file),
      text(state),
      text(machine?.text),
      text(machine?.date ?? since),
      text([...(note === undefined ? [] : [note]), ...ways.map((way) => way.text)].join(' ')),
    ]),
  )
  return { header, rows }
}

/** Nothing is filled in: what the machine has is read off the machine. Columns in the unit of its panel; the first is for the reader alone. */
export function blankReadBacks(slots: readonly ToKeySlot[]): Table {
  const used = slots.filter(({ retired }) => retired === undefined)
  const kind = evidenceKind('keyed')!
  const keys = [...kind.entry.properties].flatMap(([key, schema]): readonly string[] => {
    const items = used.flatMap((slot) => slot.items.filter((item) => item.key === schema.readsBack))
    if (items.length === 0) return []
    const types = schema.kind === 'leaf' ? schema.accepts : []
    const units = items.flatMap(({ text: keyed, file }) =>
      types.flatMap((type) => {
        if (type.type !== 'quantity') return []
        const read = parseQuantity(keyed ?? file, type.dimension)
        return read.ok ? [read.value.unit.id] : []
      }),
    )
    return [columnName({ key, part: 'value', unit: units[0] })]
  })
  const header = ['-', PROFILE, 'date', ...keys, 'note']
  const rows = used.map((slot) => [
    text(`${placeName(slot)}${slot.title === undefined ? '' : `: ${slot.title}`}`),
    text(slot.profile),
    ...header.slice(2).map(() => text('')),
  ])
  return { header, rows }
}
