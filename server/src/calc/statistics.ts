// The mean of plain readings, and what estimates may share: an error common to several never shrinks with their number.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

interface Sample {
  readonly n: number
  readonly mean: number
  /** Standard deviation with n − 1, in the unit of the values. */
  readonly sd: number
}

/**
 * Mean and standard deviation (n − 1) of at least two finite values, in their own unit; two passes, so that a large mean loses no digits.
 * Source: GUM 4.2.1, 4.2.2. Refuses fewer than two values and values that are not finite.
 */
export function sampleOf({ values }: { values: readonly number[] }): Outcome<Sample> {
  if (values.length < 2) return refuse('values', 'a standard deviation needs at least two values')
  if (!values.every(Number.isFinite)) return refuse('values', 'one of the values is not a finite number')
  const n = values.length
  const scale = values.reduce((largest, v) => Math.max(largest, Math.abs(v)), 0) || 1
  const rough = values.reduce((sum, v) => sum + v / scale, 0) / n
  const mean = rough + values.reduce((sum, v) => sum + (v / scale - rough), 0) / n
  const squares = values.reduce((sum, v) => sum + (v / scale - mean) ** 2, 0)
  const sd = scale * Math.sqrt(squares / (n - 1))
  return Number.isFinite(sd) ? ok({ n, mean: scale * mean, sd }) : refuse('values', 'the values are too large to compute with')
}

/** An error which every estimate that names its cause shares. Signed: opposite signs pull the estimates apart. */
export interface CommonPart {
  readonly cause: string
  /** Standard uncertainty, signed, in the unit of the estimates. */
  readonly u: number
}
