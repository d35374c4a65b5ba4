// What the rows of a fine pattern are called: by where they lie across the web, as the printer's document names them.
import type { Setup } from '../../model/setup.ts'

/** The names of the rows, in the order of the picks; undefined where the printer names none, or not as many as there are picks. */
export function rowsOf({ printer }: Setup, picks: number): readonly string[] | undefined {
  const rows = printer?.feed?.fine?.rows?.items.map(({ value }) => value)
  return rows?.length === picks ? rows : undefined
}

/** "the right row", or "row 3" where it has no name. */
export const rowText = (rows: readonly string[] | undefined, index: number): string =>
  rows ? `the ${rows[index]} row` : `row ${index + 1}`

/** "left 0, middle +1", or the picks alone where the rows have no names. */
export const picksText = (rows: readonly string[] | undefined, picks: readonly number[]): string =>
  picks.map((pick, i) => `${rows ? `${rows[i]} ` : ''}${pick > 0 ? '+' : ''}${pick}`).join(', ')
