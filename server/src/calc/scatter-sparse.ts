// The solver for many values: days and the drift are eliminated one after the other, so that the work grows with the number of values and not with its
// cube, and the covariance matrix is never written down.
import type { Layout } from './scatter-model.ts'
import type { ScatterNode } from './scatter-nodes.ts'
import type { Solver } from './scatter-solver.ts'

/**
 * Values y = mean + lot + day + drift + Σ cause + own, with a flat prior on the mean: V = Δ + X K X'. With the information matrix M = K⁻¹ + X'Δ⁻¹X,
 * ln|V| + ln 1'V⁻¹1 = ln|Δ| + ln|M| − ln|K⁻¹|, and V⁻¹ − V⁻¹11'V⁻¹/1'V⁻¹1 = Δ⁻¹ − Δ⁻¹XM⁻¹X'Δ⁻¹ =: P. M is factored day by day and, for the random walk,
 * from the oldest age to the newest; what is left couples the mean, causes, lots and the value itself, which rides along as a last column.
 * The value i is predicted by all others with error (Py)_i/P_ii and variance 1/P_ii. Source: D. A. Harville, J. Am. Stat. Assoc. 72 (1977) 320 (restricted
 * likelihood); R. D. Cook and S. Weisberg, Residuals and Influence in Regression (1982), 2.2 (leave one out).
 */
export class SparseSolver implements Solver {
  private readonly layout: Layout
  private readonly scale: Float64Array
  /** Entries of the layout times the sizes of the node. */
  private readonly scaled: Float64Array
  /** 1/variance of what each row has for itself. */
  private readonly inverse: Float64Array
  /** Information on the common effects, then its Cholesky factor; the last row is that of the value, whose diagonal becomes y'Py. */
  private readonly matrix: Float64Array
  /** Of each level its pivot, its link to the newer one, how many columns it can know of, and its row of the information. */
  private readonly pivot: Float64Array
  private readonly link: Float64Array
  private readonly known: Int32Array
  private readonly walkRow: Float64Array
  /** Of each group that is a day its pivot, its coupling to the level, and its row. */
  private readonly dayPivot: Float64Array
  private readonly dayWalk: Float64Array
  private readonly dayRow: Float64Array
  private readonly solution: Float64Array
  /** What each row has of all effects. */
  private readonly spread: Float64Array
  private readonly inverted: Float64Array
  private readonly half: Float64Array
  private readonly walkCovariance: Float64Array
  private readonly dayCovariance: Float64Array
  private readonly image: Float64Array
  private daySize = 0
  private walking = false

  constructor(layout: Layout) {
    const { n, width, column, ages, local } = layout
    const stride = width + 1
    this.layout = layout
    this.scale = new Float64Array(stride).fill(1)
    this.scaled = new Float64Array(column.length)
    this.inverse = new Float64Array(n)
    this.matrix = new Float64Array(stride * stride)
    this.pivot = new Float64Array(ages.length)
    this.link = new Float64Array(ages.length)
    this.known = columnsKnown(layout)
    this.walkRow = new Float64Array(ages.length * stride)
    this.dayPivot = new Float64Array(local.length)
    this.dayWalk = new Float64Array(local.length)
    this.dayRow = new Float64Array(local.length * stride)
    this.solution = new Float64Array(stride)
    this.spread = new Float64Array(n)
    this.inverted = new Float64Array(width * width)
    this.half = new Float64Array(width * width)
    this.walkCovariance = new Float64Array(width)
    this.dayCovariance = new Float64Array(width)
    this.image = new Float64Array(width)
  }

  likelihood(node: ScatterNode): number {
    const logs = this.factor(node, false)
    return -0.5 * (logs + this.matrix.at(-1)!)
  }

  weights(node: ScatterNode, result: Float64Array): void {
    this.factor(node, true)
    this.weightsHere(result)
  }

