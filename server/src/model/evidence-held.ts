// Whether an entry of evidence that comes from elsewhere is there already. The same reading written down twice would count twice, and make a result
// surer than it is; so what agrees with another is told, and added only where a person says that it was measured again.
import { type Cell, type Entry, type EvidenceKind, meaningOf } from './evidence.ts'

export type Standing =
  | { readonly is: 'new' }
  /** All that it says is there. */
  | { readonly is: 'held' }
  /** Another row of the table says the same. */
  | { readonly is: 'repeat'; readonly line: number }
  /** The same reading is there, and something of it is otherwise: in the profile, or in another row. */
  | { readonly is: 'differs'; readonly line: number | undefined; readonly how: string }

/** What may be one reading: those of the profile that no row was recognised as, and the others. */
interface Near {
  readonly free: Held[]
  readonly taken: Held[]
}

interface Held {
  readonly cells: readonly Cell[]
  readonly meaning: string
  /** The row it came with, or that was recognised as it. */
  readonly line: number | undefined
}

/** The entries of one kind in one profile, and those that rows have brought. */
export class HeldEvidence {
  /** By what tells readings apart, so that a table with one day in all its rows is read as fast as any. */
  private readonly byReading = new Map<string, Near>()
  private readonly needed: readonly string[]

  constructor(
    private readonly kind: EvidenceKind,
    entries: readonly Entry[],
    /** Whether rows that agree are measurements of their own, as a person says. */
    private readonly repeats: boolean,
  ) {
    this.needed = neededOf(kind)
    for (const { cells } of entries) this.near(cells).free.push({ cells, meaning: meaningOf(cells), line: undefined })
  }

  /** Takes a row: what it is beside all that is there. Rows come in their order. */
  standing({ cells }: Entry, line: number): Standing {
    const { free, taken } = this.near(cells)
    const meaning = meaningOf(cells)
    const exact = free.findIndex((held) => held.meaning === meaning)
    const place = exact < 0 ? free.findIndex((held) => isWithin(cells, held.cells)) : exact
    if (place >= 0) {
      taken.push(...free.splice(place, 1).map((held) => ({ ...held, line })))
      return { is: 'held' }
    }
    if (this.repeats && this.kind.form === 'list') return { is: 'new' }
    const repeated = taken.find((held) => isWithin(cells, held.cells))
    if (repeated) return { is: 'repeat', line: repeated.line! }
    const isAlike = (held: Held): boolean => this.isAlike(cells, held.cells)
    const alike = free.find(isAlike) ?? taken.find(isAlike)
    return alike ? { is: 'differs', line: alike.line, how: differences(cells, alike.cells) } : { is: 'new' }
  }

  add({ cells }: Entry, line: number): void {
    this.near(cells).taken.push({ cells, meaning: meaningOf(cells), line })
  }

  /** Those that may be the same reading; of a section, which there is one of, all. */
  private near(cells: readonly Cell[]): Near {
    const { form } = this.kind
    const keys = form === 'section' ? [] : ['date', ...this.needed]
    const reading = keys.map((key) => meaningAt(cells, key) ?? '').join('\n')
    const near = this.byReading.get(reading) ?? { free: [], taken: [] }
    this.byReading.set(reading, near)
    return near
  }

  /** Whether both are one reading where not all of it is the same: made with one instrument, as far as both say. */
  private isAlike(row: readonly Cell[], held: readonly Cell[]): boolean {
    if (this.kind.form === 'section') return true
    const [a, b] = [meaningAt(row, 'with'), meaningAt(held, 'with')]
    return this.needed.length > 0 && (a === undefined || b === undefined || a === b)
  }
}

/** What tells readings of one day apart: what was measured. Not under which correction, which is a setting and may be mistyped. */
const neededOf = ({ entry }: EvidenceKind): readonly string[] =>
  entry.required.filter((key) => key !== 'date' && key !== 'applied')

const meaningAt = (cells: readonly Cell[], key: string): string | undefined =>
  cells.find((cell) => cell.key === key && cell.part === 'value')?.meaning

/** Whether all that a row says stands in an entry, and means the same there. */
const isWithin = (row: readonly Cell[], held: readonly Cell[]): boolean =>
  row.every((cell) => find(held, cell)?.meaning === cell.meaning)

const find = (cells: readonly Cell[], { key, part }: Cell): Cell | undefined =>
  cells.find((cell) => cell.key === key && cell.part === part)

function differences(row: readonly Cell[], held: readonly Cell[]): string {
  const parts = row.flatMap((cell) => {
    const there = find(held, cell)
    if (there?.meaning === cell.meaning) return []
    const name = `${cell.key}${cell.part === 'spread' ? ' ±' : ''}`
    return [there ? `${name} is ${shown(there)} there and ${shown(cell)} here` : `${name} is not given there`]
  })
  return parts.join(', ')
}

const shown = ({ text, unit }: Cell): string => (unit === undefined ? text : `${text} ${unit}`)
