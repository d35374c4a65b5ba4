// Measured lengths: rule classes, temperature, budgets and the pattern a tolerance asks for.
import fc from 'fast-check'
import { all, create } from 'mathjs'
import { describe, expect, it } from 'vitest'
import * as measurement from '../../server/src/calc/measurement.ts'
import { exactly } from '../../server/src/calc/range.ts'
import { combine, expand } from '../../server/src/calc/uncertainty.ts'
import { runs } from '../support/counts.ts'
import { must, numbersIn, refusal } from './must.ts'

const { ruleClasses } = measurement
type RuleClass = keyof typeof ruleClasses
/** 1/K (GUM H.1). */
const steelExpansion = 11.5e-6
const math = create(all!, { number: 'BigNumber', precision: 40 })
const measure = (m: measurement.Measurement, reference = 20) =>
  must(measurement.measuredLength({ measurement: m, referenceTemperature: reference }))
const limit = (ruleClass: RuleClass, length: number, hook = false) =>
  measure({ measured: length, limitOfError: ruleClasses[ruleClass], hook }).parts.find((p) => p.cause === 'limit-of-error')!
    .basis * 1e3
const part = (m: measurement.MeasuredLength, cause: measurement.LengthCause) =>
  Math.abs(m.parts.find((p) => p.cause === cause)?.u ?? 0)

describe('limit of error', () => {
  // UK SI 2016/1153, Schedule 1I, Table 1; mm at 1, 1.4, 2 and 5 m.
  it.each([
    ['I', 0.2, 0.3, 0.3, 0.6],
    ['II', 0.5, 0.7, 0.7, 1.3],
    ['III', 1.0, 1.4, 1.4, 2.6],
  ] as const)('of class %s', (ruleClass, at1, at14, at2, at5) => {
    expect([1, 1.4, 2, 5].map((length) => limit(ruleClass, length))).toEqual(
      [at1, at14, at2, at5].map((v) => expect.closeTo(v, 12)),
    )
  })

  // The misuse: L not rounded up gives 0.58 mm for class II over 1.4 m; and forgetting the hook.
  it('counts metres rounded up, and the hook where it is used', () => {
    expect(limit('II', 1.4)).toBeCloseTo(0.7, 12)
    expect(limit('II', 1.4, true)).toBeCloseTo(0.9, 12)
    expect(limit('II', 0.1 + 0.2 + 0.7)).toBeCloseTo(0.5, 12)
  })

  // Relative standard uncertainty MPE/√3/L in ppm, by hand.
  it.each([
    ['I', 0.5, 231],
    ['I', 1, 115],
    ['I', 2, 87],
    ['II', 0.5, 577],
    ['II', 1, 289],
    ['II', 2, 202],
    ['III', 1, 577],
  ] as const)('of class %s over %d m is %d ppm', (ruleClass, length, ppm) => {
    const m = measure({ measured: length, limitOfError: ruleClasses[ruleClass] })
    expect(Math.abs((part(m, 'limit-of-error') / length) * 1e6 - ppm)).toBeLessThan(0.51)
  })
})

