// Which of several moved together: chi-square against printed tables, the moves against a meta-analysis that is published, by hand cases, and by simulation.
import { describe, expect, test } from 'vitest'
import { chiSquareBeyond } from '../../server/src/calc/chi-square.ts'
import { movesOf } from '../../server/src/calc/moves.ts'
import { randomEffects } from '../../server/src/calc/random-effects.ts'
import { Chance } from '../support/chance.ts'
import { must } from './must.ts'

describe('chi-square', () => {
  // NIST/SEMATECH e-Handbook 1.3.6.7.4, critical values, three decimals.
  test.each([
    [3.841, 1, 0.05],
    [6.635, 1, 0.01],
    [5.991, 2, 0.05],
    [7.815, 3, 0.05],
    [18.307, 10, 0.05],
    [18.475, 7, 0.01],
    [21.026, 12, 0.05],
    [124.342, 100, 0.05],
    [45.076, 61, 0.936],
  ])('P(X² > %s), %s degrees of freedom, is %s', (x, freedom, p) => {
    expect(must(chiSquareBeyond({ x, freedom }))).toBeCloseTo(p, 2)
  })
  test('to more digits: of 1 the normal, of 2 the exponential distribution', () => {
    expect(must(chiSquareBeyond({ x: 1.959963984540054 ** 2, freedom: 1 }))).toBeCloseTo(0.05, 12)
    expect(must(chiSquareBeyond({ x: 3, freedom: 2 }))).toBeCloseTo(Math.exp(-1.5), 14)
  })
  test('refuses', () => {
    expect(chiSquareBeyond({ x: -1, freedom: 1 }).ok).toBe(false)
    expect(chiSquareBeyond({ x: 1, freedom: 0 }).ok).toBe(false)
    expect(chiSquareBeyond({ x: 1, freedom: 1.5 }).ok).toBe(false)
  })
})

/** Of changes in mm per metre with one uncertainty. */
const judged = (changes: readonly number[], u = 0.1) =>
  must(movesOf({ moves: changes.map((change, i) => ({ id: `bay-${i + 1}`, change, u })) }))

describe('moves', () => {
  test('thirteen trials of a vaccine (Colditz et al., JAMA 271 (1994) 698) do not share one effect: Q is 152.233', () => {
    const y = [-0.8893, -1.5854, -1.3481, -1.4416, -0.2175, -0.7861, -1.6209, 0.012, -0.4694, -1.3713, -0.3394, 0.4459, -0.0173]
    const v = [0.3256, 0.1946, 0.4154, 0.02, 0.0512, 0.0069, 0.223, 0.004, 0.0564, 0.073, 0.0124, 0.5325, 0.0714]
    const told = must(movesOf({ moves: y.map((change, i) => ({ id: String(i + 1), change, u: Math.sqrt(v[i]!) })) }))
    // The rounded data (from memory) give the published Q.
    expect(must(randomEffects({ values: y, u: v.map(Math.sqrt) })).Q).toBeCloseTo(152.233, 0)
    expect(told.alone.length).toBeGreaterThan(0)
    expect(told.rest).not.toHaveLength(13)
  })
  test('all by the same: one cause', () => {
    const { alone, together, rest, common } = judged([0.5, 0.45, 0.6])
    expect({ alone, together, rest }).toEqual({ alone: [], together: true, rest: ['bay-1', 'bay-2', 'bay-3'] })
    // The mean of three, by hand: 1.55/3 ± 0.1/√3.
    expect(common!.change).toBeCloseTo(0.516667, 6)
    expect(common!.u).toBeCloseTo(0.057735, 6)
  })
  test('one by itself', () => {
    const { alone, together, rest } = judged([0.02, -0.05, 0.6, 0.03])
    expect({ alone: alone.map(({ id }) => id), together, rest }).toEqual({
      alone: ['bay-3'],
      together: false,
      rest: ['bay-1', 'bay-2', 'bay-4'],
    })
  })
  test('one by itself while the others moved together', () => {
    const { alone, together } = judged([0.5, 0.5, -0.5, 0.52])
    expect([alone.map(({ id }) => id), together]).toEqual([['bay-3'], true])
  })
  test('none', () => expect(judged([0.05, -0.05, 0.02])).toMatchObject({ alone: [], together: false, apart: false }))
  test('of two, the one that moved; of two that moved unlike, neither', () => {
    expect(judged([0.02, 0.6])).toMatchObject({ alone: [{ id: 'bay-2' }], rest: ['bay-1'], together: false, apart: false })
    expect(judged([-0.6, 0.6])).toMatchObject({ alone: [], rest: ['bay-1', 'bay-2'], apart: true, together: false })
  })
  test('refuses', () => {
    expect(movesOf({ moves: [] }).ok).toBe(false)
    expect(movesOf({ moves: [{ id: 'a', change: 1, u: 0.1 }] }).ok).toBe(false)
    expect(
      movesOf({
        moves: [
          { id: 'a', change: 1, u: 0 },
          { id: 'b', change: 1, u: 1 },
        ],
      }).ok,
    ).toBe(false)
    expect(movesOf({ moves: [], significance: 0.6 }).ok).toBe(false)
  })
  test('where nothing moves, one in ten shops at most is told that something did, and what moves is found', () => {
    const chance = new Chance(7)
    const count = (shift: readonly number[], hit: (told: ReturnType<typeof judged>) => boolean): number => {
      let hits = 0
      for (let i = 0; i < 1000; i++) if (hit(judged(shift.map((s) => s + 0.1 * chance.normal())))) hits++
      return hits / 1000
    }
    // Two questions at 5 % each: whether they agree, and whether they moved.
    expect(count([0, 0, 0, 0], ({ alone, together, apart }) => alone.length > 0 || together || apart)).toBeLessThan(0.12)
    expect(count([0, 0, 0, 0], ({ alone }) => alone.length > 0)).toBeLessThan(0.06)
    expect(count([0.4, 0.4, 0.4, 0.4], ({ together }) => together)).toBeGreaterThan(0.9)
    expect(count([0, 0, 0.7, 0], ({ alone }) => alone.length === 1 && alone[0]!.id === 'bay-3')).toBeGreaterThan(0.9)
  })
})
