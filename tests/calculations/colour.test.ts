// Colour differences, checked with the published test data of the formula's authors, and with the wrong forms that the data were made to catch.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { deltaE2000, type Lab, spreadOfDifferences } from '../../server/src/calc/colour.ts'
import { answer } from './hostile.ts'

/**
 * Sharma, Wu and Dalal, Color Res. Appl. 30 (2005) 21-30, Table 1: L1 a1 b1, L2 a2 b2, CIEDE2000. Pairs 1 to 24 published, by way of an open test
 * program; pairs 25 to 34 from memory.
 */
const TABLE_1: readonly (readonly number[])[] = [
  [50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425],
  [50, 3.1571, -77.2803, 50, 0, -82.7485, 2.8615],
  [50, 2.8361, -74.02, 50, 0, -82.7485, 3.4412],
  [50, -1.3802, -84.2814, 50, 0, -82.7485, 1],
  [50, -1.1848, -84.8006, 50, 0, -82.7485, 1],
  [50, -0.9009, -85.5211, 50, 0, -82.7485, 1],
  [50, 0, 0, 50, -1, 2, 2.3669],
  [50, -1, 2, 50, 0, 0, 2.3669],
  [50, 2.49, -0.001, 50, -2.49, 0.0009, 7.1792],
  [50, 2.49, -0.001, 50, -2.49, 0.001, 7.1792],
  [50, 2.49, -0.001, 50, -2.49, 0.0011, 7.2195],
  [50, 2.49, -0.001, 50, -2.49, 0.0012, 7.2195],
  [50, -0.001, 2.49, 50, 0.0009, -2.49, 4.8045],
  [50, -0.001, 2.49, 50, 0.001, -2.49, 4.8045],
  [50, -0.001, 2.49, 50, 0.0011, -2.49, 4.7461],
  [50, 2.5, 0, 50, 0, -2.5, 4.3065],
  [50, 2.5, 0, 73, 25, -18, 27.1492],
  [50, 2.5, 0, 61, -5, 29, 22.8977],
  [50, 2.5, 0, 56, -27, -3, 31.903],
  [50, 2.5, 0, 58, 24, 15, 19.4535],
  [50, 2.5, 0, 50, 3.1736, 0.5854, 1],
  [50, 2.5, 0, 50, 3.2972, 0, 1],
  [50, 2.5, 0, 50, 1.8634, 0.5757, 1],
  [50, 2.5, 0, 50, 3.2592, 0.335, 1],
  [60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644],
  [63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.263],
  [61.2901, 3.7196, -5.3901, 61.4292, 2.248, -4.962, 1.8731],
  [35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645],
  [22.7233, 20.0904, -46.694, 23.0331, 14.973, -42.5619, 2.0373],
  [36.4612, 47.858, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146],
  [90.8027, -2.0831, 1.441, 91.1528, -1.6435, 0.0447, 1.4441],
  [90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381],
  [6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377],
  [2.0776, 0.0795, -1.135, 0.9033, -0.0636, -0.5514, 0.9082],
]

const pairOf = ([l1, a1, b1, l2, a2, b2]: readonly number[]): readonly [Lab, Lab] => [
  { l: l1!, a: a1!, b: b1! },
  { l: l2!, a: a2!, b: b2! },
]

const between = (reference: Lab, measured: Lab): number => answer(deltaE2000({ reference, measured }))

describe('CIEDE2000', () => {
  it.each(TABLE_1.map((row, i) => [i + 1, row] as const))('of pair %i, both ways round', (_, row) => {
    const [one, other] = pairOf(row)
    expect(Math.abs(between(one, other) - row[6]!)).toBeLessThan(1e-4)
    expect(Math.abs(between(other, one) - row[6]!)).toBeLessThan(1e-4)
  })

  it('is told from the forms that people write by mistake', () => {
    const missed = (wrong: Parameters<typeof formula>[2]): number =>
      TABLE_1.filter((row) => Math.abs(formula(...pairOf(row), wrong) - row[6]!) > 1e-4).length
    expect(missed({})).toBe(0)
    expect(missed({ plainHueMean: true })).toBeGreaterThan(0)
    expect(missed({ plainHueDifference: true })).toBeGreaterThan(0)
    expect(missed({ noA: true })).toBeGreaterThan(20)
    expect(missed({ noTurn: true })).toBeGreaterThan(5)
    expect(missed({ degreesAsRadians: true })).toBeGreaterThan(20)
  })

  it('is nothing between a colour and itself, never less, and the same both ways', () => {
    const colour = fc.record({
      l: fc.double({ min: 0, max: 100, noNaN: true }),
      a: fc.double({ min: -128, max: 127, noNaN: true }),
      b: fc.double({ min: -128, max: 127, noNaN: true }),
    })
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(between(one, one)).toBe(0)
        expect(between(one, other)).toBeGreaterThanOrEqual(0)
        expect(between(other, one)).toBeCloseTo(between(one, other), 9)
      }),
    )
  })

  it('knows no hue of a grey, whichever zero it is made of', () => {
    const colour = { l: 50, a: 10, b: -5 }
    const from = (a: number, b: number) => between({ l: 50, a, b }, colour)
    expect([from(-0, 0), from(0, -0), from(-0, -0)]).toEqual([from(0, 0), from(0, 0), from(0, 0)])
  })

  it('refuses what is no colour', () => {
    const grey = { l: 50, a: 0, b: 0 }
    for (const v of [Number.NaN, Number.POSITIVE_INFINITY, 1e300, undefined as unknown as number]) {
      expect(deltaE2000({ reference: { ...grey, a: v }, measured: grey })).toMatchObject({
        ok: false,
        problem: { input: 'reference' },
      })
      expect(deltaE2000({ reference: grey, measured: { ...grey, l: v } })).toMatchObject({
        ok: false,
        problem: { input: 'measured' },
      })
    }
    expect(deltaE2000({ reference: { l: -1000, a: 1000, b: 1000 }, measured: { l: 1000, a: -1000, b: 0 } }).ok).toBe(true)
  })
})

