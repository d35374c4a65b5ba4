// The date of the next check: published decisions where nothing moves, and what must hold whatever moves.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nextCheckDue, type RateEvidence, rateEvidence } from '../../server/src/calc/due.ts'
import { Chance } from '../support/chance.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'

type DueInput = Parameters<typeof nextCheckDue>[0]

/** Percent of length. */
const pc = (value: number): number => value / 100
const check = (day: number, value: number, lot = 'a', u = 0.025) => ({ day, value: pc(value), u: pc(u), lot })
const checks = [check(0, 0.1), check(20, 0.11), check(45, 0.09), check(70, 0.12, 'b'), check(100, 0.1, 'b')]
const base: DueInput = { checks, today: 100, set: pc(0.1), tolerance: pc(0.05), risk: 0.1 }
const due = (more: Partial<DueInput> = {}) => must(nextCheckDue({ ...base, ...more }))

describe('on the day of a single check the risk is that of a plain measurement', () => {
  const riskOf = (value: number, u: number, low: number, high: number) =>
    due({ checks: [{ day: 0, value, u }], today: 0, set: (low + high) / 2, tolerance: (high - low) / 2 }).riskToday

  // JCGM 106:2012, 7.4 (from memory, recomputed): 13.6 with u 1.8 conforms to 12.5 … 16.3 with 66 %.
  it('JCGM 106, 7.4', () => {
    expect(riskOf(13.6, 1.8, 12.5, 16.3)).toBeCloseTo(1 - 0.66263, 5)
  })

  // ILAC-G8:09/2019, 4.2 (from memory): accepted up to the limit itself the risk is up to 50 %, with a guard band of U = 2u below 2.5 %.
  it('ILAC-G8, simple acceptance and the guard band', () => {
    expect(riskOf(10, 0.5, -10, 10)).toBeCloseTo(0.5, 9)
    expect(riskOf(9, 0.5, -10, 10)).toBeCloseTo(0.02275, 5)
  })

  it('of a print, its own scatter with it', () => {
    const one = { checks: [{ day: 0, value: 13.6, u: 1.08 }], today: 0, set: 14.4, tolerance: 1.9 }
    expect(due({ ...one, scatter: 1.44 }).riskToday).toBeCloseTo(1 - 0.66263, 5)
  })
})

describe('a due date', () => {
  it('is the first day on which the risk exceeds the target', () => {
    const found = due()
    const { curve } = due({ days: Array.from({ length: found.due! + 1 }, (_, day) => day) })
    expect(found.due).toBeGreaterThan(1)
    expect(curve.at(-1)!.risk).toBeGreaterThan(0.1)
    for (const { risk } of curve.slice(0, -1)) expect(risk).toBeLessThanOrEqual(0.1)
    expect(curve[0]!.risk).toBe(found.riskToday)
  })

  it('is today where the number keyed in is not the one that the checks ask for', () => {
    expect(due({ set: pc(0.16) })).toMatchObject({ due: 0 })
    expect(due({ set: pc(0.16) }).riskToday).toBeGreaterThan(0.5)
  })

  it('without a number keyed in speaks of the one that the checks ask for', () => {
    const { set: _, ...free } = base
    const found = must(nextCheckDue(free))
    expect(found).toEqual(due({ set: found.level }))
    expect(found.level).toBeCloseTo(pc(0.105), 3)
  })

  it('comes sooner with a tighter tolerance, a smaller risk, a wider scatter, and where other printers wander more', () => {
    const { due: plain } = due()
    expect(due({ tolerance: pc(0.04) }).due).toBeLessThan(plain!)
    expect(due({ risk: 0.05 }).due).toBeLessThan(plain!)
    expect(due({ scatter: pc(0.02) }).due).toBeLessThan(plain!)
    expect(due({ others: wandering(10, 1) }).due).toBeLessThan(plain!)
    expect(due({ others: wandering(0.1, 1) }).due).toBeGreaterThan(plain!)
  })

  it('is of two years at most', () => {
    expect(due({ tolerance: 1 }).due).toBeUndefined()
  })
})

/** Histories of eight printers that wander `times` as fast as is typical and have lots `lots` as far apart. */
function wandering(times: number, lots: number, profiles = 8): RateEvidence[] {
  const chance = new Chance(7)
  return Array.from({ length: profiles }, () => {
    let level = 0
    const list = Array.from({ length: 16 }, (_, i) => {
      level += pc(0.0025) * times * Math.sqrt(30) * chance.normal() + (i % 2 === 0 ? pc(0.02) * lots * chance.normal() : 0)
      return { day: i * 30, value: level + pc(0.005) * chance.normal(), u: pc(0.005), lot: `${i >> 1}` }
    })
    return must(rateEvidence({ checks: list }))
  })
}

