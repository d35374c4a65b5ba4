// The solver for few values: their covariance matrix, as the textbook has it.
import type { Layout } from './scatter-model.ts'
import type { ScatterNode } from './scatter-nodes.ts'
import type { Solver } from './scatter-solver.ts'

/**
 * Generalized least squares with a flat prior on the mean: V = own + tau²(1 − rho) on the diagonal, tau²rho within a day, omega² within a lot,
 * q²·min(ages), and the products of shared parts. With I = V⁻¹, A = 1'I1 and P = I − I11'I/A, the restricted log likelihood is −½(ln|V| + ln A + y'Py);
 * value i is predicted by all others with error (Py)_i/P_ii and variance 1/P_ii; the weights are those of the best linear unbiased prediction of mean plus
 * lot. Source: D. A. Harville, J. Am. Stat. Assoc. 72 (1977) 320; A. S. Goldberger, J. Am. Stat. Assoc. 57 (1962) 369.
 */
export class DenseSolver implements Solver {
  private readonly layout: Layout
  private readonly shared: Float64Array
  private readonly narrowed: Float64Array
  private readonly ages: Float64Array
  /** The covariance matrix, then its Cholesky factor L, row by row. */
  private readonly matrix: Float64Array
  /** Columns of L⁻¹. */
  private readonly inverse: Float64Array
  /** L⁻¹ of a column of ones, and of the values less their mean. */
  private readonly ones: Float64Array
  private readonly values: Float64Array
  private readonly toLot: Float64Array
  private precision = 1
  private lotVariance = 0

  constructor(layout: Layout) {
    const { n } = layout
    this.layout = layout
    this.shared = productsOf(layout, layout.entry)
    this.narrowed = productsOf(layout, layout.narrowed)
    this.ages = rowAges(layout)
    this.matrix = new Float64Array(n * n)
    this.inverse = new Float64Array(n * n)
    this.ones = new Float64Array(n)
    this.values = new Float64Array(n)
    this.toLot = new Float64Array(n)
  }

  likelihood(node: ScatterNode): number {
    const { matrix, ones, values } = this
    const { n, start, entry } = this.layout
    const logs = this.factor(node, this.shared, false)
    ones.fill(1)
    for (let j = 0; j < n; j++) values[j] = entry[start[j + 1]! - 1]!
    forward(matrix, ones)
    forward(matrix, values)
    let precision = 0
    let across = 0
    for (let j = 0; j < n; j++) {
      precision += ones[j]! ** 2
      across += ones[j]! * values[j]!
    }
    const mean = across / precision
    let squares = 0
    for (let j = 0; j < n; j++) {
      values[j]! -= mean * ones[j]!
      squares += values[j]! ** 2
    }
    this.precision = precision
    return -0.5 * (logs + Math.log(precision) + squares)
  }

  leaveOneOut(distance: Float64Array, deviation: Float64Array): void {
    const { matrix, inverse, ones, values, precision } = this
    const n = ones.length
    for (let c = 0; c < n; c++) {
      const at = c * n
      inverse[at + c] = 1 / matrix[at + c]!
      for (let r = c + 1; r < n; r++) {
        let sum = 0
        for (let k = c; k < r; k++) sum -= matrix[r * n + k]! * inverse[at + k]!
        inverse[at + r] = sum / matrix[r * n + r]!
      }
    }
    for (let j = 0; j < n; j++) {
      let own = 0
      let one = 0
      let value = 0
      for (let k = j; k < n; k++) {
        const x = inverse[j * n + k]!
        own += x * x
        one += x * ones[k]!
        value += x * values[k]!
      }
      const p = Math.max(own - (one * one) / precision, Number.MIN_VALUE)
      distance[j] = value / p
      deviation[j] = 1 / Math.sqrt(p)
    }
  }

  weights(node: ScatterNode, result: Float64Array): void {
    this.factor(node, this.narrowed, true)
    this.weightsHere(result)
  }

