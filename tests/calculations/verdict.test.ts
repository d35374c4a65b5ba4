// What stands beside and behind a verdict: normal probabilities, decisions at a limit, ranges as shifts, textbook scatters, gains, and the next prints.
import { describe, expect, it } from 'vitest'
import { conformanceProbability, guardBand } from '../../server/src/calc/conformance.ts'
import { correctionOfGain, gainLimits } from '../../server/src/calc/feed-gain.ts'
import { bestProbability, probabilityWithin } from '../../server/src/calc/feed-verdict.ts'
import { nextPrints, verdictHelp } from '../../server/src/calc/next-prints.ts'
import { normalBetween, normalBeyond, normalCdf, normalQuantile } from '../../server/src/calc/normal.ts'
import { provableTolerance } from '../../server/src/calc/provable.ts'
import { randomEffects } from '../../server/src/calc/random-effects.ts'
import type { ScatterInput } from '../../server/src/calc/scatter-average.ts'
import { scatterMixture } from '../../server/src/calc/scatter-mixture.ts'
import { shiftOfRange } from '../../server/src/calc/two-piece.ts'
import { must, refusal } from './must.ts'

describe('the normal distribution', () => {
  // scipy.special.ndtr (1.17); the tail of -10 is that of Abramowitz & Stegun, Table 26.2, as well.
  it.each([
    [-37, 5.725571222524577e-300],
    [-10, 7.61985302416052e-24],
    [-5, 2.8665157187919333e-7],
    [-1.959963984540054, 0.025],
    [-0.5, 0.3085375387259869],
    [0, 0.5],
    [0.6, 0.7257468822499265],
    [3, 0.9986501019683699],
  ])('P(Z <= %d)', (z, p) => {
    expect(normalCdf(z) / p).toBeCloseTo(1, 12)
    expect(normalBeyond(Math.abs(z)) / (2 * Math.min(p, 1 - p))).toBeCloseTo(1, 10)
  })

  it('loses no digits far out, where a difference of probabilities near 1 would', () => {
    expect(normalBetween(9, 10) / (normalCdf(-9) - normalCdf(-10))).toBeCloseTo(1, 12)
    expect(normalCdf(10) - normalCdf(9)).toBe(0)
  })

  it('has quantiles that undo its probabilities', () => {
    for (const p of [1e-12, 0.001, 0.025, 0.3, 0.5, 0.9, 0.975, 0.999999])
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 12)
  })
})

describe('conformity', () => {
  // JCGM 106:2012, 7.4 (from memory), and two more intervals; recomputed with scipy.
  it.each([
    [13.6, 1.8, 12.5, 16.3, 0.66263],
    [-5.4, 0.05, -5.47, Number.POSITIVE_INFINITY, 0.919243],
    [490, 8.6, Number.NEGATIVE_INFINITY, 509.7, 0.98901],
  ])('of %d ± %d', (value, u, low, high, p) => {
    expect(must(conformanceProbability({ value, u, low, high }))).toBeCloseTo(p, 5)
  })

  // JCGM 106:2012, 8.3.2.3: a guard band of 2u is a risk of 2.3 %; ISO 14253-1's 1.645u is one of 5 %.
  it('is sure beyond a guard band', () => {
    expect(must(guardBand({ u: 3, risk: normalCdf(-2) }))).toBeCloseTo(6, 12)
    expect(must(guardBand({ u: 1, risk: 0.05 }))).toBeCloseTo(1.6449, 4)
    expect(must(guardBand({ u: 1, risk: 0.5 }))).toBeCloseTo(0, 12)
    const g = must(guardBand({ u: 2, risk: 0.05 }))
    expect(must(conformanceProbability({ value: 10 - g, u: 2, low: Number.NEGATIVE_INFINITY, high: 10 }))).toBeCloseTo(0.95, 12)
  })

  it('is not told of what is no uncertainty, no limits or no risk', () => {
    expect(refusal(conformanceProbability({ value: 1, u: 0, low: 0, high: 2 })).input).toBe('u')
    expect(refusal(conformanceProbability({ value: Number.NaN, u: 1, low: 0, high: 2 })).input).toBe('value')
    expect(refusal(conformanceProbability({ value: 1, u: 1, low: 2, high: 0 })).input).toBe('limits')
    for (const risk of [0, 0.51, Number.NaN]) expect(refusal(guardBand({ u: 1, risk })).input).toBe('risk')
    expect(refusal(guardBand({ u: -1, risk: 0.1 })).input).toBe('u')
  })
})

