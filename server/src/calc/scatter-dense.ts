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
export function denseSolver(layout: Layout): Solver {
  const { n, own, excess, start, column, dayOf, lotNow, firstCause } = layout
  const shared = productsOf(layout, layout.entry)
  const narrowed = productsOf(layout, layout.narrowed)
  const ages = rowAges(layout)
  const lotOf = Int32Array.from(own, (_, j) => (layout.lotsDiffer ? column[start[j]! + 1]! : 0))
  const matrix = new Float64Array(n * n)
  const inverse = new Float64Array(n * n)
  const ones = new Float64Array(n)
  const values = new Float64Array(n)
  const toLot = new Float64Array(n)
  let precision = 1

  function factor({ tau, rho, omega, q }: ScatterNode, causes: Float64Array, narrow: boolean): number {
    const [print, day, lot, step] = [tau * tau, rho * tau * tau, firstCause > 1 ? omega * omega : 0, q * q]
    for (let i = 0; i < n; i++) {
      const row = i * n
      // Rows stand by age, the newest first: the smaller age of two is that of the earlier row.
      for (let j = 0; j < i; j++) {
        let sum = causes[row + j]! + step * ages[j]!
        if (dayOf[i]! >= 0 && dayOf[i] === dayOf[j]) sum += day
        if (lotOf[i] === lotOf[j]) sum += lot
        matrix[row + j] = sum
      }
      matrix[row + i] = causes[row + i]! + step * ages[i]! + own[i]! + print + lot + (narrow ? excess[i]! : 0)
    }
    let logs = 0
    for (let i = 0; i < n; i++) {
      const row = i * n
      for (let j = 0; j < i; j++) {
        const other = j * n
        let sum = matrix[row + j]!
        for (let k = 0; k < j; k++) sum -= matrix[row + k]! * matrix[other + k]!
        matrix[row + j] = sum / matrix[other + j]!
      }
      let square = matrix[row + i]!
      for (let k = 0; k < i; k++) square -= matrix[row + k]! ** 2
      matrix[row + i] = Math.sqrt(square)
      logs += Math.log(square)
    }
    return logs
  }

  /** vector := L⁻¹ vector */
  function forward(vector: Float64Array): void {
    for (let i = 0; i < n; i++) {
      let sum = vector[i]!
      for (let k = 0; k < i; k++) sum -= matrix[i * n + k]! * vector[k]!
      vector[i] = sum / matrix[i * n + i]!
    }
  }

  /** vector := L'⁻¹ vector */
  function backward(vector: Float64Array): void {
    for (let i = n - 1; i >= 0; i--) {
      const x = vector[i]! / matrix[i * n + i]!
      vector[i] = x
      for (let k = 0; k < i; k++) vector[k]! -= matrix[i * n + k]! * x
    }
  }

  function likelihood(node: ScatterNode): number {
    const logs = factor(node, shared, false)
    ones.fill(1)
    for (let j = 0; j < n; j++) values[j] = layout.entry[start[j + 1]! - 1]!
    forward(ones)
    forward(values)
    precision = 0
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
    return -0.5 * (logs + Math.log(precision) + squares)
  }

  function leaveOneOut(distance: Float64Array, deviation: Float64Array): void {
    for (let c = 0; c < n; c++) {
      inverse[c * n + c] = 1 / matrix[c * n + c]!
      for (let r = c + 1; r < n; r++) {
        let sum = 0
        for (let k = c; k < r; k++) sum -= matrix[r * n + k]! * inverse[c * n + k]!
        inverse[c * n + r] = sum / matrix[r * n + r]!
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

  function weights(node: ScatterNode, result: Float64Array): void {
    factor(node, narrowed, true)
    ones.fill(1)
    forward(ones)
    backward(ones)
    toLot.fill(0)
    if (lotNow >= 0) {
      for (let j = 0; j < n; j++) toLot[j] = lotOf[j] === lotNow ? node.omega ** 2 : 0
      forward(toLot)
      backward(toLot)
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

  return { likelihood, leaveOneOut, weights }
}

/** Sums over causes of the products of two rows' parts. */
function productsOf({ n, start, column, firstCause, causes }: Layout, entry: Float64Array): Float64Array {
  const parts = new Float64Array(n * causes.length)
  for (let j = 0; j < n; j++)
    for (let e = start[j]!; e < start[j + 1]!; e++) {
      const c = column[e]! - firstCause
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
