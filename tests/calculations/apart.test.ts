// Two results apart: the difference's uncertainty, causes low with low, and what is left.
import { expect, test } from 'vitest'
import { apartOf } from '../../server/src/calc/apart.ts'
import { must } from './must.ts'

const exact = (value: number) => ({ low: value, typical: value, high: value })

test('without causes: the root of the sum of squares, and agreement to E_n = 1', () => {
  // GUM (JCGM 100:2008) 5.1.2 for y = b - a; by hand 5-12-13. Added up plainly, 17 would take 15 for agreement.
  const one = { a: { value: 100, U: 5 }, b: { value: 113, U: 12 }, causes: [] }
  expect(must(apartOf(one))).toMatchObject({ difference: 13, U: 13, left: 13, leftU: 13, verdict: 'none' })
  expect(must(apartOf({ ...one, b: { value: 115, U: 12 } })).verdict).toBe('open')
})

test('a cause is taken low with low: what both ends share is not counted twice', () => {
  // The same stock is stretched 1 to 3 here and 2 to 6 there: 1 to 3 more, typically 2. Range against range it would be -1 to 5.
  const cause = { a: { low: 1, typical: 2, high: 3 }, b: { low: 2, typical: 4, high: 6 } }
  const found = must(apartOf({ a: { value: 0, U: 0.1 }, b: { value: 2, U: 0.1 }, causes: [cause] }))
  expect(found.explained).toBeCloseTo(2, 12)
  // Two-piece normal of 1-2-3: s = 1/sqrt(3) = 0.577, below the least share 0.3 · 2 = 0.6; 1.96 · 0.6 = 1.176.
  expect(found.explainedU).toBeCloseTo(1.959963984540054 * 0.6, 12)
  expect([found.left, found.verdict]).toEqual([expect.closeTo(0, 12), 'causes'])
})

test('what causes leave beyond their interval stays open, and the other way round too', () => {
  const cause = { a: exact(0), b: exact(-2) }
  const found = must(apartOf({ a: { value: 0, U: 0.1 }, b: { value: 2, U: 0.1 }, causes: [cause] }))
  expect([found.explained, found.left, found.verdict]).toEqual([-2, 4, 'open'])
  const turned = must(apartOf({ a: { value: 2, U: 0.1 }, b: { value: 0, U: 0.1 }, causes: [{ a: cause.b, b: cause.a }] }))
  expect([turned.difference, turned.left, turned.verdict]).toEqual([-2, -4, 'open'])
})

test('two causes share a stock: their uncertainties add up', () => {
  const cause = { a: exact(0), b: exact(1) }
  const found = must(apartOf({ a: { value: 0, U: 0 }, b: { value: 2, U: 0 }, causes: [cause, cause] }))
  expect(found.explainedU).toBeCloseTo(2 * 1.959963984540054 * 0.3, 12)
})

test('nothing is made of what is no number', () => {
  expect(apartOf({ a: { value: Number.NaN, U: 1 }, b: { value: 1, U: 1 }, causes: [] }).ok).toBe(false)
  expect(apartOf({ a: { value: 0, U: -1 }, b: { value: 1, U: 1 }, causes: [] }).ok).toBe(false)
})
