// A number with its unit as a document gives it: the value in SI, and what was written.
import type { Dimension, Unit } from './units.ts'

export interface Quantity {
  readonly dimension: Dimension
  /** The value in SI (temperature in degrees Celsius, relative and humidity as fractions, resolution across in dots per metre). */
  readonly si: number
  /** The stated uncertainty in SI, above zero; for a temperature in kelvin. */
  readonly uncertainty?: number
  /** The unit the value is written in. */
  readonly unit: Unit
  /** The number as written, without unit and uncertainty: '19 11/16', '600 x 1200'. */
  readonly written: string
  /** The number of the uncertainty as written. */
  readonly writtenUncertainty?: string
  /** Resolution only: dots per metre along the feed (`si` is across it). */
  readonly second?: number
}
