// One computed quantity of a setup with everything a reader needs to trust it: formula, inputs with their origins, source. What `rollbook reckon`
// prints, and what hovers and faults reason with. Keys are stable, values are SI.
import type { Range } from '../calc/range.ts'
import type { Dimension } from '../quantities/units.ts'

export interface ReckonedInput {
  /** What a person calls it: "web tension". */
  readonly name: string
  /** What it is called in the formula, where that is not its name. */
  readonly symbol?: string
  /** SI. */
  readonly value: number | Range
  readonly dimension: Dimension | 'number'
  /** Written in the documents, taken from a base, typical of the material's family, a documented default, or computed before. */
  readonly origin: 'given' | 'inherited' | 'typical' | 'default' | 'computed'
  /** For typical values: where they come from. */
  readonly source?: string
}

export interface ReckonedStep {
  /** `symbol = expression`. */
  readonly formula: string
  /** What the expression stands on beside the inputs: SI. */
  readonly with?: Readonly<Record<string, number>>
  /** SI. */
  readonly value: number
}

export interface Reckoned {
  /** Stable dotted key: 'suction.stretch'. */
  readonly key: string
  readonly title: string
  /** The formula in plain symbols: "strain = friction · pressure · depth / (modulus · thickness)". */
  readonly formula: string
  /** SI; a range where it rests on typical values. Undefined where it could not be reckoned: `problem` tells why. */
  readonly value: number | Range | undefined
  readonly dimension: Dimension | 'number'
  /** The SI unit's symbol of a 'number' that has a unit for which there is no dimension: 'W', 'N·m'. */
  readonly unit?: string
  /** How many digits of a single number are known: two where it rests on an assumption or leaves something out, four where not given. */
  readonly digits?: number
  readonly inputs: readonly ReckonedInput[]
  /** Where it is no single expression: how it is come by at the typical values, step by step, in SI. */
  readonly steps?: readonly ReckonedStep[]
  /** What it leaves out, or where it does not hold. */
  readonly validity?: string
  /** The formula's source, as in calc. */
  readonly source: string
  /** Why it could not be reckoned, or what stands against it: the key to fill in or mend, and a sentence that is whole without it. */
  readonly problem?: { readonly input?: string; readonly reason: string }
}