describe('a range as a shift', () => {
  const shift = (low: number, typical: number, high: number) => must(shiftOfRange({ range: { low, typical, high } }))

  // By the formulas of K. F. Wallis (2014), worked with numpy.
  it('that is skewed', () => {
    const { shift: mean, u, floored } = shift(0.01, 0.03, 0.06)
    expect(mean).toBeCloseTo(0.034607, 6)
    expect(u).toBeCloseTo(0.014564, 6)
    expect(floored).toBe(false)
  })

  // The same distribution by its density, 2/(√(2π)(s₁ + s₂)) · exp(−(x − mode)²/2s²), summed.
  it('has the mean and the variance of its density', () => {
    const [s1, s2] = [0.02 / Math.sqrt(3), 0.03 / Math.sqrt(3)]
    let [all, first, second] = [0, 0, 0]
    for (let x = -0.2; x < 0.3; x += 1e-5) {
      const density = Math.exp(-0.5 * ((x - 0.03) / (x < 0.03 ? s1 : s2)) ** 2)
      all += density
      first += x * density
      second += x * x * density
    }
    const { shift: mean, u } = shift(0.01, 0.03, 0.06)
    expect(mean).toBeCloseTo(first / all, 6)
    expect(u).toBeCloseTo(Math.sqrt(second / all - (first / all) ** 2), 6)
  })

  it('is never surer than 30 % of itself, whatever its sign', () => {
    for (const sign of [1, -1]) {
      const ends = [0.09 * sign, 0.11 * sign].sort((a, b) => a - b)
      const { shift: mean, u, floored } = shift(ends[0]!, 0.1 * sign, ends[1]!)
      expect(mean).toBeCloseTo(0.1 * sign, 12)
      expect(u).toBeCloseTo(0.03, 12)
      expect(floored).toBe(true)
    }
    expect(shift(0, 0, 0)).toEqual({ shift: 0, u: 0, floored: false })
  })

  it('must be one', () => {
    expect(refusal(shiftOfRange({ range: { low: 2, typical: 1, high: 3 } })).input).toBe('range')
    expect(refusal(shiftOfRange({ range: { low: 0, typical: 1, high: Number.NaN } })).input).toBe('range')
  })
})