  weightsHere(result: Float64Array): void {
    const { matrix, solution, spread, inverse } = this
    const { n, width, lotNow } = this.layout
    const stride = width + 1
    solution.fill(0)
    solution[0] = 1
    if (lotNow >= 0) solution[lotNow] = this.scale[lotNow]!
    for (let c = 0; c < width; c++) {
      let sum = solution[c]!
      for (let i = 0; i < c; i++) sum -= matrix[c * stride + i]! * solution[i]!
      solution[c] = sum / matrix[c * stride + c]!
    }
    this.backward()
    solution[width] = 0
    this.spreadOut()
    let total = 0
    for (let j = 0; j < n; j++) {
      const w = Math.max(0, spread[j]! * inverse[j]!)
      result[j] = w
      total += w
    }
    for (let j = 0; j < n; j++) result[j]! /= total
  }

  leaveOneOut(distance: Float64Array, deviation: Float64Array): void {
    const { matrix, solution, spread, inverse, inverted, scaled, pivot, link, known, walkRow, dayPivot, dayWalk, dayRow } = this
    const { walkCovariance, dayCovariance, image, daySize } = this
    const { width, levels, ages, groups, local, start, column } = this.layout
    const stride = width + 1
    for (let c = 0; c < width; c++) solution[c] = matrix[width * stride + c]!
    this.backward()
    solution[width] = -1
    this.spreadOut()
    this.invert()
    walkCovariance.fill(0)
    let walkVariance = 0
    for (let k = 0; k < ages.length; k++) {
      if (this.walking && ages[k]! > 0) {
        const p = pivot[k]!
        const step = link[k]!
        const at = k * stride
        const form = imageOf(inverted, walkRow, at, known[k]!, image)
        const across = dot(walkRow, at, walkCovariance, known[k]!)
        walkVariance = 1 / p + (step * step * walkVariance - 2 * step * across + form) / (p * p)
        for (let c = 0; c < width; c++) walkCovariance[c] = (step * walkCovariance[c]! - image[c]!) / p
      }
      for (let g = levels[k]!; g < levels[k + 1]!; g++) {
        const isDay = local[g] === 1 && daySize > 0
        let together = walkVariance
        if (isDay) {
          const p = dayPivot[g]!
          const f = dayWalk[g]!
          const at = g * stride
          const form = imageOf(inverted, dayRow, at, known[k]!, image)
          const across = dot(dayRow, at, walkCovariance, known[k]!)
          const dayVariance = 1 / p + (f * f * walkVariance + 2 * f * across + form) / (p * p)
          together += daySize * (daySize * dayVariance - (2 * (f * walkVariance + across)) / p)
          for (let c = 0; c < width; c++)
            dayCovariance[c] = walkCovariance[c]! - (daySize * (f * walkCovariance[c]! + image[c]!)) / p
        }
        const covariance = isDay ? dayCovariance : walkCovariance
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          let variance = together
          // The last entry of a row is the value itself.
          const to = start[j + 1]! - 1
          for (let a = start[j]!; a < to; a++) {
            const row = column[a]! * width
            let sum = 2 * covariance[column[a]!]! + inverted[row + column[a]!]! * scaled[a]!
            for (let b = start[j]!; b < a; b++) sum += 2 * inverted[row + column[b]!]! * scaled[b]!
            variance += sum * scaled[a]!
          }
          const w = inverse[j]!
          const precision = Math.max((1 - variance * w) * w, Number.MIN_VALUE)
          distance[j] = (-spread[j]! * w) / precision
          deviation[j] = 1 / Math.sqrt(precision)
        }
      }
    }
  }

  /** Factors the information matrix; the value is ln|V| + ln 1'V⁻¹1. */
  private factor({ tau, rho, omega, q }: ScatterNode, narrow: boolean): number {
    const { scale, scaled, inverse, matrix, pivot, link, known, walkRow, dayPivot, dayWalk, dayRow } = this
    const { width, kinds, own, hasDay, excess, start, column, groups, local, levels, ages } = this.layout
    const entry = narrow ? this.layout.narrowed : this.layout.entry
    const stride = width + 1
    const print = tau * tau
    const dayVariance = rho * print
    const daySize = Math.sqrt(dayVariance)
    const walking = q > 0 && ages[ages.length - 1]! > 0
    this.daySize = daySize
    this.walking = walking
    for (let c = 0; c < stride; c++) {
      const kind = kinds[c]
      scale[c] = kind === 'lot' ? omega : kind === 'day' ? daySize : 1
    }
    for (let e = 0; e < scaled.length; e++) scaled[e] = entry[e]! * scale[column[e]!]!
    matrix.fill(0)
    for (let c = 1; c < width; c++) matrix[c * stride + c] = 1
    walkRow.fill(0)
    dayRow.fill(0)
    let logs = 0
    let product = 1
    let carried = 0
    for (let k = ages.length - 1; k >= 0; k--) {
      const walk = walking && ages[k]! > 0
      const columns = known[k]!
      const atLevel = k * stride
      let weight = carried
      for (let g = levels[k]!; g < levels[k + 1]!; g++) {
        const isDay = local[g] === 1 && daySize > 0
        const atDay = g * stride
        let sum = 0
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          const variance = own[j]! + print - (hasDay[j] === 1 ? dayVariance : 0) + (narrow ? excess[j]! : 0)
          const w = 1 / variance
          inverse[j] = w
          sum += w
          product *= variance
          if (product < 1e-200 || product > 1e200) {
            logs += Math.log(product)
            product = 1
          }
          const from = start[j]!
          const to = start[j + 1]!
          for (let a = from; a < to; a++) {
            const row = column[a]! * stride
            const value = scaled[a]! * w
            for (let b = from; b <= a; b++) matrix[row + column[b]!]! += value * scaled[b]!
            if (walk) walkRow[atLevel + column[a]!]! += value
            if (isDay) dayRow[atDay + column[a]!]! += value * daySize
          }
        }
        weight += sum
        if (isDay) {
          const day = 1 + dayVariance * sum
          const toWalk = daySize * sum
          dayPivot[g] = day
          dayWalk[g] = toWalk
          logs += Math.log(day)
          takeOut(matrix, stride, dayRow, atDay, columns, day)
          if (walk) {
            weight -= (toWalk * toWalk) / day
            add(walkRow, atLevel, dayRow, atDay, columns, width, -toWalk / day)
          }
        }
      }
      if (!walk) continue
      const step = 1 / (q * q * (ages[k]! - (k > 0 ? ages[k - 1]! : 0)))
      const p = weight + step
      link[k] = step
      pivot[k] = p
      logs += Math.log(p / step)
      takeOut(matrix, stride, walkRow, atLevel, columns, p)
      carried = (step * weight) / p
      if (k > 0 && ages[k - 1]! > 0) add(walkRow, atLevel - stride, walkRow, atLevel, columns, width, step / p)
      else carried = 0
    }
    return logs + Math.log(product) + cholesky(matrix, stride)
  }

  /** solution := L'⁻¹ solution, all but its last entry. */
  private backward(): void {
    const { matrix, solution } = this
    const { width } = this.layout
    for (let c = width - 1; c >= 0; c--) {
      let sum = solution[c]!
      for (let i = c + 1; i < width; i++) sum -= matrix[i * (width + 1) + c]! * solution[i]!
      solution[c] = sum / matrix[c * (width + 1) + c]!
    }
  }

  /** From the solution for the common effects to days and drift, and to what each row has of all of them. */
  private spreadOut(): void {
    const { solution, spread, scaled, pivot, link, walkRow, dayPivot, dayWalk, dayRow, daySize } = this
    const { width, levels, ages, groups, local, start, column } = this.layout
    const stride = width + 1
    let before = 0
    for (let k = 0; k < ages.length; k++) {
      let drift = 0
      if (this.walking && ages[k]! > 0) drift = (link[k]! * before - dot(walkRow, k * stride, solution, stride)) / pivot[k]!
      before = drift
      for (let g = levels[k]!; g < levels[k + 1]!; g++) {
        let base = drift
        if (local[g] === 1 && daySize > 0)
          base -= (daySize * (dayWalk[g]! * drift + dot(dayRow, g * stride, solution, stride))) / dayPivot[g]!
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          let sum = base
          for (let e = start[j]!; e < start[j + 1]!; e++) sum += scaled[e]! * solution[column[e]!]!
          spread[j] = sum
        }
      }
    }
  }

  /** inverted := (L L')⁻¹ of the common effects. */
  private invert(): void {
    const { matrix, half, inverted } = this
    const { width } = this.layout
    const stride = width + 1
    for (let c = 0; c < width; c++)
      for (let r = c; r < width; r++) {
        let sum = r === c ? 1 : 0
        for (let i = c; i < r; i++) sum -= matrix[r * stride + i]! * half[c * width + i]!
        half[c * width + r] = sum / matrix[r * stride + r]!
      }
    for (let a = 0; a < width; a++)
      for (let b = 0; b <= a; b++) {
        let sum = 0
        for (let i = a; i < width; i++) sum += half[a * width + i]! * half[b * width + i]!
        inverted[a * width + b] = sum
        inverted[b * width + a] = sum
      }
  }
}

