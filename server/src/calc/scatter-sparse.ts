// The solver for many values: days and the drift are eliminated one after the other, so that the work grows with the number of values and not with its
// cube, and the covariance matrix is never written down.
import type { Layout } from './scatter-model.ts'
import type { ScatterNode } from './scatter-nodes.ts'
import type { Solver } from './scatter-solver.ts'

/**
 * Values y = mean + lot + day + drift + Σ cause + own, with a flat prior on the mean: V = Δ + X K X'. With the information matrix M = K⁻¹ + X'Δ⁻¹X,
 * ln|V| + ln 1'V⁻¹1 = ln|Δ| + ln|M| − ln|K⁻¹|, and V⁻¹ − V⁻¹11'V⁻¹/1'V⁻¹1 = Δ⁻¹ − Δ⁻¹XM⁻¹X'Δ⁻¹ =: P. M is factored day by day and, for the random walk,
 * from the oldest age to the newest; what is left couples the mean, lots, causes and the value itself, which rides along as a last column.
 * The value i is predicted by all others with error (Py)_i/P_ii and variance 1/P_ii. Source: D. A. Harville, J. Am. Stat. Assoc. 72 (1977) 320 (restricted
 * likelihood); R. D. Cook and S. Weisberg, Residuals and Influence in Regression (1982), 2.2 (leave one out).
 */