describe('reference temperature', () => {
  // Steel, 11.5e-6 per K (GUM H.1): a rule 10 K hot reads a metre 0.115 mm short, so the correction is added.
  it('adds to what a hot rule reads, which is short', () => {
    const m = measure({ measured: 1, ruleExpansion: steelExpansion, ruleTemperature: 30 })
    expect((m.length - 1) * 1e3).toBeCloseTo(0.115, 9)
    expect(measure({ measured: 1, ruleExpansion: steelExpansion, ruleTemperature: 10 }).length).toBeLessThan(1)
  })

  // PVC 70e-6 (Crawford, Plastics Engineering, Table 1.8) and a steel rule, both 10 K hot; exact value by mathjs at 40 digits.
  it('brings rule and web back together', () => {
    const m = measure({
      measured: 1,
      ruleExpansion: steelExpansion,
      ruleTemperature: 30,
      webExpansion: exactly(70e-6),
      webTemperature: 30,
    })
    const exact = Number(math.evaluate('1000 * (1 + 0.0000115 * 10) / (1 + 0.00007 * 10)').toString())
    expect(m.length * 1e3).toBeCloseTo(exact, 9)
    expect(m.length * 1e3).toBeCloseTo(999.41541, 5)
    expect(m.steps.map((s) => s.cause)).toEqual(['rule-temperature', 'web-temperature'])
  })

  // Per metre at 22 degC, measured at 45 degC. Tuning the feed to a warm print would be wrong by this much.
  it.each([
    ['PVC', 70e-6, 1.61],
    ['PET film', 17e-6, 0.391],
    ['PP', 100e-6, 2.3],
  ])('takes the heat out of %s', (_, alpha, mm) => {
    const warm = 1 + mm * 1e-3
    const m = measure({ measured: warm, webExpansion: exactly(alpha), webTemperature: 45 }, 22)
    expect(m.length).toBeCloseTo(1, 12)
    expect(m.steps[0]!.change * 1e3).toBeCloseTo(-mm, 12)
  })

  // A rectangle of 8 K either way has the variance 8²/3 (GUM 4.3.7), however it is shared out; all of it shared would keep twelve checks as unsure as one.
  it('shares half of what is not known of a web that nobody measured, and keeps the other half to the check', () => {
    const m = measure({ measured: 1, webExpansion: exactly(70e-6), webBetween: [20, 36] })
    const webs = m.parts.filter((p) => p.cause === 'web-temperature')
    expect(webs.map((p) => p.kind)).toEqual(['systematic', 'random'])
    expect(webs[0]!.u).toBe(webs[1]!.u)
    expect(Math.hypot(...webs.map((p) => p.u))).toBeCloseTo(((8 * 70e-6) / Math.sqrt(3)) * m.length, 12)
    const read = measure({ measured: 1, webExpansion: exactly(70e-6), webTemperature: 28 })
    expect(read.parts.filter((p) => p.cause === 'web-temperature').map((p) => p.kind)).toEqual(['systematic'])
  })

  // The misuse: bulk resin data (PET 90e-6) for biaxial film (17e-6) corrects five times too much.
  it('carries the range of an expansion into the uncertainty', () => {
    const film = measure({
      measured: 1,
      webExpansion: { low: 15e-6, typical: 17e-6, high: 20e-6 },
      webTemperature: 40,
      webTemperatureUncertainty: 1,
    })
    expect(part(film, 'web-expansion')).toBeCloseTo(((20 * 2.5e-6) / Math.sqrt(3)) * film.length, 12)
    const resin = measure({ measured: 1, webExpansion: { low: 15e-6, typical: 17e-6, high: 90e-6 }, webTemperature: 40 })
    expect(part(resin, 'web-expansion')).toBeGreaterThan(10 * part(film, 'web-expansion'))
  })

  it('relaxes a web measured under tension', () => {
    const m = measure({ measured: 1.002, tensionStrain: { low: 0.001, typical: 0.002, high: 0.003 } })
    expect(m.length).toBeCloseTo(1, 12)
    expect(part(m, 'tension')).toBeCloseTo(0.001 / Math.sqrt(3), 9)
  })

  it('leaves a reading at the reference temperature as it is', () => {
    expect(measure({ measured: 0.4994, webExpansion: exactly(70e-6), webTemperature: 23 }, 23)).toMatchObject({
      length: 0.4994,
      steps: [],
    })
  })
})

// 1 m, class II, 0.5 mm division, 5 repeats with s = 0.15 mm, rule and PVC web known to ± 2 K; by SciPy.
/** The half-width of a 95 % interval in standard deviations of a normal (JCGM 100:2008, Table G.1). */
const K95 = 1.959963984540054