describe('textbook scatters', () => {
  // Thirteen trials of a vaccine: G. A. Colditz et al., JAMA 271 (1994) 698, ill and well among the vaccinated and the others (from memory). Log risk ratio.
  // Published in an open test suite: fixed -0.4303, Q 152.2330, DerSimonian-Laird -0.7141; the rest recomputed with scipy.
  const TRIALS = [
    [4, 119, 11, 128],
    [6, 300, 29, 274],
    [3, 228, 11, 209],
    [62, 13536, 248, 12619],
    [33, 5036, 47, 5761],
    [180, 1361, 372, 1079],
    [8, 2537, 10, 619],
    [505, 87886, 499, 87892],
    [29, 7470, 45, 7232],
    [17, 1699, 65, 1600],
    [186, 50448, 141, 27197],
    [5, 2493, 3, 2338],
    [27, 16886, 29, 17825],
  ] as const
  const values = TRIALS.map(([a, b, c, d]) => Math.log(a / (a + b) / (c / (c + d))))
  const u = TRIALS.map(([a, b, c, d]) => Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)))
  const trials = must(randomEffects({ values, u }))

  it('thirteen trials of a vaccine', () => {
    expect(trials.Q).toBeCloseTo(152.233, 3)
    expect(trials.derSimonianLaird.tau2).toBeCloseTo(0.30876, 6)
    expect(trials.derSimonianLaird.mean).toBeCloseTo(-0.714117, 6)
    expect(trials.derSimonianLaird.u).toBeCloseTo(0.178742, 6)
    expect(trials.mandelPaule.tau2).toBeCloseTo(0.318068, 6)
    expect(trials.mandelPaule.mean).toBeCloseTo(-0.714968, 6)
    expect(trials.mandelPaule.u).toBeCloseTo(0.180892, 6)
  })

  it('the mean that knows of no scatter is far too sure of itself', () => {
    expect(trials.fixed.mean).toBeCloseTo(-0.430285, 6)
    expect(trials.fixed.u).toBeCloseTo(0.040499, 6)
    expect(Math.abs(trials.fixed.mean - trials.derSimonianLaird.mean) / trials.fixed.u).toBeGreaterThan(7)
    expect(trials.derSimonianLaird.u / trials.fixed.u).toBeGreaterThan(4)
  })

  // Restricted maximum likelihood of the same trials (recomputed with scipy): tau² 0.313243, mean -0.714532, standard error 0.179782.
  it('the likelihood of the reckoning that integrates is highest where it should be', () => {
    const nodes = [0.2, 0.28, 0.30876, 0.313243, 0.318068, 0.35, 0.45].map((tau2) => ({
      tau: Math.sqrt(tau2),
      rho: 0,
      omega: 0,
      q: 0,
      logWeight: 0,
    }))
    const mixture = must(scatterMixture({ values: values.map((value, i) => ({ value, u: u[i]! })), nodes }))
    const { p, mean, u: uMean } = mixture.parts
    expect(p.indexOf(Math.max(...p))).toBe(3)
    expect(mean[3]).toBeCloseTo(-0.714532, 5)
    expect(uMean[3]).toBeCloseTo(0.179782, 5)
  })

  // Eight schools (A. Gelman et al., Bayesian Data Analysis, 5.5; data from memory): Q below n − 1, and both estimates are zero.
  it('are zero for eight schools', () => {
    const schools = must(randomEffects({ values: [28, 8, -3, 7, -1, 1, 18, 12], u: [15, 10, 16, 11, 9, 11, 10, 18] }))
    expect(schools.Q).toBeCloseTo(4.707079, 6)
    for (const one of [schools.derSimonianLaird, schools.mandelPaule]) {
      expect(one.tau2).toBe(0)
      expect(one.mean).toBeCloseTo(7.685617, 6)
      expect(one.u).toBeCloseTo(4.071919, 6)
    }
  })

  // Three estimates in percent, by hand and with scipy: 0.50 ± 0.02, 0.47 ± 0.02, 0.58 ± 0.06; Q 3.5.
  it('of three estimates', () => {
    const three = must(randomEffects({ values: [0.5, 0.47, 0.58], u: [0.02, 0.02, 0.06] }))
    expect(three.Q).toBeCloseTo(3.5, 10)
    expect(three.mandelPaule.tau2).toBeCloseTo(0.00103459, 8)
    expect(three.mandelPaule.mean).toBeCloseTo(0.497733, 6)
    expect(three.mandelPaule.u).toBeCloseTo(0.024923, 6)
    expect(three.derSimonianLaird.tau2).toBeCloseTo(0.000518182, 9)
  })

  it('take any unit, and refuse what has no scatter', () => {
    const tiny = must(randomEffects({ values: values.map((v) => v * 1e-9), u: u.map((v) => v * 1e-9) }))
    expect(tiny.mandelPaule.tau2 / 1e-18).toBeCloseTo(trials.mandelPaule.tau2, 10)
    expect(refusal(randomEffects({ values: [1], u: [1] })).input).toBe('values')
    expect(refusal(randomEffects({ values: [1, Number.NaN], u: [1, 1] })).input).toBe('values')
    expect(refusal(randomEffects({ values: [1, 2], u: [1, 0] })).input).toBe('u')
    expect(refusal(randomEffects({ values: [1, 2], u: [1] })).input).toBe('u')
    expect(refusal(randomEffects({ values: [1e200, -1e200], u: [1e-200, 1e-200] })).input).toBe('values')
  })
})