export function sparseSolver(layout: Layout): Solver {
  const { n, width, kinds, own, hasDay, start, column, excess, groups, local, levels, ages } = layout
  const stride = width + 1
  const levelCount = ages.length
  const groupCount = local.length
  const scale = new Float64Array(stride).fill(1)
  const scaled = new Float64Array(column.length)
  const inverse = new Float64Array(n)
  const matrix = new Float64Array(stride * stride)
  const pivot = new Float64Array(levelCount)
  const link = new Float64Array(levelCount)
  const walkRow = new Float64Array(levelCount * stride)
  const dayPivot = new Float64Array(groupCount)
  const dayWalk = new Float64Array(groupCount)
  const dayRow = new Float64Array(groupCount * stride)
  const solution = new Float64Array(stride)
  const spread = new Float64Array(n)
  let daySize = 0
  let walking = false

  /** Whether a level of values has a step of the random walk behind it. */
  const walks = (k: number): boolean => walking && ages[k]! > 0

  /** Factors the information matrix; the value is ln|V| + ln 1'V⁻¹1. */
  function factor({ tau, rho, omega, q }: ScatterNode, narrow: boolean): number {
    const entry = narrow ? layout.narrowed : layout.entry
    const dayVariance = rho * tau * tau
    daySize = Math.sqrt(dayVariance)
    walking = q > 0 && ages[levelCount - 1]! > 0
    for (let c = 0; c < stride; c++) {
      const kind = kinds[c]
      scale[c] = kind === 'lot' ? omega : kind === 'day' ? daySize : 1
    }
    for (let e = 0; e < scaled.length; e++) scaled[e] = entry[e]! * scale[column[e]!]!
    matrix.fill(0)
    for (let c = 1; c < width; c++) matrix[c * stride + c] = 1
    let logs = 0
    let product = 1
    let carriedWeight = 0
    walkRow.fill(0)
    dayRow.fill(0)
    for (let k = levelCount - 1; k >= 0; k--) {
      const walk = walks(k)
      const atLevel = k * stride
      let weight = carriedWeight
      for (let g = levels[k]!; g < levels[k + 1]!; g++) {
        const isDay = local[g] === 1 && daySize > 0
        const atDay = g * stride
        let sum = 0
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          const variance = own[j]! + tau * tau - (hasDay[j] === 1 ? dayVariance : 0) + (narrow ? excess[j]! : 0)
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
            if (isDay) dayRow[atDay + column[a]!]! += value
          }
        }
        weight += sum
        if (isDay) {
          const day = 1 + dayVariance * sum
          for (let c = 0; c < stride; c++) dayRow[atDay + c]! *= daySize
          dayPivot[g] = day
          dayWalk[g] = daySize * sum
          logs += Math.log(day)
          takeOut(dayRow, atDay, day)
          if (walk) {
            const share = dayWalk[g]! / day
            weight -= dayWalk[g]! * share
            for (let c = 0; c < stride; c++) walkRow[atLevel + c]! -= share * dayRow[atDay + c]!
          }
        }
      }
      if (walk) {
        const step = 1 / (q * q * (ages[k]! - (k > 0 ? ages[k - 1]! : 0)))
        const p = weight + step
        link[k] = step
        pivot[k] = p
        logs += Math.log(p / step)
        takeOut(walkRow, atLevel, p)
        carriedWeight = 0
        if (k > 0 && walks(k - 1)) {
          carriedWeight = (step * weight) / p
          for (let c = 0; c < stride; c++) walkRow[atLevel - stride + c]! += (step / p) * walkRow[atLevel + c]!
        }
      }
    }
    logs += Math.log(product)
    for (let c = 0; c < width; c++) logs += 2 * Math.log(cholesky(c))
    cholesky(width)
    return logs
  }

  /** Subtracts row·row'/p from the matrix. */
  function takeOut(rows: Float64Array, at: number, p: number): void {
    for (let a = 0; a < stride; a++) {
      const value = rows[at + a]! / p
      if (value === 0) continue
      const row = a * stride
      for (let b = 0; b <= a; b++) matrix[row + b]! -= value * rows[at + b]!
    }
  }

  /** Row c of the Cholesky factor in place; gives its diagonal. Of the last row, the value itself, the diagonal is left as the sum of squares y'Py. */
  function cholesky(c: number): number {
    const row = c * stride
    for (let b = 0; b < c; b++) {
      const other = b * stride
      let sum = matrix[row + b]!
      for (let i = 0; i < b; i++) sum -= matrix[row + i]! * matrix[other + i]!
      matrix[row + b] = sum / matrix[other + b]!
    }
    let square = matrix[row + c]!
    for (let i = 0; i < c; i++) square -= matrix[row + i]! ** 2
    const diagonal = c < width ? Math.sqrt(square) : Math.max(0, square)
    matrix[row + c] = diagonal
    return diagonal
  }

  /** solution := L'⁻¹ solution, all but its last entry. */
  function backward(): void {
    for (let c = width - 1; c >= 0; c--) {
      let sum = solution[c]!
      for (let i = c + 1; i < width; i++) sum -= matrix[i * stride + c]! * solution[i]!
      solution[c] = sum / matrix[c * stride + c]!
    }
  }

  /** From the solution for the common effects to days and drift, and to what each row has of all of them. */
  function spreadOut(): void {
    let before = 0
    for (let k = 0; k < levelCount; k++) {
      let drift = 0
      if (walks(k)) drift = (link[k]! * before - dot(walkRow, k * stride)) / pivot[k]!
      before = drift
      for (let g = levels[k]!; g < levels[k + 1]!; g++) {
        let base = drift
        if (local[g] === 1 && daySize > 0) base -= (daySize * (dayWalk[g]! * drift + dot(dayRow, g * stride))) / dayPivot[g]!
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          let sum = base
          for (let e = start[j]!; e < start[j + 1]!; e++) sum += scaled[e]! * solution[column[e]!]!
          spread[j] = sum
        }
      }
    }
  }

  function dot(rows: Float64Array, at: number): number {
    let sum = 0
    for (let c = 0; c < stride; c++) sum += rows[at + c]! * solution[c]!
    return sum
  }

  function likelihood(node: ScatterNode): number {
    const logs = factor(node, false)
    return -0.5 * (logs + matrix[width * stride + width]!)
  }

  const inverted = new Float64Array(width * width)
  const half = new Float64Array(width * width)
  const walkCovariance = new Float64Array(stride)
  const dayCovariance = new Float64Array(stride)
  const image = new Float64Array(stride)

  /** inverted := (L L')⁻¹ of the common effects. */
  function invert(): void {
    for (let c = 0; c < width; c++)
      for (let r = c; r < width; r++) {
        let sum = r === c ? 1 : 0
        for (let i = c; i < r; i++) sum -= matrix[r * stride + i]! * half[i * width + c]!
        half[r * width + c] = sum / matrix[r * stride + r]!
      }
    for (let a = 0; a < width; a++)
      for (let b = 0; b <= a; b++) {
        let sum = 0
        for (let i = a; i < width; i++) sum += half[i * width + a]! * half[i * width + b]!
        inverted[a * width + b] = sum
        inverted[b * width + a] = sum
      }
  }

  /** image := inverted · row; gives row · image. */
  function imageOf(rows: Float64Array, at: number): number {
    let form = 0
    for (let a = 0; a < width; a++) {
      let sum = 0
      for (let b = 0; b < width; b++) sum += inverted[a * width + b]! * rows[at + b]!
      image[a] = sum
      form += sum * rows[at + a]!
    }
    return form
  }

  function leaveOneOut(distance: Float64Array, deviation: Float64Array): void {
    for (let c = 0; c < width; c++) solution[c] = matrix[width * stride + c]!
    backward()
    solution[width] = -1
    spreadOut()
    invert()
    walkCovariance.fill(0)
    let walkVariance = 0
    for (let k = 0; k < levelCount; k++) {
      if (walks(k)) {
        const p = pivot[k]!
        const step = link[k]!
        const at = k * stride
        const form = imageOf(walkRow, at)
        let across = 0
        for (let c = 0; c < width; c++) across += walkRow[at + c]! * walkCovariance[c]!
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
          const form = imageOf(dayRow, at)
          let across = 0
          for (let c = 0; c < width; c++) across += dayRow[at + c]! * walkCovariance[c]!
          const dayVariance = 1 / p + (f * f * walkVariance + 2 * f * across + form) / (p * p)
          together += daySize * (daySize * dayVariance - (2 * (f * walkVariance + across)) / p)
          for (let c = 0; c < width; c++)
            dayCovariance[c] = walkCovariance[c]! - (daySize * (f * walkCovariance[c]! + image[c]!)) / p
        }
        const covariance = isDay ? dayCovariance : walkCovariance
        for (let j = groups[g]!; j < groups[g + 1]!; j++) {
          let known = together
          // The last entry of a row is the value itself.
          const to = start[j + 1]! - 1
          for (let a = start[j]!; a < to; a++) {
            const row = column[a]! * width
            let sum = 2 * covariance[column[a]!]!
            for (let b = start[j]!; b < to; b++) sum += inverted[row + column[b]!]! * scaled[b]!
            known += sum * scaled[a]!
          }
          const w = inverse[j]!
          const precision = Math.max((1 - known * w) * w, Number.MIN_VALUE)
          distance[j] = (-spread[j]! * w) / precision
          deviation[j] = 1 / Math.sqrt(precision)
        }
      }
    }
  }

  function weights(node: ScatterNode, result: Float64Array): void {
    factor(node, true)
    solution.fill(0)
    solution[0] = 1
    if (layout.lotNow >= 0) solution[layout.lotNow] = scale[layout.lotNow]!
    for (let c = 0; c < width; c++) {
      let sum = solution[c]!
      for (let i = 0; i < c; i++) sum -= matrix[c * stride + i]! * solution[i]!
      solution[c] = sum / matrix[c * stride + c]!
    }
    backward()
    solution[width] = 0
    spreadOut()
    let total = 0
    for (let j = 0; j < n; j++) {
      const w = Math.max(0, spread[j]! * inverse[j]!)
      result[j] = w
      total += w
    }
    for (let j = 0; j < n; j++) result[j]! /= total
  }

  return { likelihood, leaveOneOut, weights }
}
