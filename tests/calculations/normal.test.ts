// The normal tail against printed tables and SciPy.
import { describe, expect, it } from 'vitest'
import { normalCdf } from '../../server/src/calc/normal.ts'
import { upperQuantile } from '../../server/src/calc/student-t.ts'

describe('the normal tail', () => {
  // SciPy 1.17, special.ndtr(-z): on both sides of each place where the approximation changes.
  it.each([
    [-8, 0.9999999999999993],
    [-0.5, 0.6914624612740131],
    [0, 0.5],
    [0.1, 0.460172162722971],
    [0.6629, 0.2536973008682368],
    [0.663, 0.2536652770386165],
    [1, 0.15865525393145707],
    [1.96, 0.024997895148220435],
    [3, 0.0013498980316300933],
    [5.65, 8.022391850663474e-9],
    [5.66, 7.568649751997682e-9],
    [8, 6.22096057427174e-16],
    [37, 5.7255712225239266e-300],
  ])('beyond %d is %d', (z, p) => {
    expect(normalCdf(-z) / p).toBeCloseTo(1, 11)
  })

  // Wichura's AS 241 is a method of its own.
  it('is the inverse of the quantile', () => {
    for (const p of [0.4999, 0.3, 0.1, 1e-3, 1e-6, 1e-12])
      expect(normalCdf(-upperQuantile(p, Number.POSITIVE_INFINITY)) / p).toBeCloseTo(1, 10)
  })
})