/** Of each level how many columns, from the first, any row of it or of an older level has an entry in, the value apart. */
function columnsKnown({ ages, levels, groups, start, column }: Layout): Int32Array {
  const known = new Int32Array(ages.length)
  let most = 0
  for (let k = ages.length - 1; k >= 0; k--) {
    for (let j = groups[levels[k]!]!; j < groups[levels[k + 1]!]!; j++) most = Math.max(most, column[start[j + 1]! - 2]! + 1)
    known[k] = most
  }
  return known
}

/** Subtracts row·row'/p from the matrix; the row has entries in the first columns and in the last. */
function takeOut(matrix: Float64Array, stride: number, rows: Float64Array, at: number, columns: number, p: number): void {
  for (let a = 0; a < columns; a++) {
    const value = rows[at + a]! / p
    if (value === 0) continue
    const row = a * stride
    for (let b = 0; b <= a; b++) matrix[row + b]! -= value * rows[at + b]!
  }
  const last = (stride - 1) * stride
  const value = rows[at + stride - 1]! / p
  for (let b = 0; b < columns; b++) matrix[last + b]! -= value * rows[at + b]!
  matrix[last + stride - 1]! -= value * rows[at + stride - 1]!
}

/** Adds `times` one row to another, in the first columns and in the last. */
function add(
  to: Float64Array,
  atTo: number,
  from: Float64Array,
  atFrom: number,
  columns: number,
  last: number,
  times: number,
): void {
  for (let c = 0; c < columns; c++) to[atTo + c]! += times * from[atFrom + c]!
  to[atTo + last]! += times * from[atFrom + last]!
}

