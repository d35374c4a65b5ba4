// The feed correction: exact formula, combination, suspects, picks, key-in; against hand reckoning, libraries and the ways people get it wrong.
import { all, create } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { ok, refuse } from '../../server/src/base/outcome.ts'
import { type FeedInput, reckonFeed } from '../../server/src/calc/feed.ts'
import { type FeedCheckInput, impliedCorrection } from '../../server/src/calc/feed-check.ts'
import { type FinePicks, finePicks, keyIn } from '../../server/src/calc/feed-key-in.ts'
import { ruleClasses } from '../../server/src/calc/measurement.ts'
import { exactly } from '../../server/src/calc/range.ts'
import { must, refusal } from './must.ts'

const math = create(all!, { number: 'BigNumber', precision: 40 })
/** 1/K (GUM H.1). */
const steelExpansion = 11.5e-6
const perfectRule = { a: 0, b: 0 }

let made = 0
/** A check in millimetres and percent, as a shop writes it. */
const check = (commanded: number, measured: number, applied = 0, more: Partial<FeedCheckInput> = {}): FeedCheckInput => ({
  id: `check ${++made}`,
  commanded: commanded / 1e3,
  measured: measured / 1e3,
  applied: applied / 100,
  ...more,
})
const reckon = (checks: FeedCheckInput[], more: Partial<FeedInput> = {}) =>
  must(reckonFeed({ checks, entry: 'percent', referenceTemperature: 20, ...more }))
const implied = (one: FeedCheckInput) => must(impliedCorrection({ check: one, referenceTemperature: 20 }))

describe('one check', () => {
  // Exact values by mathjs at 40 digits; the additive formula would give 0.00500000, 0.04000000 and -0.00120000.
  it.each([
    [1000, 998.0, 0.3, 0.00501002],
    [1000, 980.0, 2.0, 0.04081633],
    [1000, 1001.2, 0, -0.00119856],
  ])('%d mm commanded, %d mm measured at %d %%', (commanded, measured, applied, expected) => {
    const exact = Number(math.evaluate(`(1 + ${applied}/100) * ${commanded} / ${measured} - 1`).toString())
    const { correction } = implied(check(commanded, measured, applied))
    expect(correction).toBeCloseTo(exact, 14)
    expect(correction).toBeCloseTo(expected, 8)
    expect(Math.abs(correction - (applied / 100 + (commanded - measured) / commanded))).toBeGreaterThan(1e-6)
  })

  // The misuse: inverting the ratio.
  it('raises the correction when the print is short, and lowers it when it is long', () => {
    expect(implied(check(1000, 999, 0.1)).correction).toBeGreaterThan(0.001)
    expect(implied(check(1000, 1001, 0.1)).correction).toBeLessThan(0.001)
  })

  // The misuse: percent of what. The correction multiplies the advance: gain · commanded · (1 + correction) = commanded.
  it('multiplies the advance by 1 + correction', () => {
    const { correction, gain } = implied(check(1000, 980, 2))
    expect(gain * 1 * (1 + correction)).toBeCloseTo(1, 15)
    expect(gain * 1 * (1 + 0.02)).toBeCloseTo(0.98, 15)
  })

  it('asks for what is applied already when the length is true', () => {
    expect(implied(check(1000, 1000, 0.3)).correction).toBeCloseTo(0.003, 15)
    expect(implied(check(777, 777, 0)).correction).toBe(0)
  })

  // Class II rule over 1 m, 0.5 mm division, web and rule known to ± 2 K: 0.3629 mm without repeats; u(c)/(1 + c) = u(L)/L.
  it('has the uncertainty of its budget, and of a feed that scatters as is typical', () => {
    const budget = {
      division: 0.5e-3,
      limitOfError: ruleClasses.II,
      ruleExpansion: steelExpansion,
      ruleTemperature: 20,
      webExpansion: exactly(70e-6),
      webTemperature: 20,
    }
    const { combined } = reckon([check(1000, 999, 0.2, budget)])
    const u = Math.hypot(
      0.5e-3 / Math.sqrt(6),
      0.5e-3 / Math.sqrt(3),
      (steelExpansion * 2) / Math.sqrt(3),
      (70e-6 * 2) / Math.sqrt(3),
    )
    expect(Math.hypot(combined!.uReading, sharedOf(combined!))).toBeCloseTo((u * (1 + combined!.correction)) / 0.999, 6)
    expect(combined!.u).toBeCloseTo(Math.hypot(combined!.uReading, sharedOf(combined!), combined!.uScatter), 12)
    expect(combined).toMatchObject({ n: 1, prints: 1 })
    expect(combined!.systematic.map((part) => part.cause)).toEqual(['limit-of-error', 'rule-temperature', 'web-temperature'])
  })

  // The misuse: tuning the feed to a web still warm from the heater, 0.16 % on PVC at 45 degC.
  it('takes the heat out of a warm web', () => {
    const warm = check(1000, 1001.61, 0, { webExpansion: exactly(70e-6), webTemperature: 45 })
    expect(must(impliedCorrection({ check: warm, referenceTemperature: 22 })).correction).toBeCloseTo(0, 12)
    const naive = must(impliedCorrection({ check: { ...warm, webTemperature: undefined }, referenceTemperature: 22 }))
    expect(naive.correction).toBeCloseTo(-0.0016, 4)
  })

  it('relaxes a web measured under tension', () => {
    const tensioned = check(1000, 1002, 0, { tensionStrain: { low: 0.001, typical: 0.002, high: 0.003 } })
    expect(implied(tensioned).correction).toBeCloseTo(0, 12)
  })
})

