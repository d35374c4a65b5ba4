// What happens just at a limit, and just beyond it: the ends of tables of bounds, the last of a series, what exactly meets what is allowed.
// Where a number is expected it is reckoned by hand beside it.
import { describe, expect, it } from 'vitest'
import { ok } from '../../server/src/base/outcome.ts'
import { passTime } from '../../server/src/calc/advance.ts'
import { driftOf, predictDrift } from '../../server/src/calc/drift.ts'
import { dryingMargin } from '../../server/src/calc/drying.ts'
import { type FeedInput, reckonFeed } from '../../server/src/calc/feed.ts'
import { impliedCorrection } from '../../server/src/calc/feed-check.ts'
import { finePicks, keyIn } from '../../server/src/calc/feed-key-in.ts'
import { channelOffsets, offsetChange } from '../../server/src/calc/landing.ts'
import { measuredLength, requiredPattern } from '../../server/src/calc/measurement.ts'
import type { Range } from '../../server/src/calc/range.ts'
import { fitParallelLines, fitThroughOrigin } from '../../server/src/calc/regression.ts'
import { effectiveThickness, rollLength } from '../../server/src/calc/roll.ts'
import { sampleOf } from '../../server/src/calc/statistics.ts'
import { suctionWindow } from '../../server/src/calc/suction-window.ts'

describe('the ends of a table of bounds', () => {
  const measured = (more: object) => measuredLength({ measurement: { measured: 1, ...more }, referenceTemperature: 20 })
  it.each([
    // From what no shop can have measured: `bounds` names them in its reasons.
    ['measured', 1e-3, 1e3],
    ['division', 1e-9, 0.1],
    ['statedUncertainty', 1e-9, 1],
    ['ruleExpansion', 0, 1e-3],
    ['ruleTemperature', -60, 100],
    ['ruleTemperatureUncertainty', 0, 100],
    ['webTemperature', -60, 300],
    ['webTemperatureUncertainty', 0, 100],
  ])('%s', (input, low, high) => {
    for (const value of [low, high]) expect(measured({ [input]: value })).toMatchObject({ ok: true })
    for (const value of [low - 1e-3 * (Math.abs(low) || 1e-9), high * 1.001]) {
      const reason = expect.stringMatching(/ (between|above) /)
      expect(measured({ [input]: value })).toMatchObject({ problem: { input, reason } })
    }
  })

  it('the expansion and the stretch of a web, at both ends', () => {
    const range = (low: number, high: number) => ({ low, typical: (low + high) / 2, high })
    expect(measured({ webExpansion: range(-1e-3, 1e-3) })).toMatchObject({ ok: true })
    expect(measured({ tensionStrain: range(-0.5, 1) })).toMatchObject({ ok: true })
    for (const webExpansion of [range(-1.001e-3, 0), range(0, 1.001e-3)])
      expect(measured({ webExpansion })).toMatchObject({ problem: { input: 'webExpansion' } })
    for (const tensionStrain of [range(-0.501, 0), range(0, 1.001)])
      expect(measured({ tensionStrain })).toMatchObject({ problem: { input: 'tensionStrain' } })
  })

  it('a limit of error of a metre in all', () => {
    expect(measured({ limitOfError: { a: 0.5, b: 0.3, c: 0.2 } })).toMatchObject({ ok: true })
    expect(measured({ limitOfError: { a: 0.5, b: 0.4, c: 0.2 } })).toMatchObject({ problem: { input: 'limitOfError' } })
  })

  it('a hook whose limit is not told adds nothing', () => {
    const uOf = (more: object) => {
      const found = measured({ limitOfError: { a: 1e-4, b: 1e-4 }, ...more })
      return found.ok ? found.value.uSystematic : undefined
    }
    expect(uOf({ hook: true })).toBe(uOf({}))
  })
})