/** Cholesky's factor in place, and the logarithm of the determinant without the last row; that keeps its diagonal as it is left, never below zero. */
function cholesky(matrix: Float64Array, stride: number): number {
  let logs = 0
  for (let c = 0; c < stride; c++) {
    const row = c * stride
    let square = matrix[row + c]!
    for (let b = 0; b < c; b++) {
      const other = b * stride
      let sum = matrix[row + b]!
      for (let i = 0; i < b; i++) sum -= matrix[row + i]! * matrix[other + i]!
      const x = sum / matrix[other + b]!
      matrix[row + b] = x
      square -= x * x
    }
    if (c === stride - 1) matrix[row + c] = Math.max(0, square)
    else {
      matrix[row + c] = Math.sqrt(square)
      logs += Math.log(square)
    }
  }
  return logs
}

function dot(rows: Float64Array, at: number, vector: Float64Array, columns: number): number {
  let sum = 0
  for (let c = 0; c < columns; c++) sum += rows[at + c]! * vector[c]!
  return sum
}

/** image := inverted · row, of which the first columns have entries; gives row · image. */
function imageOf(inverted: Float64Array, rows: Float64Array, at: number, columns: number, image: Float64Array): number {
  const width = image.length
  let form = 0
  for (let a = 0; a < width; a++) {
    let sum = 0
    for (let b = 0; b < columns; b++) sum += inverted[a * width + b]! * rows[at + b]!
    image[a] = sum
    if (a < columns) form += sum * rows[at + a]!
  }
  return form
}