const K95 = 1.959963984540054

/** What all checks share, in one number. */
const sharedOf = ({ systematic }: { readonly systematic: readonly { readonly u: number }[] }): number =>
  Math.hypot(...systematic.map(({ u }) => u))

describe('several checks', () => {
  // The mean of readings, then the ratio: the mean of the corrections 1/Lm would be 2.25e-6 too high (s²/L²).
  it('average lengths and not their inverses', () => {
    expect(reckon([check(1000, 998.5), check(1000, 1001.5)]).combined!.correction).toBeCloseTo(0, 12)
  })

  // Otherwise readings over a metre would carry the limit of the second metre, and those below it would have more say: 207 ppm too much.
  it('take the limit of error for the length commanded, whatever side of a whole metre they read', () => {
    const [short, long] = reckon([check(1000, 998.5), check(1000, 1001.5)]).checks
    expect(short!.weight).toBeCloseTo(long!.weight, 12)
  })

  // 500, 1000, 2000 mm measured 500.9, 1002.1, 2004.0 mm; gains by SciPy. A feed that is known not to scatter leaves the readings alone.
  it('count by length, as the line through the origin does, where a rule errs by the same everywhere', () => {
    const three = [check(500, 500.9), check(1000, 1002.1), check(2000, 2004)].map((c) => ({ ...c, limitOfError: perfectRule }))
    const { combined, estimators, checks } = reckon(three, { scatter: { repeatability: { value: 1e-6, freedom: 1e4 } } })
    expect(1 / (1 + combined!.correction)).toBeCloseTo(1.002009524, 5)
    expect(1 / (1 + estimators!.throughOrigin)).toBeCloseTo(1.002009524, 9)
    expect(1 / (1 + estimators!.meanOfRatios)).toBeCloseTo(1.001966667, 9)
    expect(checks[2]!.weight / checks[0]!.weight).toBeCloseTo(16, 1)
  })

  it('at different corrections imply the same, and combine', () => {
    const gain = 0.997
    const three = [0, 0.3, -0.5].map((applied) => check(1000, 1000 * gain * (1 + applied / 100), applied))
    const { combined, checks } = reckon(three)
    for (const { implied: one } of checks) expect(one!.correction).toBeCloseTo(1 / gain - 1, 12)
    expect(combined!.correction).toBeCloseTo(1 / gain - 1, 12)
  })

  // The misuse: dividing what one rule shares by √n. Ten checks with one class II rule of a metre still have its 289 ppm.
  it('with one rule keep the whole of the rule, with ten rules a √10th of it', () => {
    const ten = (instrument: (i: number) => string) =>
      reckon(
        Array.from({ length: 10 }, (_, i) =>
          check(1000, 1000, 0, { division: 0.5e-3, limitOfError: ruleClasses.II, instrument: instrument(i) }),
        ),
      )
    const one = ten(() => 'tape').combined!
    expect(sharedOf(one)).toBeCloseTo(0.5e-3 / Math.sqrt(3), 9)
    expect(one.uReading).toBeCloseTo(0.5e-3 / Math.sqrt(6) / Math.sqrt(10), 9)
    const many = ten((i) => `tape ${i}`).combined!
    expect(sharedOf(many)).toBeCloseTo(0.5e-3 / Math.sqrt(3) / Math.sqrt(10), 9)
    expect(many.systematic).toHaveLength(10)
    expect(many.systematic[3]).toMatchObject({ cause: 'limit-of-error', of: 'tape 3' })
  })

  it('that name no instrument count as made with one', () => {
    const { combined } = reckon([check(1000, 1000), check(1000, 1000)])
    expect(sharedOf(combined!)).toBeCloseTo(0.5e-3 / Math.sqrt(3), 9)
  })

  // The misuse: a scatter that is estimated and plugged in. Two checks that happen to agree estimate none (NIST 1.3.6.4 has the same trap for a mean of two),
  // and the interval would be the readings' alone: ±0.057 % is what two class II readings of a metre leave, and the feed adds what is typical of feeds.
  it('that agree do not prove that the feed never scatters', () => {
    const two = reckon([check(1000, 998), check(1000, 998)]).combined!
    const readings = K95 * Math.hypot(two.uReading, sharedOf(two))
    expect(two.U).toBeGreaterThan(1.05 * readings)
    expect(two.scatter.expected).toBeGreaterThan(5e-5)
    expect(reckon([check(1000, 998), check(1000, 998)]).estimators!.mandelPaule!.scatter).toBe(0)
  })

  it('that scatter more than their readings explain are known less well', () => {
    const spread = (mm: number) =>
      reckon([-1, 0, 1].map((i) => check(1000, 1000 + i * mm, 0, { division: 0.1e-3, limitOfError: perfectRule }))).combined!
    expect(spread(0.5).U).toBeGreaterThan(1.5 * spread(0.05).U)
    expect(spread(0.5).scatter.expected).toBeGreaterThan(2 * spread(0.05).scatter.expected)
  })

  it('of one strip are one print, and of one day know less than of two', () => {
    const on = (days: readonly string[], samePrint = false) =>
      reckon(
        days.map((day, i) =>
          check(1000, 998 + 0.05 * i, 0, {
            division: 0.1e-3,
            limitOfError: perfectRule,
            day,
            ...(samePrint && i > 0 && { samePrint }),
          }),
        ),
      ).combined!
    expect(on(['a', 'a', 'a'], true)).toMatchObject({ n: 3, prints: 1 })
    expect(on(['a', 'a', 'a']).U).toBeLessThan(on(['a', 'a', 'a'], true).U)
    expect(on(['a', 'b', 'c']).U).toBeLessThan(on(['a', 'a', 'a']).U)
  })

  // A law errs alike for all that it carries: ten checks know the shift no better than one.
  it('carried by one law share what is not known of it', () => {
    const carries = [{ law: 'suction', shift: 3e-4, u: 1e-4 }]
    const ten = reckon(Array.from({ length: 10 }, () => check(1000, 1000, 0, { carries }))).combined!
    const plain = reckon(Array.from({ length: 10 }, () => check(1000, 1000))).combined!
    expect(ten.correction - plain.correction).toBeCloseTo(3e-4, 9)
    expect(ten.systematic.find(({ cause }) => cause === 'carry')).toMatchObject({ of: 'suction' })
    expect(ten.systematic.find(({ cause }) => cause === 'carry')!.u).toBeCloseTo(1e-4, 7)
  })

  // By hand: 0.6 mm per metre too long on 998.6 mm read: 998.6/1.0006 = 998.0012 mm.
  it('with a rule that was found to read too long are brought right by it', () => {
    const ruleError = { value: 0.6e-3, of: 'length', uncertainty: 0.1e-3 } as const
    const { checks, combined } = reckon([check(1000, 998.6, 0, { ruleError })])
    expect(checks[0]!.implied!.measured.length).toBeCloseTo(0.9986 / 1.0006, 12)
    // What was found says how wrong it is, with its own ±; the limit of error says nothing more.
    expect(combined!.systematic.map(({ cause }) => cause)).toEqual(['rule-error'])
    expect(combined!.systematic[0]!.u).toBeCloseTo(0.1e-3 / K95, 6)
  })

  // By hand: a paper that grows 0.01 % for each %RH, read at 60 %RH, is 0.1 % longer than at 50 %RH.
  it('read in damp air are brought to the humidity at which lengths count', () => {
    const paper = {
      moistureExpansion: { low: 0.01, typical: 0.01, high: 0.01 },
      humidity: 0.6,
      humidityUncertainty: 0.02,
      referenceHumidity: 0.5,
      limitOfError: perfectRule,
    }
    const { checks } = reckon([check(1000, 1001, 0, paper)])
    expect(checks[0]!.implied!.correction).toBeCloseTo(0, 12)
    const part = checks[0]!.implied!.measured.parts.find(({ cause }) => cause === 'humidity')!
    expect(Math.abs(part.u)).toBeCloseTo((0.01 * 0.02) / K95, 9)
  })

  it('report their residual and their share', () => {
    const { checks } = reckon([check(1000, 999), check(1000, 1001)])
    expect(checks[0]!.residual).toBeGreaterThan(0)
    expect(checks.reduce((sum, c) => sum + c.weight, 0)).toBeCloseTo(1, 12)
  })
})