describe('just at', () => {
  it('the speed at which a carriage would stand still', () => {
    const made = { carriageSpeed: 1, gap: 0.002, dropSpeed: 7 }
    expect(offsetChange({ ...made, carriageSpeedChange: -1 })).toMatchObject({ problem: { input: 'carriageSpeedChange' } })
    expect(offsetChange({ ...made, carriageSpeedChange: -0.99 })).toMatchObject({ ok: true })
  })

  it('the core: a roll with nothing on it has no thickness', () => {
    const empty = { outsideDiameter: 0.08, coreDiameter: 0.08, length: 50 }
    expect(effectiveThickness(empty)).toMatchObject({
      problem: { input: 'outsideDiameter', reason: expect.stringContaining('larger') },
    })
    expect(rollLength({ ...empty, thickness: 1e-4 })).toMatchObject({ ok: true, value: 0 })
  })

  // 1 kPa x 0.1 m x 0.25 = 25 N/m over 0.1 mm and 0.25 GPa: 1 mm per metre.
  const web = { levels: [{ level: 1, pressure: 1000 }], depth: 0.1, openArea: 1, modulus: 0.25e9, thickness: 1e-4, poisson: 0.4 }
  const row = (strain: number, friction: number | Range = 0.25) => {
    const limits = { strain, dimple: 1, rise: 1 }
    const found = suctionWindow({ ...web, friction, holeDiameter: 1e-3, curlRadius: 1, limits })
    return found.ok ? found.value.rows[0] : undefined
  }

  it('the limit: a level that stretches by what is allowed holds, and it is certain', () => {
    const strain = row(1)!.strain.typical
    expect(strain).toBeCloseTo(1e-3, 12)
    expect(row(strain)).toMatchObject({ verdict: 'holds', certain: true })
    expect(row(strain * 0.999)).toMatchObject({ verdict: 'too-strong', faults: ['stretch'], certain: true })
  })

  it('the limit of one thing alone: where that is open, the verdict is not certain', () => {
    expect(row(1.1e-3, { low: 0.2, typical: 0.25, high: 0.3 })).toMatchObject({ verdict: 'holds', certain: false })
  })

  it('the first and the last of the points a line is drawn through', () => {
    const drift = driftOf({ points: [3, 5, 8, 9].map((at, i) => ({ at, value: [0.001, 0.0012, 0.0013, 0.0016][i]! })) })
    const outside = (at: number) => {
      const found = drift.ok && predictDrift({ drift: drift.value, at })
      return found && 'value' in found ? found.value.extrapolated : undefined
    }
    expect([2.99, 3, 6, 9, 9.01].map(outside)).toEqual([true, false, false, false, true])
  })
})

describe('a check', () => {
  it.each([1e-3, 1e3])('of a pattern of %d m is taken, and of one a little beyond is not', (commanded) => {
    const implied = (length: number) =>
      impliedCorrection({ check: { id: 'a', commanded: length, measured: commanded, applied: 0 }, referenceTemperature: 20 })
    expect(implied(commanded)).toMatchObject({ ok: true })
    expect(implied(commanded * (commanded < 1 ? 0.99 : 1.01))).toMatchObject({ problem: { input: 'commanded' } })
  })

  it('counts no cause that leaves nothing', () => {
    const parts = (more: object) => {
      const found = measuredLength({ measurement: { measured: 1, ...more }, referenceTemperature: 20 })
      return found.ok ? found.value.parts.map((part) => part.cause) : undefined
    }
    expect(parts({ ruleExpansion: 0 })).toEqual(parts({}))
    expect(parts({ ruleExpansion: 1e-5, ruleTemperatureUncertainty: 0 })).toEqual(parts({}))
    expect(parts({ ruleExpansion: 1e-5 })).toContain('rule-temperature')
  })
})

describe('what cannot be', () => {
  it('in a check is told by its own number', () => {
    const problem = (check: object) => {
      const found = impliedCorrection({
        check: { id: 'a', commanded: 1, measured: 1, applied: 0, ...check },
        referenceTemperature: 20,
      })
      return found.ok ? undefined : found.problem
    }
    expect(problem({ commanded: Number.NaN })).toMatchObject({ input: 'commanded', reason: expect.stringContaining('finite') })
    expect(problem({ applied: Number.NaN })).toMatchObject({ input: 'applied', reason: expect.stringContaining('finite') })
    expect(problem({ measured: 12.3456789 })!.reason).toMatch(/^12345\.7 mm .* about 1000 mm /)
    for (const measured of [0.5, 2]) expect(problem({ measured })).toMatchObject({ input: 'measured' })
    for (const measured of [0.501, 1.999]) expect(problem({ measured })).toBeUndefined()
  })

  it('in a line is told of the x or the y that is none', () => {
    const reason = (x: number[], y: number[]) => {
      const found = fitParallelLines({ x, y, group: x.map(() => 'a'), of: 'a' })
      return found.ok ? undefined : `${found.problem.input}: ${found.problem.reason}`
    }
    expect(reason([1, 2, Number.NaN], [1, 2, 3])).toMatch(/^x: .*not a finite/)
    expect(reason([1, 2, 3], [1, Number.NaN, 3])).toMatch(/^y: .*not a finite/)
    expect(reason([1, 2, 3], [1, 2])).toMatch(/^y: there are 3 x and 2 y/)
  })
})

describe('a rule whose hook is not told', () => {
  it('needs the pattern that it needs without a hook', () => {
    const pattern = (hook: boolean) =>
      requiredPattern({ measurement: { limitOfError: { a: 1e-4, b: 1e-4 }, hook }, referenceTemperature: 20, tolerance: 1e-3 })
    expect(pattern(true)).toMatchObject({ ok: true, value: { length: expect.any(Number) } })
    expect(pattern(true)).toEqual(pattern(false))
  })
})