describe('full budget', () => {
  const m = measure({
    measured: 1,
    division: 0.5e-3,
    limitOfError: ruleClasses.II,
    ruleExpansion: steelExpansion,
    ruleTemperature: 20,
    webExpansion: exactly(70e-6),
    webTemperature: 20,
  })

  it('has the parts', () => {
    expect(part(m, 'reading') * 1e3).toBeCloseTo(0.2041, 4)
    expect(part(m, 'limit-of-error') * 1e3).toBeCloseTo(0.2887, 4)
    expect(part(m, 'rule-temperature') * 1e3).toBeCloseTo(0.0133, 4)
    expect(part(m, 'web-temperature') * 1e3).toBeCloseTo(0.0808, 4)
  })

  it('adds up to 0.3691 mm, U = 0.738 mm at k = 2, about 3665 degrees of freedom', () => {
    const repeat = { name: 'repeat', u: 0.15e-3 / Math.sqrt(5), nu: 4 }
    const total = must(combine({ contributions: [repeat, ...m.parts.map((p) => ({ name: p.cause, u: Math.abs(p.u) }))] }))
    expect(total.u * 1e3).toBeCloseTo(0.3691, 4)
    expect(Math.abs(total.nuEffective - 3665)).toBeLessThan(5)
    const { k, U } = must(expand({ u: total.u, nu: total.nu, coverage: 0.954499736 }))
    expect(k).toBeCloseTo(2, 2)
    expect(U * 1e3).toBeCloseTo(0.738, 3)
  })

  it('says what it had to assume', () => {
    expect(measure({ measured: 1 }).parts.map((p) => [p.cause, p.assumed])).toEqual([
      ['reading', true],
      ['limit-of-error', true],
    ])
    expect(m.parts.filter((p) => p.assumed).map((p) => p.cause)).toEqual(['rule-temperature', 'web-temperature'])
  })

  it('takes the reader at their word for the reading, and not for the rule', () => {
    const stated = measure({ measured: 1, statedUncertainty: 0.3e-3, division: 1e-3, limitOfError: ruleClasses.I })
    expect(part(stated, 'reading')).toBeCloseTo(0.3e-3 / K95, 12)
    expect(part(stated, 'limit-of-error')).toBeCloseTo(0.2e-3 / Math.sqrt(3), 12)
    expect(stated.parts.some((p) => p.assumed)).toBe(false)
  })

  // By hand: 70 ppm/K over a metre known to 1 K is 70 µm, 11.5 ppm/K is 11.5 µm; what is written with ± is a 95 % interval.
  it('takes temperatures to be known as well as is said', () => {
    const known = measure({
      measured: 1,
      ruleExpansion: steelExpansion,
      ruleTemperatureUncertainty: 1,
      webExpansion: exactly(70e-6),
      webTemperatureUncertainty: 1,
    })
    expect(part(known, 'rule-temperature')).toBeCloseTo(11.5e-6 / K95, 12)
    expect(part(known, 'web-temperature')).toBeCloseTo(70e-6 / K95, 12)
  })
})

describe('required pattern', () => {
  const required = (ruleClass: RuleClass, tolerance: number, coverage = 0.95) =>
    must(
      measurement.requiredPattern({
        measurement: { division: 0.5e-3, limitOfError: ruleClasses[ruleClass] },
        referenceTemperature: 20,
        tolerance,
        coverage,
      }),
    )

  it('is where U just meets the tolerance, and nothing shorter does', () => {
    for (const ruleClass of ['I', 'II', 'III'] as const)
      for (const tolerance of [2e-3, 1e-3, 7e-4]) {
        const { length } = required(ruleClass, tolerance)
        if (length === undefined) continue
        const U = (l: number) => {
          const m = measure({ measured: l, division: 0.5e-3, limitOfError: ruleClasses[ruleClass] })
          return (1.959963984540054 * m.u) / m.length
        }
        expect(U(length)).toBeLessThanOrEqual(tolerance * (1 + 1e-9))
        for (let l = 0.02; l < length - 1e-6; l += length / 200) expect(U(l)).toBeGreaterThan(tolerance)
      }
  })

  it('is found up to the longest that can be printed', () => {
    const input = { measurement: { limitOfError: ruleClasses.II }, referenceTemperature: 20, tolerance: 1e-3 }
    const { length } = must(measurement.requiredPattern(input))
    expect(must(measurement.requiredPattern({ ...input, longest: length! })).length).toBe(length)
    expect(must(measurement.requiredPattern({ ...input, longest: length! * 0.999 })).length).toBeUndefined()
  })

  // By hand: a strain of 0.5 ± 0.1 leaves a metre of pattern uncertain by 0.1/√3 of itself, however long it is.
  it('proves nothing below the share that grows with the length', () => {
    const { floor, length } = must(
      measurement.requiredPattern({
        measurement: { limitOfError: { a: 1e-4, b: 0 }, tensionStrain: { low: 0.4, typical: 0.5, high: 0.6 } },
        referenceTemperature: 20,
        tolerance: 0.11,
      }),
    )
    expect(floor).toBeCloseTo((1.959963984540054 * 0.1) / Math.sqrt(3), 9)
    expect(length).toBeUndefined()
  })

  it('is longer by what the hook adds where the rule is used by its hook', () => {
    const input = { division: 0.5e-3, limitOfError: ruleClasses.II, hook: true }
    const { length } = must(measurement.requiredPattern({ measurement: input, referenceTemperature: 20, tolerance: 1e-3 }))
    const m = measure({ measured: length!, ...input })
    expect((1.959963984540054 * m.u) / m.length).toBeCloseTo(1e-3, 9)
    expect(length).toBeGreaterThan(required('II', 1e-3).length!)
  })

  // A quarter of a 720 dpi pitch on a 25.4 mm advance is 347 ppm: a class II rule of a metre cannot prove it, its own part alone is 577 ppm.
  it('is beyond a class II rule where a class I rule over more than a metre does', () => {
    const one = required('I', 347e-6)
    expect(one.length).toBeGreaterThan(1)
    expect(one.length).toBeLessThan(2)
    expect(required('II', 347e-6).length).toBeGreaterThan(2)
  })

  it('does not exist below what no length removes', () => {
    const { length, floor } = required('III', 2e-4)
    expect(length).toBeUndefined()
    expect(floor).toBeCloseTo((1.95996 * 0.4e-3) / Math.sqrt(3), 7)
  })

  it('refuses a tolerance of zero', () => {
    const input = { measurement: {}, referenceTemperature: 20, tolerance: 0 }
    expect(refusal(measurement.requiredPattern(input)).input).toBe('tolerance')
  })
})