describe('checks left out', () => {
  it('with a reason are reckoned, shown, and count for nothing', () => {
    const skipped = check(1000, 950, 0, { skipped: 'web slipped' })
    const { checks, combined } = reckon([check(1000, 999), skipped])
    expect(checks[1]).toMatchObject({ use: 'skipped', reason: 'web slipped', weight: 0 })
    expect(checks[1]!.residual).toBeCloseTo(1000 / 950 - 1000 / 999, 12)
    expect(combined!.correction).toBeCloseTo(1000 / 999 - 1, 12)
  })

  it('for a slip of the pen are named with what is wrong, and do not stop the others', () => {
    const { checks, combined } = reckon([check(1000, 999), check(500, 49.9), check(Number.NaN, 1), check(1000, 0)])
    expect(checks.slice(1).map((c) => [c.use, c.problem!.input])).toEqual([
      ['unusable', 'measured'],
      ['unusable', 'commanded'],
      ['unusable', 'measured'],
    ])
    expect(checks[1]!.reason).toBe(
      '49.9 mm was measured where about 500 mm was to be expected; look for a slipped decimal point or a wrong unit',
    )
    expect(combined!.n).toBe(1)
  })

  it('entirely leave nothing to key in', () => {
    const result = reckon([check(1000, 999, 0, { skipped: 'why not' })])
    expect(result).toMatchObject({ combined: undefined, wanted: undefined, keyIn: undefined, proof: undefined })
  })
})

