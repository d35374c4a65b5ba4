// A history judged as a process: the handbook's chart, published run lengths, a river that changed, and what must not matter.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { judgeProcess } from '../../server/src/calc/process.ts'
import { Chance } from '../support/chance.ts'
import { isWhole, runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'
import { FIRST_YEAR, NILE } from './nile.ts'

type ProcessInput = Parameters<typeof judgeProcess>[0]

const dated = (list: readonly number[], u = 0) => list.map((value, day) => ({ day, value, u }))

describe('NIST/SEMATECH e-Handbook 6.3.2.4', () => {
  // Centre 50 and standard deviation 2.0539 from history, lambda 0.3, 3 standard deviations.
  // biome-ignore format: as the page prints it.
  const data = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
  // biome-ignore format: as the page prints it.
  const printed = [50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]
  const found = must(judgeProcess({ values: dated(data), centre: 50, scatter: 2.0539, lambda: 0.3, limit: 3 }))

  it('has the weighted means that the page prints', () => {
    expect(found.chart.map(({ ewma }) => (50 + 2.0539 * ewma).toFixed(2))).toEqual(printed.map((mean) => mean.toFixed(2)))
  })

  // The page prints 52.5884 and 47.4115: with its factor rounded to 0.4201.
  it('has its limits, and is in control', () => {
    expect(50 + 2.0539 * found.ewmaLimit).toBeCloseTo(52.5884, 3)
    expect(found).toMatchObject({ inControl: true, test: undefined, signalled: undefined, change: undefined })
  })
})

/** Mean number of values to the first signal, and its standard error, over simulated histories longer than any is likely to run. */
function runLength(
  histories: number,
  length: number,
  history: (chance: Chance) => ProcessInput,
  first: (input: ProcessInput) => number,
) {
  const chance = new Chance(20261126)
  const runs = Array.from({ length: histories }, () => first(history(chance))).map((at) => (at < 0 ? length : at + 1))
  const mean = runs.reduce((sum, run) => sum + run, 0) / histories
  const variance = runs.reduce((sum, run) => sum + (run - mean) ** 2, 0) / (histories - 1)
  return { mean, error: Math.sqrt(variance / histories) }
}

const firstDrift = (input: ProcessInput): number => {
  const { chart, ewmaLimit } = must(judgeProcess(input))
  return chart.findIndex(({ ewma }) => Math.abs(ewma) > ewmaLimit)
}

describe('run lengths of the weighted mean', () => {
  // Lucas and Saccucci 1990, table 3, as the R package spc quotes it; the row of 0.2 and 2.962 from memory. All recomputed by a Markov chain of 401 states.
  it.each([
    [0.5, 3.071, 0.5, 88.8],
    [0.5, 3.071, 1, 17.5],
    [0.5, 3.071, 2, 3.63],
    [0.03, 2.437, 0.5, 29.3],
    [0.03, 2.437, 1, 12.6],
    [0.03, 2.437, 3, 4.03],
    [0.2, 2.962, 1, 10.5],
  ])('lambda %d and limit %d see a shift of %d after %d values', (lambda, limit, shift, published) => {
    const length = Math.ceil(published * 10)
    const history = (chance: Chance) => ({
      values: dated(
        Array.from({ length }, () => shift + chance.normal()),
        1,
      ),
      ...{ centre: 0, scatter: 0, lambda, limit },
    })
    const { mean, error } = runLength(600, length, history, firstDrift)
    expect(error).toBeLessThan(0.05 * published)
    expect(Math.abs(mean - published)).toBeLessThan(3 * error)
  })

  // What the published table is for: nothing is known of the level, and no two values are equally good.
  it('give one false alarm in 500 values, whatever the level and the uncertainties', () => {
    const length = 4000
    const history = (chance: Chance) => {
      const level = 100 * chance.normal()
      const values = Array.from({ length }, (_, day) => {
        const u = 0.2 + 2 * chance.part()
        return { day, u, value: level + Math.hypot(u, 0.5) * chance.normal() }
      })
      return { values, scatter: 0.5 }
    }
    const { mean, error } = runLength(runs(500, 5), length, history, firstDrift)
    expect(error).toBeLessThan(isWhole ? 25 : 60)
    expect(Math.abs(mean - 500)).toBeLessThan(3 * error)
  })
})

// Champ and Woodall, Technometrics 29 (1987) 393 (from memory; recomputed by a Markov chain): one value beyond 3, or two of three beyond 2 on one side.
it('two of three, with one beyond 3, give one false alarm in 225.44 values', () => {
  const length = 2000
  const history = (chance: Chance) => ({
    values: dated(
      Array.from({ length }, () => chance.normal()),
      1,
    ),
    ...{ centre: 0, scatter: 0, limit: 1e3 },
  })
  const { mean, error } = runLength(400, length, history, (input) => {
    const { chart, signalled = Number.POSITIVE_INFINITY } = must(judgeProcess(input))
    const far = chart.findIndex(({ z }) => Math.abs(z) > 3)
    const first = Math.min(far < 0 ? Number.POSITIVE_INFINITY : far, signalled)
    return Number.isFinite(first) ? first : -1
  })
  expect(error).toBeLessThan(13)
  expect(Math.abs(mean - 225.44)).toBeLessThan(3 * error)
})

describe('the Nile', () => {
  // Cobb 1978, Hinkley 1970's estimate: the flow fell after 1898; means 1097.75 before and 849.97 after it (printed by many, such as R's strucchange).
  const found = must(judgeProcess({ values: dated(NILE) }))
  const year = (day: number | undefined) => FIRST_YEAR + day!

  it('fell by 248 after 1898, and is seen to within a few years', () => {
    expect(found.inControl).toBe(false)
    const { after, by, shift, earliest, latest } = found.change!
    expect([year(after), year(by)]).toEqual([1898, 1899])
    expect(shift).toBeCloseTo(849.9722 - 1097.75, 3)
    expect(year(earliest)).toBeGreaterThan(1890)
    expect(year(latest)).toBeLessThan(1905)
    expect(year(found.signalled)).toBeGreaterThan(1898)
    expect(year(found.signalled)).toBeLessThan(1908)
  })

  it('was in control before', () => {
    expect(must(judgeProcess({ values: dated(NILE.slice(0, 28)) })).inControl).toBe(true)
  })
})

describe('by hand', () => {
  const values = [
    { day: 3, value: 5.4, u: 2 },
    { day: 1, value: 0, u: 1 },
    { day: 2, value: 3, u: 2 },
    ...[4, 5, 6, 7, 8].map((day) => ({ day, value: 1, u: 1 })),
  ]

  it('each value is compared with the weighted mean of those before it', () => {
    const { chart } = must(judgeProcess({ values, scatter: 0 }))
    expect(chart.slice(0, 2).map(({ day }) => day)).toEqual([2, 3])
    // 3 - 0 with 1² + 2²; then 5.4 - 0.6, the mean of 0 and 3 by 1 and 1/4, with 1/1.25 + 2².
    expect(chart[0]!.z).toBeCloseTo(3 / Math.sqrt(5), 12)
    expect(chart[1]!.z).toBeCloseTo(4.8 / Math.sqrt(4.8), 12)
    expect(chart[1]!.ewma).toBeCloseTo(0.8 * 0.2 * chart[0]!.z + 0.2 * chart[1]!.z, 12)
  })

  it('the scatter is half the mean square of successive differences, less what the values own', () => {
    // Differences 2, -2, …: half the mean square is 2, and 1 of it is the values' own.
    const alternating = dated([0, 2, 0, 2, 0, 2, 0, 2, 0, 2], 1)
    const found = must(judgeProcess({ values: alternating }))
    expect(found.scatter).toBeCloseTo(1, 12)
    // 2·9²/26, by von Neumann: about two thirds of the nine.
    expect(found.nu).toBeCloseTo(162 / 26, 12)
    expect(must(judgeProcess({ values: dated([1, 1, 1, 1, 1, 1, 1, 1], 1) })).scatter).toBe(0)
  })

  // The weighted mean of values that are all 1.5 is 1.5(1 - 0.8^k): beyond 2.962/3 from the fifth on, 1.0085 against 0.9873.
  it('a mean that lies off by less than far is seen by the weighted mean alone', () => {
    const off = must(judgeProcess({ values: dated([1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5], 1), centre: 0, scatter: 0 }))
    expect(off).toMatchObject({ inControl: false, test: 'ewma', signalled: 4 })
    expect(off.chart[4]!.ewma).toBeCloseTo(1.5 * (1 - 0.8 ** 5), 12)
  })

  it('two of three is not three, not one, and not on both sides', () => {
    const last = (...tail: number[]) =>
      must(judgeProcess({ values: dated([0, 0, 0, 0, 0, 0, ...tail], 1), centre: 0, scatter: 0, limit: 100 })).test
    expect(last(2.1, 2.1)).toBe('two-of-three')
    expect(last(-2.1, 0, -2.1)).toBe('two-of-three')
    expect(last(2.1, 0, 0, 2.1)).toBeUndefined()
    expect(last(2.1, -2.1)).toBeUndefined()
    expect(last(9, 1.9)).toBeUndefined()
  })

  it('a shift has the means, and the uncertainty, of its two sides', () => {
    const stepped = dated([0, 0, 0, 0, 10, 10, 10, 10], 2)
    const { change } = must(judgeProcess({ values: stepped, scatter: 0 }))
    expect(change).toMatchObject({ after: 3, by: 4, shift: 10 })
    expect(change!.u).toBeCloseTo(2 * Math.sqrt(1 / 4 + 1 / 4), 12)
    expect(change!.U / change!.u).toBeCloseTo(1.95996, 5)
  })
})

describe('what must not matter', () => {
  const history = fc.array(
    fc.record({ value: fc.double({ min: -4, max: 4, noNaN: true }), u: fc.double({ min: 0.1, max: 2, noNaN: true }) }),
    {
      minLength: 8,
      maxLength: 20,
    },
  )

  // Brown, Durbin and Evans 1975: the recursive residuals hold the whole sum of squares about the weighted mean.
  it('their squares add up to those about the weighted mean, in whatever order', () => {
    fc.assert(
      fc.property(history, (list) => {
        const sum = (of: (v: (typeof list)[number]) => number) => list.reduce((total, v) => total + of(v), 0)
        const mean = sum((v) => v.value / v.u ** 2) / sum((v) => 1 / v.u ** 2)
        const whole = sum((v) => ((v.value - mean) / v.u) ** 2)
        const { chart } = must(judgeProcess({ values: list.map((v, day) => ({ ...v, day })), scatter: 0 }))
        expect(chart.reduce((total, { z }) => total + z * z, 0)).toBeCloseTo(whole, 6)
      }),
    )
  })

  it('the order they are given in, the level and the unit', () => {
    fc.assert(
      fc.property(history, fc.double({ min: -10, max: 10, noNaN: true }), (list, level) => {
        const values = list.map((v, day) => ({ ...v, day }))
        const plain = must(judgeProcess({ values }))
        const other = must(
          judgeProcess({
            values: values.map(({ day, value, u }) => ({ day, value: 1e-3 * (value + level), u: 1e-3 * u })).reverse(),
          }),
        )
        // Rounding may decide where a value lies just on a limit, or two places are equally likely.
        other.chart.forEach(({ z }, i) => void expect(z).toBeCloseTo(plain.chart[i]!.z, 6))
        expect(other.scatter * 1e3).toBeCloseTo(plain.scatter, 6)
      }),
    )
  })

  it('a later value changes nothing that was said of those before it, where the scatter is known', () => {
    fc.assert(
      fc.property(history, (list) => {
        const values = list.map((v, day) => ({ ...v, day }))
        const whole = must(judgeProcess({ values, scatter: 0.3 }))
        const part = must(judgeProcess({ values: values.slice(0, 8), scatter: 0.3 }))
        expect(whole.chart.slice(0, 7)).toEqual(part.chart)
        if (!part.inControl) expect(whole.signalled).toBe(part.signalled)
      }),
    )
  })
})

it('refuses what it cannot judge', () => {
  const values = dated([1, 2, 3, 4, 5, 6, 7, 8], 1)
  expect(refusal(judgeProcess({ values: values.slice(1) }))).toMatchObject({
    input: 'values',
    reason: expect.stringContaining('8'),
  })
  expect(refusal(judgeProcess({ values: dated([1, 1, 1, 1, 1, 1, 1, 1]) })).input).toBe('values')
  expect(refusal(judgeProcess({ values, scatter: -1 })).input).toBe('scatter')
  for (const lambda of [0, 1.1, Number.NaN]) expect(refusal(judgeProcess({ values, lambda })).input).toBe('lambda')
  expect(refusal(judgeProcess({ values, limit: 0 })).input).toBe('limit')
  expect(refusal(judgeProcess({ values: values.map((v) => ({ ...v, u: -1 })) })).input).toBe('values')
  expect(must(judgeProcess({ values, lambda: 1 })).chart[3]).toMatchObject({ ewma: must(judgeProcess({ values })).chart[3]!.z })
})

it('never gives NaN, and nothing infinite but degrees of freedom', () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true })
  const size = number.map(Math.abs)
  fc.assert(
    fc.property(
      fc.array(fc.record({ day: number, value: number, u: size }), { minLength: 8, maxLength: 12 }),
      fc.option(size, { nil: undefined }),
      (values, scatter) => {
        const found = judgeProcess({ values, ...(scatter === undefined ? {} : { scatter }) })
        if (found.ok) expect(numbersIn({ ...found.value, nu: 0 }).every(Number.isFinite)).toBe(true)
      },
    ),
    { numRuns: runs(500) },
  )
})

it('refuses what no double can hold', () => {
  const huge = [1, -1, 1, -1, 1, -1, 1, -1].map((sign, day) => ({ day, value: sign * 1.7e308, u: 1 }))
  for (const scatter of [undefined, 1])
    expect(refusal(judgeProcess({ values: huge, ...(scatter === undefined ? {} : { scatter }) })).reason).toContain('too large')
  const far = [0, 0, 0, 0, 1, 1, 1, 1].map((value, day) => ({ day, value: value * 1e300, u: 1e-10 }))
  expect(refusal(judgeProcess({ values: far, scatter: 0 })).reason).toContain('too large')
})