  weightsHere(result: Float64Array): void {
    const { matrix, ones, toLot, lotVariance } = this
    const { n, lotOf, lotNow } = this.layout
    ones.fill(1)
    forward(matrix, ones)
    backward(matrix, ones)
    toLot.fill(0)
    if (lotNow >= 0) {
      for (let j = 0; j < n; j++) toLot[j] = lotOf[j] === lotNow ? lotVariance : 0
      forward(matrix, toLot)
      backward(matrix, toLot)
    }
    let lots = 0
    let all = 0
    for (let j = 0; j < n; j++) {
      lots += toLot[j]!
      all += ones[j]!
    }
    let total = 0
    for (let j = 0; j < n; j++) {
      const w = Math.max(0, toLot[j]! + (ones[j]! * (1 - lots)) / all)
      result[j] = w
      total += w
    }
    for (let j = 0; j < n; j++) result[j]! /= total
  }

  /** Factors the covariance matrix; the value is the logarithm of its determinant. */
  private factor({ tau, rho, omega, q }: ScatterNode, causes: Float64Array, narrow: boolean): number {
    const { matrix, ages } = this
    const { n, own, excess, dayOf, lotOf, lotsDiffer } = this.layout
    const print = tau * tau
    const day = rho * print
    const lot = lotsDiffer ? omega * omega : 0
    this.lotVariance = omega * omega
    const step = q * q
    let logs = 0
    for (let i = 0; i < n; i++) {
      const row = i * n
      const itsDay = dayOf[i]!
      const itsLot = lotOf[i]!
      let square = causes[row + i]! + step * ages[i]! + own[i]! + print + lot + (narrow ? excess[i]! : 0)
      // Rows stand by age, the newest first: the smaller age of two is that of the earlier row.
      for (let j = 0; j < i; j++) {
        const other = j * n
        let sum = causes[row + j]! + step * ages[j]!
        if (itsDay >= 0 && itsDay === dayOf[j]) sum += day
        if (itsLot === lotOf[j]) sum += lot
        for (let k = 0; k < j; k++) sum -= matrix[row + k]! * matrix[other + k]!
        const x = sum / matrix[other + j]!
        matrix[row + j] = x
        square -= x * x
      }
      matrix[row + i] = Math.sqrt(square)
      logs += Math.log(square)
    }
    return logs
  }
}

/** vector := L⁻¹ vector */
function forward(matrix: Float64Array, vector: Float64Array): void {
  const n = vector.length
  for (let i = 0; i < n; i++) {
    let sum = vector[i]!
    for (let k = 0; k < i; k++) sum -= matrix[i * n + k]! * vector[k]!
    vector[i] = sum / matrix[i * n + i]!
  }
}

/** vector := L'⁻¹ vector */
function backward(matrix: Float64Array, vector: Float64Array): void {
  const n = vector.length
  for (let i = n - 1; i >= 0; i--) {
    const x = vector[i]! / matrix[i * n + i]!
    vector[i] = x
    for (let k = 0; k < i; k++) vector[k]! -= matrix[i * n + k]! * x
  }
}

/** Sums over causes of the products of two rows' parts. */
function productsOf({ n, start, column, causes }: Layout, entry: Float64Array): Float64Array {
  const parts = new Float64Array(n * causes.length)
  for (let j = 0; j < n; j++)
    for (let e = start[j]!; e < start[j + 1]!; e++) {
      const c = column[e]! - 1
      if (c >= 0 && c < causes.length) parts[j * causes.length + c] = entry[e]!
    }
  const products = new Float64Array(n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0
      for (let c = 0; c < causes.length; c++) sum += parts[i * causes.length + c]! * parts[j * causes.length + c]!
      products[i * n + j] = sum
    }
  return products
}

/** The age of each row. */
function rowAges({ n, groups, levels, ages }: Layout): Float64Array {
  const result = new Float64Array(n)
  for (let k = 0; k < ages.length; k++) result.fill(ages[k]!, groups[levels[k]!]!, groups[levels[k + 1]!]!)
  return result
}