describe('a suspect', () => {
  // 1000.2 1000.3 1000.1 1000.2 1001.4 at 0.25 %; without the last the mean is 1000.20, c = 0.00229954.
  const readings = [1000.2, 1000.3, 1000.1, 1000.2, 1001.4]
  const checks = readings.map((mm) => check(1000, mm, 0.25, { division: 0.1e-3 }))

  it('is named, stays in, and the result says what it would be without it', () => {
    const result = reckon(checks)
    expect(result.suspects).toEqual([checks[4]!.id])
    expect(result.checks[4]).toMatchObject({ use: 'included' })
    expect(result.checks[4]!.suspect).toBeLessThan(0.05)
    expect(result.combined!.n).toBe(5)
    expect(result.without!.n).toBe(4)
    expect(reckon(checks.slice(0, 4)).without).toBeUndefined()
    expect(result).toEqual(reckon(checks, { coverage: 0.95, significance: 0.05 }))
    expect(result.without!.correction).toBeCloseTo(0.00229954, 8)
    expect(result.combined!.correction).toBeCloseTo(1.0025 / 1.00044 - 1, 9)
  })

  it('is gone once a person leaves it out, and the result is the one foretold', () => {
    const foretold = reckon(checks).without
    const after = reckon(checks.map((c, i) => (i === 4 ? { ...c, skipped: 'slipped' } : c)))
    expect(after.combined).toEqual(foretold)
    expect(after.suspects).toEqual([])
  })

  it('is none where the budget allows for the difference', () => {
    expect(reckon(checks.map((c) => ({ ...c, division: 2e-3 }))).suspects).toEqual([])
  })

  // The documented limits: one below fifteen checks, then a tenth of them, at least 2 and at most 25.
  it('is looked for in a tenth of the checks at most', () => {
    const slipped = (n: number, bad: number) =>
      reckon(
        Array.from({ length: n }, (_, i) =>
          check(1000, 1000 + ((i * 7) % 11) * 0.01 + (i < bad ? 8 : 0), 0, { division: 0.1e-3, limitOfError: perfectRule }),
        ),
      ).suspects.length
    expect([slipped(14, 1), slipped(20, 2), slipped(20, 3), slipped(20, 1)]).toEqual([1, 2, 2, 1])
    expect([slipped(50, 5), slipped(50, 6), slipped(300, 25), slipped(300, 31)]).toEqual([5, 5, 25, 30])
  })

  it('hides no other: of thirty checks, three bad ones are all named', () => {
    const many = Array.from({ length: 30 }, (_, i) =>
      check(1000, 1000 + ((i * 7) % 11) * 0.05 + (i % 10 === 9 ? 6 + i / 50 : 0), 0, { division: 0.1e-3 }),
    )
    expect(reckon(many).suspects.toSorted()).toEqual([many[9]!.id, many[19]!.id, many[29]!.id].toSorted())
  })
})