describe('a margin of drying', () => {
  it.each([
    [300, { low: 200, typical: 250, high: 300 }, 'dry'],
    [300.5, 300, 'dry'],
    [299.5, { low: 200, typical: 250, high: 300 }, 'uncertain'],
    [200, { low: 200, typical: 250, high: 300 }, 'uncertain'],
    [199.5, { low: 200, typical: 250, high: 300 }, 'wet'],
  ])('of %d s for %o is %s', (available, needed, verdict) => {
    expect(dryingMargin({ available, needed })).toMatchObject({ ok: true, value: { verdict } })
  })
})

describe('channels that stand apart', () => {
  it('are told the furthest first', () => {
    const found = channelOffsets({ picks: { a: 0, b: 0, c: 0, d: 0, e: 0, near: 5, far: -9, middle: 7 }, step: 1e-5 })
    expect(found.ok && found.value.apart.map(({ channel }) => channel)).toEqual(['far', 'middle', 'near'])
  })
})

describe('all checks', () => {
  const one = { id: 'a', commanded: 1, measured: 0.999, applied: 0 }
  const reckon = (more: object) => reckonFeed({ checks: [one], entry: 'percent', referenceTemperature: 20, ...more } as FeedInput)
  it.each([
    ['referenceTemperature', -60, 100, 0.1],
    ['coverage', 0.5, 0.999, 1e-3],
    ['significance', 1e-9, 0.5, 1e-3],
    ['step', 1e-9, 0.1, 1e-4],
    ['lengthStep', 1e-9, 0.1, 1e-4],
    ['patternLength', 1e-3, 1e3, 1e-5],
    ['applied', -0.499, 0.499, 1e-3],
  ])('are reckoned with a %s from %d to %d', (input, low, high, beyond) => {
    for (const value of [low, high]) expect(reckon({ [input]: value })).toMatchObject({ ok: true })
    for (const value of [low - beyond, high + beyond]) expect(reckon({ [input]: value })).toMatchObject({ problem: { input } })
  })

  it('are not reckoned with a range that ends before it begins, or one that is no correction', () => {
    for (const range of [
      [0.02, 0.01],
      [-0.5, 0.1],
      [-0.1, 0.5],
    ])
      expect(reckon({ range })).toMatchObject({ problem: { input: 'range' } })
    expect(reckon({ range: [0.01, 0.01] })).toMatchObject({ ok: true })
  })

  it('a length that was keyed in says what the printer holds within half a step', () => {
    // A step of 1 mm in 1 m is 0.1 %: what is held 0.04 % from it is as keyed in, 0.06 % is not.
    const keyed = { entry: 'measured-length', lengthStep: 1e-3, patternLength: 1 }
    const first = reckon({ ...keyed, held: ok(0) })
    const correction = first.ok ? first.value.keyIn!.correction : Number.NaN
    const asKeyedIn = (difference: number) => {
      const found = reckon({ ...keyed, held: ok(0), applied: correction + difference })
      return found.ok ? found.value.agreement?.asKeyedIn : undefined
    }
    expect([-6e-4, -4e-4, 4e-4, 6e-4].map(asKeyedIn)).toEqual([false, true, true, false])
  })
})

describe('one number that is none', () => {
  it.each([Number.NaN, Number.POSITIVE_INFINITY])('%d among good ones is refused, and that is the reason', (bad) => {
    const problem = { input: 'values', reason: 'one of the values is not a finite number' }
    expect(sampleOf({ values: [1, bad, 3] })).toMatchObject({ problem })
  })
})

describe('a line', () => {
  it('through the origin is level where all y are zero', () => {
    expect(fitThroughOrigin({ x: [1, 2, 3], y: [0, 0, 0] })).toMatchObject({ ok: true, value: { slope: 0, uSlope: 0 } })
  })

  it('through the origin is refused a point that is no number', () => {
    for (const y of [Number.NaN, Number.POSITIVE_INFINITY])
      expect(fitThroughOrigin({ x: [1, 2, 3], y: [1, y, 3] })).toMatchObject({ problem: { input: 'y' } })
  })
})

describe('the carriage', () => {
  it('needs the width of what it turns at, and none that it does not', () => {
    const pass = { imageWidth: 1, overrun: 0.05, carriageSpeed: 1, acceleration: 5, settle: 0.1, directions: 'two-way' } as const
    expect(passTime({ ...pass, turnAt: 'print-edge' })).toMatchObject({ ok: true })
    expect(passTime({ ...pass, turnAt: 'bed-end' })).toMatchObject({ problem: { input: 'bedWidth' } })
    expect(passTime({ ...pass, turnAt: 'bed-end', webWidth: 1.2 })).toMatchObject({ problem: { input: 'bedWidth' } })
    expect(passTime({ ...pass, turnAt: 'web-edge' })).toMatchObject({ problem: { input: 'webWidth' } })
    expect(passTime({ ...pass, turnAt: 'web-edge', bedWidth: 1.6 })).toMatchObject({ problem: { input: 'webWidth' } })
  })
})

