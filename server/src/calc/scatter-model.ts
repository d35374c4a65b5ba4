// Values that share errors, days, lots and a drift, and how they are laid out to be solved.
import type { CommonPart } from './statistics.ts'

/** One value and what it shares with others. Fractions of length, standard uncertainties. */
export interface ScatterValue {
  readonly value: number
  /** Of its own: the reading, and whatever of the conditions is not shared; zero or more. */
  readonly u: number
  /** What it shares with all values that name the cause; signed. */
  readonly shared?: readonly CommonPart[]
  /** Values of one day and one state share this; a value without one was printed on a day of its own. */
  readonly day?: string | undefined
  /** A value without one is of a lot of its own. */
  readonly lot?: string | undefined
  /** Days from then to now, zero or more; 0 where left out. */
  readonly age?: number | undefined
}

/** The values laid out for elimination: by age, then by day. */
export interface Layout {
  readonly n: number
  /** What was taken off all values, so that no digits are lost. */
  readonly origin: number
  /** Position in the order given, of each row. */
  readonly order: readonly number[]
  readonly own: Float64Array
  /** Whether a row shares its day with another. */
  readonly hasDay: Uint8Array
  /** Effects common to several: the mean, causes, days that span several ages, and lots, the oldest first; one more column is the value itself. */
  readonly width: number
  readonly kinds: readonly ('mean' | 'lot' | 'cause' | 'day' | 'value')[]
  /** Entries of row j stand from start[j] to start[j + 1]. */
  readonly start: Int32Array
  readonly column: Int32Array
  readonly entry: Float64Array
  /** The same with each shared cause at the smallest size that any value has of it; what is above it counts as the value's own in `excess`. */
  readonly narrowed: Float64Array
  readonly excess: Float64Array
  /** Whether each shared cause is of about one size in all values that have it: then narrowing it changes nothing that anybody could see. */
  readonly even: boolean
  /** Rows of group g: from groups[g] to groups[g + 1]; `local` where they are the whole of a day of several values. */
  readonly groups: Int32Array
  readonly local: Uint8Array
  /** Groups of level k: from levels[k] to levels[k + 1], all of the age ages[k]; ages rise. */
  readonly levels: Int32Array
  readonly ages: Float64Array
  readonly causes: readonly string[]
  /** Column of the first lot; causes begin at 1. */
  readonly firstLot: number
  /** Column of each row's lot, 0 where lots do not matter. */
  readonly lotOf: Int32Array
  /** Column of the lot in question now; -1 where none of the values is of it, or lots do not matter. */
  readonly lotNow: number
  /** Whether lots differ from one another or from the one in question. */
  readonly lotsDiffer: boolean
  /** Number of each row's day, -1 where it has none, and how many there are. */
  readonly dayOf: Int32Array
  readonly dayCount: number
}

/** How much sizes of one cause may differ and count as one: weights of either kind are as good, and within that of each other. */
const EVEN = 0.002