describe('fine picks', () => {
  const fine = { picks: [1, 2, 1, 2], step: 10e-6, advancePerPass: 25.4e-3, applied: 0.001 }

  // 1.5 steps of 10 µm on an advance of 25.4 mm: 590.55 ppm.
  it('add mean pick · step / advance to the correction they were printed with', () => {
    const { fine: found, wanted } = reckon([check(1000, 1000, 0.1)], { fine, step: 1e-4 })
    expect(found).toMatchObject({ use: 'used', n: 4, meanPick: 1.5 })
    expect(found!.contribution).toBeCloseTo(590.551e-6, 9)
    expect(wanted!.correction).toBeCloseTo(0.001590551, 9)
    expect(wanted!.u).toBe(found!.u)
  })

  // s = 0.577, s/√4 = 0.289, and 1/√12 = 0.289: the scatter of half ones and half twos is just the resolution.
  it('are as uncertain as their scatter or their step, whichever is larger', () => {
    const u = (picks: number[]) => (finePicks({ fine: { ...fine, picks }, step: 1e-4 }).u * fine.advancePerPass) / fine.step
    expect(u([1])).toBeCloseTo(1 / Math.sqrt(12), 12)
    expect(u([1, 1, 1, 1])).toBeCloseTo(1 / Math.sqrt(12), 12)
    expect(u([-2, 0, 2, 0])).toBeCloseTo(Math.sqrt(8 / 3) / 2, 12)
    expect(finePicks({ fine: { ...fine, picks: [-2, 0, 2, 0] }, step: 1e-4 }).nu).toBe(3)
    // t at 0.975 and 3 degrees of freedom, GUM Table G.2.
    const { u: scatter, U } = finePicks({ fine: { ...fine, picks: [-2, 0, 2, 0] }, step: 1e-4 })
    expect(U / scatter).toBeCloseTo(3.182, 3)
  })

  it('in the last patch say only on which side the best one lies', () => {
    const found = (picks: number[], patches: number) => finePicks({ fine: { ...fine, picks, patches }, step: 1e-4 })
    expect(found([2, 1], 5).reason).toContain('at least 1.5 patches more feed')
    expect(found([-2, -1], 5).reason).toContain('at least 1.5 patches less feed')
    // A pattern of three patches ends at 1; one of a single patch has no side.
    expect([found([1], 3).use, found([0], 1).use]).toEqual(['last-patch', 'used'])
  })

  it('are held against the correction in the printer: what a profile says, or what a printer that is told a length holds', () => {
    const use = (more: Partial<FeedInput>) => reckon([], { fine, step: 1e-4, ...more }).fine!.use
    expect(use({ applied: 0.001, held: ok(0.02) })).toBe('used')
    const told = { entry: 'measured-length', patternLength: 1, lengthStep: 1e-4 } as const
    expect([use({ ...told, applied: 0.02, held: ok(0.001) }), use({ ...told, applied: 0.001, held: ok(0.02) })]).toEqual([
      'used',
      'stale',
    ])
  })

  it('printed at another correction than the checks ask for are stale', () => {
    const { fine: found, wanted, combined } = reckon([check(1000, 1000, 0.15)], { fine, step: 1e-4 })
    expect(found!.use).toBe('stale')
    expect(found!.reason).toBe("they were printed at +0.1 %, and today's correction is +0.15 %")
    expect(wanted!.correction).toBe(combined!.correction)
  })

  // A pattern of 11 patches goes from -5 to +5; a patch here is 0.0394 % of the advance.
  const onPattern = (picks: number[], more: Partial<FinePicks> = {}) =>
    reckon([check(1000, 1000, 0.1)], { fine: { ...fine, picks, patches: 11, ...more }, step: 1e-4, applied: 0.001 })

  it('beyond the pattern, in the last patch, uneven or of another mode count for nothing: the checks alone are asked', () => {
    for (const [picks, use] of [
      [[9, 9, 9], 'beyond'],
      [[0, -5.5, 0], 'beyond'],
      [[5, 5, 5], 'last-patch'],
      [[-5, -4, -4], 'last-patch'],
      [[-4, 0, 4], 'uneven'],
      [[0, 2.5], 'uneven'],
    ] as const) {
      const { fine: found, wanted, combined } = onPattern([...picks])
      expect(found!.use).toBe(use)
      expect(wanted!.correction).toBe(combined!.correction)
      expect(wanted!.U).toBe(combined!.U)
    }
    const { fine: found, wanted, combined } = onPattern([1, 1, 1], { otherMode: 'they were printed in quick' })
    expect(found).toMatchObject({ use: 'other-mode', reason: 'they were printed in quick' })
    expect(wanted!.correction).toBe(combined!.correction)
    expect(onPattern([0, 2, 1]).fine!.use).toBe('used')
    const rows = ['left', 'middle', 'right']
    expect(onPattern([0, -9, 0], { rows }).fine!.reason).toContain('-9 in the middle row is no patch of the pattern')
    expect(onPattern([-2, 1, 0], { rows }).fine!.reason).toContain('by 3 patches across the web (left -2, middle +1), and')
    expect(onPattern([5, 4, 5], { rows }).fine!.reason).toContain('a pick in the last patch (left, right) says only')
    expect(onPattern([4, 4.5, 4], { older: true }).fine!.use).not.toBe('last-patch')
  })

  // One check of 1 m to 1 mm with a class II rule knows 0.098 % (95 %), picks all alike 0.022 %: together 0.1006 %, which is 2.55 patches.
  it('that contradict the ruler by more than both can be wrong leave no number, and a little less is agreement', () => {
    const apart = onPattern([4.5, 4.5, 4.5])
    expect(apart.fine!.use).toBe('disagrees')
    expect(apart).toMatchObject({ wanted: undefined, keyIn: undefined, agreement: undefined })
    expect(apart.proof?.set).toBeUndefined()
    const together = onPattern([3, 3, 3])
    expect(together.fine!.use).toBe('used')
    const limit = Math.hypot(together.combined!.U, together.fine!.U)
    expect(together.fine!.contribution).toBeLessThan(limit)
    expect(apart.fine!.contribution).toBeGreaterThan(limit)
  })

  it('are stale where a check made after them asks for something else', () => {
    const later = (older: boolean) =>
      reckon([check(1000, 998, 0.1)], { fine: { ...fine, picks: [0, 0], older }, step: 1e-4, applied: 0.001 })
    expect(later(true).fine!.use).toBe('stale')
    expect(later(true).wanted!.correction).toBe(later(true).combined!.correction)
    expect(later(false).fine!.use).toBe('disagrees')
    expect(later(false).wanted).toBeUndefined()
  })

  it('alone serve before and after they are keyed in', () => {
    for (const applied of [0.001, 0.00159])
      expect(reckon([], { fine, step: 1e-4, applied }).wanted!.correction).toBeCloseTo(0.001590551, 9)
    expect(reckon([], { fine, step: 1e-4, applied: 0.003 }).wanted).toBeUndefined()
  })

  it('that make no sense are reported', () => {
    for (const bad of [{ picks: [] }, { picks: [Number.NaN] }, { step: 0 }, { advancePerPass: -1 }, { applied: 2 }])
      expect(reckon([check(1000, 1000)], { fine: { ...fine, ...bad } }).fine).toMatchObject({
        use: 'unusable',
        reason: expect.any(String),
      })
  })
})