describe('any measurement', () => {
  const maybe = fc.option(fc.oneof(fc.double(), fc.double({ min: 0, max: 1 })), { nil: undefined })
  const range = fc.option(fc.record({ low: fc.double(), typical: fc.double(), high: fc.double() }), { nil: undefined })
  const any = fc.record({
    measured: fc.oneof(fc.double(), fc.double({ min: 0.1, max: 10 })),
    division: maybe,
    statedUncertainty: maybe,
    limitOfError: fc.option(fc.record({ a: fc.double(), b: fc.double() }), { nil: undefined }),
    ruleExpansion: maybe,
    ruleTemperature: maybe,
    webExpansion: range,
    webTemperature: maybe,
    tensionStrain: range,
  })

  it('gives finite numbers or a refusal that names an input', () => {
    fc.assert(
      fc.property(any, fc.double(), fc.double(), (m, reference, tolerance) => {
        const result = measurement.measuredLength({ measurement: m, referenceTemperature: reference })
        if (result.ok) expect(numbersIn(result.value).every(Number.isFinite)).toBe(true)
        else expect(['referenceTemperature', ...Object.keys(m)]).toContain(result.problem.input)
        const pattern = measurement.requiredPattern({ measurement: m, referenceTemperature: reference, tolerance })
        if (pattern.ok) expect(numbersIn(pattern.value).every(Number.isFinite)).toBe(true)
      }),
      { numRuns: runs(2000) },
    )
  })

  it('names what is wrong', () => {
    expect(refusal(measurement.measuredLength({ measurement: { measured: 0 }, referenceTemperature: 20 })).input).toBe('measured')
    expect(refusal(measurement.measuredLength({ measurement: { measured: 5000 }, referenceTemperature: 20 })).input).toBe(
      'measured',
    )
    expect(
      refusal(measurement.measuredLength({ measurement: { measured: 1, division: 0 }, referenceTemperature: 20 })).input,
    ).toBe('division')
    expect(
      refusal(
        measurement.measuredLength({ measurement: { measured: 1, limitOfError: { a: -1, b: 0 } }, referenceTemperature: 20 }),
      ).input,
    ).toBe('limitOfError')
    const noNumber = { measured: 1, limitOfError: { a: 0, b: Number.NaN } }
    expect(refusal(measurement.measuredLength({ measurement: noNumber, referenceTemperature: 20 })).input).toBe('limitOfError')
  })
})