describe('gains', () => {
  it('are undone by their correction, and their uncertainty by its slope', () => {
    const { correction, u } = must(correctionOfGain({ gain: 0.998, u: 1e-4 }))
    expect(0.998 * (1 + correction)).toBeCloseTo(1, 14)
    const slope = (must(correctionOfGain({ gain: 0.998 + 1e-6, u: 0 })).correction - correction) / 1e-6
    expect(u / 1e-4).toBeCloseTo(Math.abs(slope), 4)
  })

  it('between their limits print within the tolerance', () => {
    const { low, high } = must(gainLimits({ set: 0.0024, tolerance: 0.0005 }))
    expect(low * 1.0024).toBeCloseTo(0.9995, 14)
    expect(high * 1.0024).toBeCloseTo(1.0005, 14)
  })

  it('refuse what is none', () => {
    expect(refusal(correctionOfGain({ gain: 0, u: 1 })).input).toBe('gain')
    expect(refusal(gainLimits({ set: -1, tolerance: 0.1 })).input).toBe('set')
    expect(refusal(gainLimits({ set: 0, tolerance: 0 })).input).toBe('tolerance')
  })
})

describe('the next prints', () => {
  // Fractions: a sensor of 0.01 mm over 1 m, and a class II rule read to half a millimetre.
  const SENSOR = { u: 0.0408e-4, shared: [{ cause: 'sensor', u: 0.866e-4 }] }
  const RULE = { u: 2.0412e-4, shared: [{ cause: 'rule', u: 2.8868e-4 }] }
  const values = (option: typeof SENSOR, ...percents: number[]) => percents.map((value) => ({ value: value / 100, ...option }))
  const around = (tolerance: number) => (value: number) => ({ low: value - tolerance, high: value + tolerance })
  const chances = (input: ScatterInput, option: typeof SENSOR, counts: number[], tolerance = 0.5e-3) =>
    must(nextPrints({ input, option, counts, limits: around(tolerance), goal: 0.95 })).map(({ chance }) => chance)

  it('help a steady printer with a sensor, the more the more there are', () => {
    const found = chances({ values: values(SENSOR, 0.15, 0.156) }, SENSOR, [1, 3, 8])
    expect(found[2]).toBeGreaterThan(0.6)
    expect(found[2]).toBeGreaterThan(found[0]!)
  })

  it('never help with a rule that cannot tell', () => {
    expect(chances({ values: values(RULE, 0.15, 0.152) }, RULE, [1, 8])).toEqual([0, 0])
  })

  it('help less where all of them are printed on one day', () => {
    const input = { values: values(SENSOR, 0.15, 0.156) }
    const of = (day: 'another' | 'one') =>
      must(nextPrints({ input, option: { ...SENSOR, day }, counts: [6], limits: around(0.5e-3), goal: 0.95 }))[0]!.chance
    expect(of('one')).toBeLessThan(of('another'))
  })

  // What is foreseen must come about as often as it is said: the printers are drawn from the prior, their chance before any check is that of all.
  it('come out as foreseen', () => {
    let seed = 7
    const random = () => {
      seed = (seed * 48271) % 2147483647
      return seed / 2147483647
    }
    const normal = () => normalQuantile(random())
    const read = (tau: number, error: number) => 1.5e-3 + tau * normal() + SENSOR.u * normal() + error
    let [foreseen, came, series] = [0, 0, 0]
    for (; series < 60; series++) {
      const tau = 2.23607e-4 * Math.exp(0.87 * normal())
      const error = 0.866e-4 * normal()
      const sensor = (value: number) => ({ value, ...SENSOR })
      const now = [sensor(read(tau, error)), sensor(read(tau, error))]
      foreseen += chances({ values: now }, SENSOR, [3])[0]!
      const then = must(scatterMixture({ values: [...now, ...[1, 2, 3].map(() => sensor(read(tau, error)))] }))
      if (must(probabilityWithin(then, then.value - 0.5e-3, then.value + 0.5e-3, { of: 'print' })) >= 0.95) came++
    }
    // Three standard deviations of a count of 60 at a third.
    expect(Math.abs(foreseen - came) / series).toBeLessThan(0.18)
    expect(foreseen / series).toBeGreaterThan(0.1)
    expect(foreseen / series).toBeLessThan(0.7)
  })

  it('are the same in every run', () => {
    const input = { values: values(SENSOR, 0.15), lotNow: 'a' }
    expect(chances(input, SENSOR, [2, 4])).toEqual(chances(input, SENSOR, [2, 4]))
  })

  it('refuse counts and goals that are none', () => {
    const input = { values: values(SENSOR, 0.15) }
    const refused = (counts: number[], goal = 0.95) =>
      refusal(nextPrints({ input, option: SENSOR, counts, limits: around(1e-3), goal })).input
    for (const counts of [[], [0], [1.5], [3, 2], [25]]) expect(refused(counts)).toBe('counts')
    expect(refused([1], 1)).toBe('goal')
    expect(refusal(nextPrints({ input: { values: [] }, option: SENSOR, counts: [1], limits: around(1), goal: 0.9 })).input).toBe(
      'values',
    )
  })

  it('are advised only where they help', () => {
    const help = (input: ScatterInput, tolerance: number) =>
      must(verdictHelp(must(scatterMixture(input)), { tolerance, goal: 0.95 }))
    const steady = { value: 0.01e-2, freedom: 20 }
    expect(help({ values: values(SENSOR, 0.1, 0.2, 0.0, 0.15) }, 0.5e-3)).toBe('scatters-too-much')
    expect(help({ values: values(RULE, 0.15), repeatability: steady }, 0.5e-3)).toBe('better-reading')
    expect(help({ values: values(SENSOR, 0.15), repeatability: steady }, 0.5e-3)).toBe('more-prints')
    const wild = must(scatterMixture({ values: values(SENSOR, 0.1, 0.2, 0.0, 0.15) }))
    expect(must(bestProbability(wild, 0.5e-3))).toBeLessThan(0.95)
    expect(refusal(verdictHelp(wild, { tolerance: -1, goal: 0.9 })).input).toBe('tolerance')
  })
})