describe('keying in', () => {
  it('rounds to the step and tells what is left: positive prints long', () => {
    const rounded = keyIn({ wanted: 0.0012345, rules: { entry: 'percent', step: 0.0001 } })
    expect(rounded.value).toBe(0.0012)
    expect(rounded.left).toBeCloseTo(1.0012 / 1.0012345 - 1, 15)
    expect(rounded.left * 1e3).toBeCloseTo(-0.0345, 4) // mm per metre
    expect(keyIn({ wanted: -0.00126, rules: { entry: 'percent', step: 0.0001 } }).value).toBe(-0.0013)
    expect(keyIn({ wanted: 0.0012345, rules: { entry: 'percent' } })).toMatchObject({ value: 0.0012345, left: 0 })
  })

  it('never offers what the printer does not take', () => {
    const rules = { entry: 'percent', step: 0.0001, range: [-0.01, 0.01] } as const
    const refused = keyIn({ wanted: 0.023, rules })
    expect(refused.value).toBeUndefined()
    expect(refused.reason).toBe('the correction wanted is 2.3 %, and the printer takes -1 % to 1 %')
    expect(keyIn({ wanted: 0.00998, rules: { ...rules, step: 0.003 } }).value).toBeCloseTo(0.009, 12)
  })

  // A printer told M for its pattern P works out (1 + applied)·P/M − 1: here 1.001 · 0.5 / M − 1 = 0.003.
  it('tells the printer the measured length that makes it arrive at the correction', () => {
    const told = keyIn({ wanted: 0.003, rules: { entry: 'measured-length', patternLength: 0.5, held: ok(0.001) } })
    expect(told.value).toBeCloseTo((0.5 * 1.001) / 1.003, 15)
    expect((1.001 * 0.5) / told.value! - 1).toBeCloseTo(0.003, 15)
    expect(told.correction).toBeCloseTo(0.003, 15)
  })

  // 0 is a guess like any other: with 0.21 % in the machine, 997.9 mm keyed in for 1 m would make 0.42 % of it.
  it('tells it nothing where nobody knows what it holds', () => {
    const rules = { entry: 'measured-length', patternLength: 1 } as const
    expect(keyIn({ wanted: 0.0021, rules })).toMatchObject({ value: undefined, reason: expect.stringContaining('holds') })
    const asked = keyIn({ wanted: 0.0021, rules: { ...rules, held: refuse('held', 'ask the night shift') } })
    expect(asked).toMatchObject({ value: undefined, reason: 'ask the night shift' })
    expect((1.0021 * 1) / 0.9979 - 1).toBeCloseTo(0.00421, 5)
    expect(keyIn({ wanted: 0.0021, rules: { ...rules, held: ok(0.0021) } }).value).toBeCloseTo(1, 15)
  })

  it('tells it what was measured, where one check of that pattern is all there is', () => {
    const result = reckon([check(500, 499.4, 0.1)], {
      entry: 'measured-length',
      patternLength: 0.5,
      held: ok(0.001),
      lengthStep: 1e-4,
    })
    expect(result.keyIn!.value).toBeCloseTo(0.4994, 12)
  })

  it('rounds a length to its step, and keeps the correction that follows inside the range', () => {
    const rules = { entry: 'measured-length', patternLength: 0.5, held: ok(0), lengthStep: 1e-3, range: [-0.01, 0.01] } as const
    const told = keyIn({ wanted: 0.0099, rules })
    expect(told.value).toBe(0.496)
    expect(told.correction).toBeCloseTo(0.5 / 0.496 - 1, 12)
    expect(told.correction).toBeLessThanOrEqual(0.01)
    expect(keyIn({ wanted: 0.001, rules: { entry: 'measured-length' } })).toMatchObject({
      value: undefined,
      reason: expect.stringContaining('pattern'),
    })
  })

  it('says whether the correction in the printer will do', () => {
    const agreement = (applied: number) => reckon([check(1000, 999)], { applied, step: 1e-4 }).agreement!
    expect(agreement(0.001)).toMatchObject({ withinU: true, asKeyedIn: true })
    expect(agreement(0.0012)).toMatchObject({ withinU: true, asKeyedIn: false })
    expect(agreement(0.01).withinU).toBe(false)
    expect(agreement(0.01).lengthError).toBeCloseTo(1.01 * 0.999 - 1, 12)
    expect(reckon([check(1000, 999)]).agreement).toBeUndefined()
  })
})