describe('rates', () => {
  it('are typical ones, from memory, where one check says nothing', () => {
    const one = due({ checks: checks.slice(0, 1), today: 0 })
    expect(one.walk / pc(0.0025)).toBeCloseTo(1, 9)
    expect(one.lotStep / pc(0.02236)).toBeCloseTo(1, 3)
    expect(must(rateEvidence({ checks: checks.slice(0, 1) })).logs.every((log) => Math.abs(log) < 1e-12)).toBe(true)
  })

  it.each([
    [1, 1],
    [4, 1],
    [1, 4],
    [0.3, 0.3],
  ])('are learnt from others: a walk of %d and lots of %d times the typical', (times, lots) => {
    const learnt = due({ checks: checks.slice(0, 1), today: 0, others: wandering(times, lots, 20) })
    expect(Math.abs(Math.log(learnt.walk / pc(0.0025 * times)))).toBeLessThan(0.35)
    expect(Math.abs(Math.log(learnt.lotStep / pc(0.02 * lots)))).toBeLessThan(0.35)
  })

  it('count in whatever order the others stand', () => {
    const others = wandering(3, 2)
    expect(due({ others: [...others].reverse() }).riskToday).toBeCloseTo(due({ others }).riskToday, 12)
  })
})

describe('lots', () => {
  it('that no check has seen raise the risk, known or planned', () => {
    const { riskToday } = due()
    const seen = due({ lot: 'b' })
    const unseen = due({ lot: 'c' })
    expect(seen.riskToday).toBe(riskToday)
    expect(unseen.riskToday).toBeGreaterThan(1.5 * riskToday)
    expect(due({ lotChanges: [0] }).riskToday).toBe(unseen.riskToday)
    expect(unseen.level).toBe(seen.level)
    expect(unseen.u).toBeGreaterThan(seen.u)
  })

  it('make a check due on the day they come, where they alone are too much', () => {
    const wide = wandering(0.5, 4)
    expect(due({ others: wide }).due).toBeGreaterThan(5)
    expect(due({ others: wide, lotChanges: [4] }).due).toBe(4)
    const { curve } = due({ others: wide, lotChanges: [4], days: [3, 4] })
    expect(curve[1]!.risk).toBeGreaterThan(2 * curve[0]!.risk)
  })

  it('that are not known are no change', () => {
    const unnamed = checks.map(({ lot: _, ...rest }) => rest)
    expect(due({ checks: unnamed, lot: 'c' }).riskToday).toBe(due({ checks: unnamed }).riskToday)
  })
})

it('does not hang on the order of the checks, the day counted from, or the level', () => {
  const plain = due()
  const moved = due({
    checks: [...checks].reverse().map((c) => ({ ...c, day: c.day + 20000, value: c.value + pc(0.5) })),
    today: 20100,
    set: pc(0.6),
  })
  expect(moved.due).toBe(plain.due)
  expect(moved.riskToday).toBeCloseTo(plain.riskToday, 9)
})

it('refuses what says nothing of a date', () => {
  const problem = (more: Partial<DueInput>) => refusal(nextCheckDue({ ...base, ...more })).input
  expect(problem({ checks: [] })).toBe('checks')
  expect(problem({ checks: [{ day: 0, value: 0, u: 0 }] })).toBe('checks')
  expect(problem({ today: 99 })).toBe('today')
  expect(problem({ tolerance: 0 })).toBe('tolerance')
  for (const risk of [0, 1, Number.NaN]) expect(problem({ risk })).toBe('risk')
  expect(problem({ scatter: -1e-9 })).toBe('scatter')
  expect(problem({ days: [-1] })).toBe('days')
  expect(problem({ lotChanges: [Number.NaN] })).toBe('days')
  expect(problem({ others: [{ logs: [0] }] })).toBe('others')
  expect(refusal(rateEvidence({ checks: [] })).input).toBe('checks')
})

it('never gives NaN, and no risk beyond 0 and 1', () => {
  const any = fc.record({ day: fc.double(), value: fc.double(), u: fc.double(), lot: fc.constantFrom('a', 'b', undefined) })
  fc.assert(
    fc.property(fc.array(any, { maxLength: 4 }), fc.double(), fc.double(), fc.double(), (list, today, set, tolerance) => {
      const found = nextCheckDue({ checks: list, today, set, tolerance, risk: 0.1, days: [1] })
      if (!found.ok) return
      expect(numbersIn(found.value).some(Number.isNaN)).toBe(false)
      expect(found.value.riskToday).toBeGreaterThanOrEqual(0)
      expect(found.value.riskToday).toBeLessThanOrEqual(1)
      const evidence = rateEvidence({ checks: list })
      if (evidence.ok) expect(evidence.value.logs.every(Number.isFinite)).toBe(true)
    }),
    { numRuns: runs(200) },
  )
})
