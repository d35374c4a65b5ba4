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

interface Held {
  readonly cells: readonly Cell[]
  /** The row it came with, or that was recognised as it. */
  line: number | undefined
}

/** The entries of one kind in one profile, and those that rows have brought. */
export class HeldEvidence {
  private readonly byDate = new Map<string, Held[]>()
  private readonly identity: readonly string[]

  constructor(
    private readonly kind: EvidenceKind,
    entries: readonly Entry[],
  ) {
    this.identity = identityOf(kind)
    for (const { cells } of entries) this.on(cells).push({ cells, line: undefined })
  }

  /** Takes a row: what it is beside all that is there. Rows come in their order. */
  standing({ cells }: Entry, line: number): Standing {
    const near = this.on(cells)
    const meaning = meaningOf(cells)
    const free = near.filter((held) => held.line === undefined)
    const same = free.find((held) => meaningOf(held.cells) === meaning) ?? free.find((held) => isWithin(cells, held.cells))
    if (same) {
      same.line = line
      return { is: 'held' }
    }
    const repeated = near.find((held) => held.line !== undefined && isWithin(cells, held.cells))
    if (repeated) return { is: 'repeat', line: repeated.line! }
    const alike = near.find((held) => this.isAlike(cells, held.cells))
    return alike ? { is: 'differs', line: alike.line, how: differences(cells, alike.cells) } : { is: 'new' }
  }

  add({ cells }: Entry, line: number): void {
    this.on(cells).push({ cells, line })
  }

  /** Those of its day; of a section, which there is one of, all. */
  private on(cells: readonly Cell[]): Held[] {
    const date = this.kind.form === 'section' ? '' : (cells.find(({ key }) => key === 'date')?.text ?? '')
    const near = this.byDate.get(date) ?? []
    this.byDate.set(date, near)
    return near
  }

  /** Whether both may be one reading: nothing that tells readings apart differs. */
  private isAlike(row: readonly Cell[], held: readonly Cell[]): boolean {
    if (this.kind.form === 'section') return true
    if (this.identity.length === 0) return false
    return this.identity.every((key) => {
      const [a, b] = [row, held].map((cells) => cells.find((cell) => cell.key === key && cell.part === 'value')?.meaning)
      return a === undefined || b === undefined || a === b
    })
  }
}

/** What tells readings of one day apart: what was measured and with what. Not under which correction, which is a setting and may be mistyped. */
function identityOf({ entry }: EvidenceKind): readonly string[] {
  if (entry.kind === 'leaf') return []
  const needed = entry.required.filter((key) => key !== 'date' && key !== 'applied')
  return needed.length > 0 && entry.properties.has('with') ? [...needed, 'with'] : needed
}

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