/** Lays values out. Without `lotNow` the mean is asked for a lot that none of the values is of. */
export function layoutOf(values: readonly ScatterValue[], lotNow: string | undefined): Layout {
  const n = values.length
  const ageOf = (i: number): number => values[i]!.age ?? 0
  const days = sharedDays(values)
  const firstOfDay = new Map<string, number>()
  values.forEach(({ day }, i) => {
    if (day !== undefined && !firstOfDay.has(day)) firstOfDay.set(day, i)
  })
  const placeOfDay = (i: number): number => {
    const { day } = values[i]!
    return day !== undefined && days.get(day)?.local ? firstOfDay.get(day)! : i
  }
  const order = values.map((_, i) => i).sort((a, b) => ageOf(a) - ageOf(b) || placeOfDay(a) - placeOfDay(b) || a - b)
  const someLot = values.some(({ lot }) => lot !== undefined)
  const lotsDiffer = someLot && values.some(({ lot }) => lot === undefined || lot !== lotNow)
  const causes = new Map<string, number>()
  for (const { shared } of values) for (const { cause } of shared ?? []) if (!causes.has(cause)) causes.set(cause, causes.size)
  const wide = [...days.values()].filter(({ local }) => !local)
  const firstDay = 1 + causes.size
  wide.forEach((day, d) => {
    day.column = firstDay + d
  })
  const firstLot = firstDay + wide.length
  const lots = new Map<string, number>()
  let width = firstLot
  // From the oldest on, so that lots come in one after the other where rows are eliminated in that order.
  const lotColumns = new Int32Array(n)
  for (const i of lotsDiffer ? order.toReversed() : []) {
    const { lot } = values[i]!
    const known = lot === undefined ? undefined : lots.get(lot)
    lotColumns[i] = known ?? width
    if (known === undefined) width++
    if (lot !== undefined) lots.set(lot, lotColumns[i]!)
  }
  const origin = values.reduce((sum, { value }) => sum + value / n, 0)

  const start = new Int32Array(n + 1)
  const column: number[] = []
  const entry: number[] = []
  const put = (at: number, value: number): void => {
    column.push(at)
    entry.push(value)
  }
  const parts = new Float64Array(causes.size)
  order.forEach((i, j) => {
    const { value, shared, day } = values[i]!
    put(0, 1)
    parts.fill(0)
    for (const { cause, u } of shared ?? []) parts[causes.get(cause)!]! += u
    for (let c = 0; c < parts.length; c++) if (parts[c] !== 0) put(1 + c, parts[c]!)
    const wideDay = day === undefined ? undefined : days.get(day)?.column
    if (wideDay !== undefined) put(wideDay, 1)
    if (lotsDiffer) put(lotColumns[i]!, 1)
    put(width, value - origin)
    start[j + 1] = column.length
  })

  const smallest = new Float64Array(causes.size).fill(Number.POSITIVE_INFINITY)
  const causeOf = (e: number): number => (column[e]! >= 1 && column[e]! < firstDay ? column[e]! - 1 : -1)
  for (let e = 0; e < column.length; e++) {
    const c = causeOf(e)
    if (c >= 0) smallest[c] = Math.min(smallest[c]!, Math.abs(entry[e]!))
  }
  const narrowed = Float64Array.from(entry, (value, e) => (causeOf(e) < 0 ? value : Math.sign(value) * smallest[causeOf(e)]!))
  const excess = new Float64Array(n)
  for (let j = 0; j < n; j++)
    for (let e = start[j]!; e < start[j + 1]!; e++) if (causeOf(e) >= 0) excess[j]! += entry[e]! ** 2 - narrowed[e]! ** 2

  const groups = [0]
  const local: number[] = []
  const levels = [0]
  const ages: number[] = []
  order.forEach((i, j) => {
    const before = j === 0 ? -1 : order[j - 1]!
    const { day } = values[i]!
    const fresh = before < 0 || ageOf(before) !== ageOf(i)
    const isLocal = day !== undefined && days.get(day)?.local === true
    if (fresh) {
      ages.push(ageOf(i))
      if (j > 0) levels.push(local.length)
    }
    // A day of several values is one group, and so are the rows of a level that follow one another without such a day.
    if (fresh || isLocal !== (local.at(-1) === 1) || (isLocal && values[before]!.day !== day)) {
      if (j > 0) groups.push(j)
      local.push(isLocal ? 1 : 0)
    }
  })
  groups.push(n)
  levels.push(local.length)
  const dayNumbers = new Map([...days.keys()].map((day, d) => [day, d]))
  const dayOf = Int32Array.from(order, (i) => dayNumbers.get(values[i]!.day ?? '') ?? -1)
  const now = lotNow === undefined ? undefined : lots.get(lotNow)
  return {
    n,
    origin,
    order,
    own: Float64Array.from(order, (i) => values[i]!.u ** 2),
    hasDay: Uint8Array.from(dayOf, (d) => (d < 0 ? 0 : 1)),
    width,
    kinds: [
      'mean',
      ...Array<'cause'>(causes.size).fill('cause'),
      ...Array<'day'>(wide.length).fill('day'),
      ...Array<'lot'>(width - firstLot).fill('lot'),
      'value',
    ],
    start,
    column: Int32Array.from(column),
    entry: Float64Array.from(entry),
    narrowed,
    excess,
    even: entry.every((value, e) => Math.abs(value) <= (1 + EVEN) * Math.abs(narrowed[e]!)),
    groups: Int32Array.from(groups),
    local: Uint8Array.from(local),
    levels: Int32Array.from(levels),
    ages: Float64Array.from(ages),
    causes: [...causes.keys()],
    firstLot,
    lotNow: now ?? -1,
    lotOf: Int32Array.from(order, (i) => lotColumns[i]!),
    lotsDiffer,
    dayOf,
    dayCount: days.size,
  }
}

interface SharedDay {
  /** Whether all of its values are of one age: then it can be eliminated at once. */
  local: boolean
  readonly age: number
  count: number
  column?: number
}

/** Days that two or more values share. */
function sharedDays(values: readonly ScatterValue[]): Map<string, SharedDay> {
  const days = new Map<string, SharedDay>()
  for (const { day, age = 0 } of values) {
    if (day === undefined) continue
    const known = days.get(day)
    if (!known) days.set(day, { local: true, age, count: 1 })
    else {
      known.count++
      if (known.age !== age) known.local = false
    }
  }
  for (const [day, { count }] of days) if (count < 2) days.delete(day)
  return days
}

/** From rows to the order in which the values were given. */
export function inOrder({ order }: Layout, rows: Float64Array): number[] {
  const result = Array<number>(rows.length).fill(0)
  order.forEach((i, j) => {
    result[i] = rows[j]!
  })
  return result
}