describe('what is keyed in', () => {
  const none = { use: 'unusable', contribution: 0, correction: 0, meanPick: 0, u: 0, U: 0 }
  const fine = { picks: [1, 2], step: 1e-5, advancePerPass: 0.003, applied: 0.001 }
  it.each([
    ['picks', { picks: [] }, 'there are no fine picks'],
    ['picks', { picks: [1e6 + 1] }, 'one of the fine picks is no number of steps'],
    ['step', { step: 0 }, 'above zero'],
    ['advancePerPass', { advancePerPass: -1 }, 'above zero'],
    ['applied', { applied: 0.5 }, 'within'],
    ['step', { step: 0.0015 }, 'a small part of the advance'],
    ['step', { advancePerPass: 10 }, 'a small part of the advance'],
    ['step', { step: 1e-9 }, 'a small part of the advance'],
  ])('fine picks whose %s cannot be: %o', (input, wrong, reason) => {
    const found = finePicks({ fine: { ...fine, ...wrong }, step: 1e-4 })
    expect(found).toMatchObject({ ...none, problem: { input, reason: expect.stringContaining(reason) } })
  })

  it('fine picks are told with their sign, and make nothing at a coverage that is none', () => {
    const beyond = (pick: number) => finePicks({ fine: { ...fine, picks: [pick], patches: 1 }, step: 1e-4 }).reason
    expect([1, -1].map(beyond)).toEqual([expect.stringMatching(/^\+1 is no patch/), expect.stringMatching(/^-1 is no patch/)])
    expect(finePicks({ fine, step: 1e-4, coverage: 1 })).toMatchObject({ ...none, problem: { input: 'coverage' } })
  })

  it('a single pick is its own mean', () => {
    // 2 steps of 10 µm in 3 mm: 0.667 %.
    const one = finePicks({ fine: { ...fine, picks: [2] }, step: 1e-4 })
    expect(one).toMatchObject({ use: 'used', n: 1, meanPick: 2 })
    expect(one.contribution).toBeCloseTo(2e-5 / 3e-3, 12)
  })

  it('a printer that holds a correction just a step away holds the one that was printed with', () => {
    const used = (inPrinter: number) => finePicks({ fine: { ...fine, picks: [0, 0] }, inPrinter, step: 1e-4 }).use
    expect([0.0009, 0.0011].map(used)).toEqual(['used', 'used'])
    expect([0.00089, 0.00111].map(used)).toEqual(['stale', 'stale'])
  })

  it('a pick beyond the pattern makes no number, and one on its last patch makes one', () => {
    expect(finePicks({ fine: { ...fine, picks: [2, 3], patches: 5 }, step: 1e-4 })).toMatchObject({ ...none, use: 'beyond' })
    const last = finePicks({ fine: { ...fine, picks: [2, 1], patches: 5 }, step: 1e-4 })
    expect(last.use).toBe('last-patch')
    expect(last.correction).toBeCloseTo(0.001 + (1.5 * 1e-5) / 0.003, 12)
  })

  it('is nothing where no whole step lies in the range, and that is said', () => {
    const rules = { entry: 'percent', step: 0.01, range: [0.001, 0.009] } as const
    expect(keyIn({ wanted: 0.005, rules })).toEqual({
      entry: 'percent',
      value: undefined,
      reason: "no whole number of the printer's steps lies between 0.1 % and 0.9 %",
      correction: 0.005,
      left: 0,
    })
  })

  it('is nothing where what is wanted lies outside the range by more than rounding', () => {
    const rules = { entry: 'percent', range: [-0.01, 0.01] } as const
    expect(keyIn({ wanted: 0.01, rules }).value).toBe(0.01)
    // What rounding may leave, 1e-12, is inside just at its end.
    expect(keyIn({ wanted: 1e-12, rules: { entry: 'percent', range: [-0.01, 0] } }).value).toBe(1e-12)
    expect(keyIn({ wanted: -1e-12, rules: { entry: 'percent', range: [0, 0.01] } }).value).toBe(-1e-12)
    for (const [wanted, range] of [
      [1.005e-12, [-0.01, 0]],
      [-1.005e-12, [0, 0.01]],
    ] as const)
      expect(keyIn({ wanted, rules: { entry: 'percent', range } }).value).toBeUndefined()
    for (const wanted of [0.0101, -0.0101])
      expect(keyIn({ wanted, rules })).toMatchObject({ value: undefined, reason: expect.stringContaining('-1 % to 1 %') })
  })
})