describe('many differences', () => {
  it('give mean, 95th percentile by nearest rank and maximum', () => {
    // Worked by hand: of 1 to 20 the 19th is the smallest that 95 of 100 do not exceed; of 1 to 21 it is the 20th (0.95 x 21 = 19.95).
    const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => n - i)
    expect(answer(spreadOfDifferences({ differences: upTo(20) }))).toMatchObject({ count: 20, mean: 10.5, p95: 19, max: 20 })
    expect(answer(spreadOfDifferences({ differences: upTo(21) }))).toMatchObject({ mean: 11, p95: 20, max: 21 })
    expect(answer(spreadOfDifferences({ differences: [3] }))).toEqual({ count: 1, mean: 3, p95: 3, max: 3, worst: [0] })
    expect(answer(spreadOfDifferences({ differences: [1, 4, 2, 4] })).worst).toEqual([1, 3, 2, 0])
  })

  it('keep their order: no mean or percentile is above the maximum', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 200, noNaN: true }), { minLength: 1, maxLength: 200 }), (differences) => {
        const { mean, p95, max, count } = answer(spreadOfDifferences({ differences }))
        expect(p95).toBeLessThanOrEqual(max)
        expect(mean).toBeLessThanOrEqual(max * (1 + 1e-12))
        expect(differences.filter((d) => d <= p95).length).toBeGreaterThanOrEqual(0.95 * count)
        expect(differences.filter((d) => d < p95).length).toBeLessThan(0.95 * count)
      }),
    )
  })

  it('refuse none at all and what is no difference', () => {
    expect(spreadOfDifferences({ differences: [] })).toMatchObject({ ok: false })
    expect(spreadOfDifferences({ differences: [-1] })).toMatchObject({ problem: { input: 'differences' } })
    for (const d of [Number.NaN, -1, Number.POSITIVE_INFINITY])
      expect(spreadOfDifferences({ differences: [1, d] })).toMatchObject({ ok: false })
    expect(spreadOfDifferences({ differences: [1e308, 1e308] })).toMatchObject({ problem: { input: 'differences' } })
  })
})

interface Mistakes {
  /** The mean hue as half the sum, whatever lies between. */
  readonly plainHueMean?: boolean
  /** The difference of hues not taken the shorter way round. */
  readonly plainHueDifference?: boolean
  /** a* not lengthened near grey. */
  readonly noA?: boolean
  /** Without the term that turns the ellipses in the blues. */
  readonly noTurn?: boolean
  readonly degreesAsRadians?: boolean
}

/** The formula written once more from the paper's equations 2 to 22, so that one mistake at a time can be put into it. */
function formula(x: Lab, y: Lab, wrong: Mistakes): number {
  const rad = wrong.degreesAsRadians ? 1 : Math.PI / 180
  const cbar7 = ((Math.sqrt(x.a ** 2 + x.b ** 2) + Math.sqrt(y.a ** 2 + y.b ** 2)) / 2) ** 7
  const g = wrong.noA ? 0 : (1 - Math.sqrt(cbar7 / (cbar7 + 25 ** 7))) / 2
  const [a1, a2] = [x.a * (1 + g), y.a * (1 + g)]
  const [c1, c2] = [Math.sqrt(a1 ** 2 + x.b ** 2), Math.sqrt(a2 ** 2 + y.b ** 2)]
  const hue = (a: number, b: number): number => (a === 0 && b === 0 ? 0 : ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360)
  const [h1, h2] = [hue(a1, x.b), hue(a2, y.b)]
  let dh = c1 * c2 === 0 ? 0 : h2 - h1
  if (!wrong.plainHueDifference && Math.abs(dh) > 180) dh -= Math.sign(dh) * 360
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh * rad) / 2)
  const sum = h1 + h2
  let h = sum / 2
  if (c1 * c2 === 0) h = sum
  else if (!wrong.plainHueMean && Math.abs(h1 - h2) > 180) h = sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2
  const [l, c] = [(x.l + y.l) / 2, (c1 + c2) / 2]
  const t =
    1 -
    0.17 * Math.cos((h - 30) * rad) +
    0.24 * Math.cos(2 * h * rad) +
    0.32 * Math.cos((3 * h + 6) * rad) -
    0.2 * Math.cos((4 * h - 63) * rad)
  const theta = 30 * Math.exp(-(((h - 275) / 25) ** 2))
  const rt = wrong.noTurn ? 0 : -2 * Math.sqrt(c ** 7 / (c ** 7 + 25 ** 7)) * Math.sin(2 * theta * rad)
  const pl = (y.l - x.l) / (1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2))
  const pc = (c2 - c1) / (1 + 0.045 * c)
  const ph = dH / (1 + 0.015 * c * t)
  return Math.sqrt(Math.max(0, pl ** 2 + pc ** 2 + ph ** 2 + rt * pc * ph))
}