describe('the tolerance that instruments can prove', () => {
  // Limits of Directive 2014/32/EU, Annex X, Table 1 (from memory): a class II rule of 1 m is true to 0.5 mm, u = 0.5/√3 mm; 95 % of a normal lie within 1.96 of it.
  const [CLASS_II, CLASS_I_2M] = [0.5e-3 / Math.sqrt(3), 0.3e-3 / 2 / Math.sqrt(3)]

  it('is 0.57 mm in a metre for a class II rule of 1 m, and 0.17 mm for a class I rule of 2 m', () => {
    expect(must(provableTolerance({ u: [CLASS_II], risk: 0.05 })) * 1e3).toBeCloseTo(0.5658, 4)
    expect(must(provableTolerance({ u: [CLASS_I_2M], risk: 0.05 })) * 1e3).toBeCloseTo(0.1697, 4)
    expect(must(provableTolerance({ u: [CLASS_II, CLASS_II], risk: 0.05 })) * 1e3).toBeCloseTo(0.5658 / Math.SQRT2, 4)
    expect(must(provableTolerance({ u: [CLASS_II, 0], risk: 0.05 }))).toBe(0)
  })

  it('is what two hundred prints of a feed that repeats all but perfectly come to', () => {
    const values = Array.from({ length: 200 }, (_, i) => {
      const rule = i % 2 === 0 ? { cause: 'a', u: CLASS_II } : { cause: 'b', u: CLASS_I_2M }
      return { value: 0, u: 2e-6, shared: [rule] }
    })
    const steady = { tau: 1e-7, rho: 0, omega: 0, q: 0, logWeight: 0 }
    const many = must(scatterMixture({ values, nodes: [steady], suspicion: false }))
    const best = must(provableTolerance({ u: [CLASS_II, CLASS_I_2M], risk: 0.1 }))
    expect(must(probabilityWithin(many, -best, best, { of: 'print' }))).toBeCloseTo(0.9, 3)
  })

  it('is none without an instrument, and for no risk', () => {
    expect(refusal(provableTolerance({ u: [], risk: 0.05 })).input).toBe('u')
    expect(refusal(provableTolerance({ u: [-1], risk: 0.05 })).input).toBe('u')
    for (const risk of [0, 1, Number.NaN]) expect(refusal(provableTolerance({ u: [1e-3], risk })).input).toBe('risk')
  })
})