describe('the chance of a print within a tolerance', () => {
  const sensor = { division: 0.01e-3, limitOfError: { a: 0.05e-3, b: 0.1e-3 } }
  const checks = [0, 1, 2, 3].map((i) => check(2000, 2000 + 0.02 * i, 0.18, sensor))
  const tolerance = 5e-4
  const asSet = (applied: number, more: Partial<FeedInput> = {}) =>
    reckon(checks, { tolerance, applied, step: 1e-4, ...more }).proof!

  it('is that of what is set, and falls with what is off', () => {
    const [at, near, far] = [asSet(0.0018), asSet(0.0021), asSet(0.0028)].map(({ set }) => set!.print)
    expect(at).toBeGreaterThan(0.95)
    expect(near).toBeLessThan(at!)
    expect(far).toBeLessThan(0.05)
    expect(asSet(0.0021).keyedIn!.print).toBeCloseTo(at!, 6)
  })

  // The misuse: the uncertainty of the mean alone, which forgets that each print scatters too.
  it('is of a print, which scatters, and not of the mean of many', () => {
    const { set, best } = asSet(0.0018)
    expect(set!.print).toBeLessThan(set!.mean)
    expect(set!.print).toBeLessThan(best)
  })

  it('is on what the printer holds, where it is told a length', () => {
    const told = { entry: 'measured-length', patternLength: 2, lengthStep: 1e-5 } as const
    const chance = (applied: number, held: number) => asSet(applied, { ...told, held: ok(held) }).set!.print
    expect(chance(0.02, 0.0018)).toBeGreaterThan(0.95)
    expect(chance(0.0018, 0.02)).toBeLessThan(0.01)
  })

  it('is none without a check, without a tolerance, and where nobody knows what is set', () => {
    const fine = { picks: [0, 0, 0], step: 2e-6, advancePerPass: 3.16e-3, applied: 0.0018 }
    expect(reckon(checks).proof).toBeUndefined()
    expect(reckon([], { tolerance, fine, applied: 0.0018 }).proof).toBeUndefined()
    expect(reckon(checks, { tolerance }).proof!.set).toBeUndefined()
  })

  it('asks for another number only where that would be good enough and what is set is not', () => {
    const stays = (applied: number) => reckon(checks, { tolerance, applied, step: 1e-4 }).agreement!.mayStay
    expect([stays(0.0019), stays(0.0022)]).toEqual([true, false])
  })

  // What the picks leave open is theirs, and contains no check (GUM 5.1).
  it('leaves the number of fine picks to the picks, and lengths to the ruler', () => {
    const fine = { picks: [0, 0, 0], step: 2e-6, advancePerPass: 3.16e-3, applied: 0.0018 }
    const both = reckon(checks, { tolerance, applied: 0.0018, step: 1e-4, fine })
    expect(both.wanted!.U).toBe(both.fine!.U)
    expect(both.proof!.set!.print).toBe(asSet(0.0018).set!.print)
  })
})

describe('refusals', () => {
  it('name the number of the shop or the printer that is at fault', () => {
    const refuses = (more: Partial<FeedInput>) =>
      refusal(reckonFeed({ checks: [check(1, 1)], entry: 'percent', referenceTemperature: 20, ...more })).input
    expect(refuses({ checks: [] })).toBe('checks')
    expect(refuses({ referenceTemperature: Number.NaN })).toBe('referenceTemperature')
    expect(refuses({ coverage: 1 })).toBe('coverage')
    expect(refuses({ step: 0 })).toBe('step')
    expect(refuses({ tolerance: -1 })).toBe('tolerance')
    expect(refuses({ applied: 3 })).toBe('applied')
    expect(refuses({ range: [0.01, -0.01] })).toBe('range')
    expect(refuses({ patternLength: 0 })).toBe('patternLength')
    expect(refuses({ lengthStep: Number.POSITIVE_INFINITY })).toBe('lengthStep')
  })
})
