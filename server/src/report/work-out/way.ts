// A way to find a number that no data sheet tells: how it is measured, with which cautions, what is typed, and the arithmetic. As data, one file a way.
import type { Outcome } from '../../base/outcome.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import type { Dimension } from '../../quantities/units.ts'

/** What is measured and typed. */
export interface Asked {
  /** The option of the command line. */
  readonly key: string
  readonly what: string
  /** Of each part, parted by a comma where there are several; a whole number where none is given. */
  readonly dimensions: readonly Dimension[]
  /** It may be given several times. */
  readonly several?: true
}

/** What was typed for each key: each time its parts. */
export type Typed = ReadonlyMap<string, readonly (readonly (Quantity | number)[])[]>

export interface WorkedOut {
  /** The arithmetic, a line each. */
  readonly steps: readonly string[]
  /** As it is written in a document. */
  readonly value: string
  /** What to mind about it. */
  readonly remarks: readonly string[]
}

export interface Way {
  readonly name: string
  /** The keys of a printer that take the result. */
  readonly into: string
  readonly title: string
  readonly steps: readonly string[]
  readonly cautions: readonly string[]
  readonly asks: readonly Asked[]
  readonly formula: string
  readonly source: string
  reckon(typed: Typed): Outcome<WorkedOut>
}

/** The first quantity typed for a key. */
export const quantityOf = (typed: Typed, key: string): Quantity => typed.get(key)![0]![0] as Quantity
