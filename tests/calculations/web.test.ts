// Web tension against the converting trade's tables, worked cases, and units from js-quantities.
import { createRequire } from 'node:module'
import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import type { Range } from '../../server/src/calc/range.ts'
import {
  capstanRatio,
  GRAVITY,
  leastTension,
  POUND_FORCE_PER_INCH,
  POUND_FORCE_PER_INCH_PER_MIL,
  stretchOf,
  taperedTension,
  tensionAsRollEmpties,
  tensionAtTorque,
  tensionBounds,
  tensionGuard,
  webStrain,
  webStress,
  windingTorque,
} from '../../server/src/calc/web.ts'

// js-quantities ships no types; its one function is enough here.
const qty = createRequire(import.meta.url)('js-quantities') as (text: string) => { to(unit: string): { scalar: number } }

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problem.reason)
  return outcome.value
}
const ppm = (strain: Range) => strain.typical * 1e6

describe('units of the trade', () => {
  it('agree with js-quantities', () => {
    // js-quantities 1.8, which rounds the pound-force to six digits.
    expect(POUND_FORCE_PER_INCH / qty('1 lbf/in').to('N/m').scalar).toBeCloseTo(1, 6)
    expect(POUND_FORCE_PER_INCH_PER_MIL / qty('1000 psi').to('Pa').scalar).toBeCloseTo(1, 6)
    expect(POUND_FORCE_PER_INCH_PER_MIL / 6.8948e6).toBeCloseTo(1, 4)
    expect(GRAVITY).toBe(evaluate('gravity').toNumber('m/s^2'))
  })

  it.each([
    // Pairs printed side by side in a converting-trade tension table (published, rounded to two figures): lb/in and kg/cm.
    [1.25, 0.22],
    [3.0, 0.54],
    [5.5, 0.98],
    [8.0, 1.43],
  ])('%f lb/in is %f kg/cm', (pounds, kilograms) => {
    const exact = (pounds * POUND_FORCE_PER_INCH) / GRAVITY / 100
    expect(Math.abs(exact - kilograms)).toBeLessThan(0.006)
    expect(exact).toBeCloseTo((pounds * 0.45359237) / 2.54, 9)
  })
})

describe('tension a material takes', () => {
  // Published: two converting-trade tables, in lb/in per mil; N/m at a thickness in µm, worked by 1 lb/in per mil = 6.8948 MPa.
  it.each([
    ['vinyl', 0.1, 0.15, 80, 55, 83],
    ['vinyl', 0.1, 0.15, 50, 34, 52],
    ['vinyl', 0.1, 0.15, 400, 276, 414],
    ['polypropylene', 0.25, 0.3, 180, 310, 372],
    ['polypropylene', 0.25, 0.3, 100, 172, 207],
    ['polyester', 0.75, 0.75, 50, 259, 259],
    ['polyester', 0.75, 0.75, 250, 1293, 1293],
    ['polystyrene and foil', 1, 1, 80, 552, 552],
  ])('%s at %f to %f lb/in per mil', (_, from, to, micrometres, least, most) => {
    const guardStress = {
      low: from * POUND_FORCE_PER_INCH_PER_MIL,
      typical: from * POUND_FORCE_PER_INCH_PER_MIL,
      high: to * POUND_FORCE_PER_INCH_PER_MIL,
    }
    const guard = value(tensionGuard({ thickness: micrometres * 1e-6, guardStress }))
    expect(Math.abs(guard.low - least)).toBeLessThan(0.55)
    expect(Math.abs(guard.high - most)).toBeLessThan(0.55)
  })

  it('works N1, the strain at table tension', () => {
    const strainAt = (poundsPerMil: number, modulus: number) => {
      const thickness = 100e-6
      const tension = poundsPerMil * POUND_FORCE_PER_INCH_PER_MIL * thickness
      expect(value(webStress({ tension, thickness }))).toBeCloseTo(poundsPerMil * POUND_FORCE_PER_INCH_PER_MIL, 3)
      return ppm(value(webStrain({ tension, thickness, modulus })))
    }
    expect(strainAt(0.1, 2.4e9)).toBeCloseTo(287.3, 0)
    expect(strainAt(0.1, 0.3e9)).toBeCloseTo(2298, 0)
    expect(strainAt(0.275, 1.5e9)).toBeCloseTo(1264, 0)
    expect(strainAt(0.75, 4.5e9)).toBeCloseTo(1149, 0)
  })

  it('works K5, the strain of films under 30 N/m', () => {
    const under30 = (thickness: number, modulus: number) => ppm(value(webStrain({ tension: 30, thickness, modulus })))
    expect(under30(80e-6, 2.4e9)).toBeCloseTo(156, 0)
    expect(under30(80e-6, 0.5e9)).toBeCloseTo(750, 6)
    expect(under30(100e-6, 4.5e9)).toBeCloseTo(67, 0)
    expect(under30(180e-6, 1.5e9)).toBeCloseTo(111, 0)
    expect(under30(400e-6, 0.3e9)).toBeCloseTo(250, 6)
  })

  it('does not give vinyl the tension of polyester', () => {
    // Misuse: 5.17 MPa on a vinyl film of 0.3 GPa is 1.7 % of stretch, 5 to 7.5 times what its own table value gives.
    const thickness = 100e-6
    const stretch = (poundsPerMil: number) =>
      value(webStrain({ tension: poundsPerMil * POUND_FORCE_PER_INCH_PER_MIL * thickness, thickness, modulus: 0.3e9 })).typical
    expect(stretch(0.75)).toBeCloseTo(0.0172, 4)
    expect(stretch(0.1)).toBeCloseTo(0.0023, 4)
    expect(stretch(0.75) / stretch(0.15)).toBeCloseTo(5, 9)
    expect(stretch(0.75) / stretch(0.1)).toBeCloseTo(7.5, 9)
  })

  it('tells a length from a strain', () => {
    expect(value(stretchOf({ strain: 0.0023, length: 2 }))).toBeCloseTo(0.0046, 12)
  })
})

describe('tension that keeps a span flat', () => {
  it.each([
    // N4: span 0.5 m, sag 2 mm; parabola of a heavy cable, N = w L^2 / (8 s), any statics text.
    [0.13, 19.92],
    [0.18, 27.58],
    [0.52, 79.68],
  ])('%f kg/m2 needs %f N/m', (grammage, tension) => {
    expect(value(leastTension({ grammage, span: 0.5, sag: 2e-3 }))).toBeCloseTo(tension, 2)
    const checked = evaluate(`${grammage} kg/m^2 * 9.80665 m/s^2 * (0.5 m)^2 / (8 * 2 mm)`).toNumber('N/m')
    expect(value(leastTension({ grammage, span: 0.5, sag: 2e-3 }))).toBeCloseTo(checked, 9)
  })

  it('agrees with the catenary it stands for', () => {
    // Catenary: sag = (N/w)(cosh(w L / 2N) - 1); the parabola is within 0.1 % at a sag of 1/100 of the span.
    const [grammage, span] = [0.3, 1]
    const tension = value(leastTension({ grammage, span, sag: 0.01 }))
    const weight = grammage * GRAVITY
    expect((tension / weight) * (Math.cosh((weight * span) / (2 * tension)) - 1)).toBeCloseTo(0.01, 5)
  })

  it('joins both bounds and says when nothing satisfies them', () => {
    const film = {
      grammage: 0.25,
      span: 0.5,
      sag: 2e-3,
      thickness: 80e-6,
      guardStress: { low: 0.69e6, typical: 0.86e6, high: 1.03e6 },
    }
    const bounds = value(tensionBounds(film))
    expect(bounds.least).toBeCloseTo(38.31, 2)
    expect(bounds.guard.low).toBeCloseTo(55.2, 6)
    expect(bounds.possible).toBe(true)
    expect(value(tensionBounds({ ...film, sag: 0.5e-3 })).possible).toBe(false)
    // 1.1 mm needs 69.7 N/m, which only the guard's upper end allows: that is not enough to promise.
    expect(value(tensionBounds({ ...film, sag: 1.1e-3 })).least).toBeCloseTo(69.66, 1)
    expect(value(tensionBounds({ ...film, sag: 1.1e-3 })).possible).toBe(false)
    expect(leastTension({ grammage: 0.25, span: 0.5, sag: 0.2 })).toMatchObject({ problem: { input: 'sag' } })
  })
})

describe('torque and taper', () => {
  it('works N2', () => {
    expect(value(windingTorque({ tension: 100, width: 1.6, diameter: 0.2 }))).toBeCloseTo(16, 12)
    expect(value(windingTorque({ tension: 100, width: 1.6, diameter: 0.0762 }))).toBeCloseTo(6.096, 12)
    expect(value(tensionAtTorque({ torque: 16, width: 1.6, diameter: 0.2 }))).toBeCloseTo(100, 10)
  })

  it('tightens as a roll empties under one torque', () => {
    expect(value(tensionAsRollEmpties({ tension: 40, setAtDiameter: 0.2, diameter: 0.0762 }))).toBeCloseTo((40 * 200) / 76.2, 9)
    const torque = value(windingTorque({ tension: 40, width: 1.37, diameter: 0.2 }))
    expect(value(tensionAtTorque({ torque, width: 1.37, diameter: 0.0762 }))).toBeCloseTo(
      value(tensionAsRollEmpties({ tension: 40, setAtDiameter: 0.2, diameter: 0.0762 })),
      9,
    )
  })

  it('keeps the two taper laws apart', () => {
    // Misuse: "taper 40 %" without its law. Both named in Lee et al. 2009, J. Mech. Sci. Technol. 23:3036; at 2.6 times the core 75 and 60.
    const roll = { tension: 100, taper: 0.4, coreDiameter: 1, diameter: 2.6, fullDiameter: 2.6 }
    expect(value(taperedTension({ ...roll, law: 'hyperbolic' }))).toBeCloseTo(75.38, 2)
    expect(value(taperedTension({ ...roll, law: 'linear' }))).toBeCloseTo(60, 9)
    expect(value(taperedTension({ ...roll, law: 'linear', diameter: 1 }))).toBe(100)
    expect(value(taperedTension({ ...roll, law: 'hyperbolic', diameter: 1 }))).toBe(100)
    expect(taperedTension({ tension: 100, taper: 0.4, coreDiameter: 1, diameter: 2, law: 'linear' })).toMatchObject({
      problem: { input: 'fullDiameter', reason: 'the full diameter is missing' },
    })
    expect(taperedTension({ ...roll, law: 'linear', diameter: 3 })).toMatchObject({ problem: { input: 'diameter' } })
    expect(taperedTension({ ...roll, law: 'hyperbolic', diameter: 0.5 })).toMatchObject({ problem: { input: 'diameter' } })
    expect(taperedTension({ ...roll, law: 'linear', taper: 40 })).toMatchObject({
      problem: { input: 'taper', reason: 'the taper must lie between 0 and 1' },
    })
    expect(taperedTension({ ...roll, law: 'steep' as 'linear' })).toMatchObject({ problem: { input: 'law' } })
  })

  it('works N5, the capstan', () => {
    // Euler and Eytelwein: exp(mu theta).
    expect(value(capstanRatio({ friction: 0.2, wrapAngle: Math.PI / 2 })).typical).toBeCloseTo(1.3691, 4)
    expect(value(capstanRatio({ friction: 0.3, wrapAngle: Math.PI })).typical).toBeCloseTo(2.5663, 4)
  })
})

describe('any input', () => {
  const size = fc.double({ min: 1e-6, max: 1e6, noNaN: true })

  it('stretches more under more tension, less when thicker', () => {
    fc.assert(
      fc.property(size, size, size, fc.double({ min: 1.001, max: 100, noNaN: true }), (tension, thickness, modulus, more) => {
        const strain = value(webStrain({ tension, thickness, modulus })).typical
        expect(value(webStrain({ tension: tension * more, thickness, modulus })).typical).toBeGreaterThan(strain)
        expect(value(webStrain({ tension, thickness: thickness * more, modulus })).typical).toBeLessThan(strain)
      }),
    )
  })

  it('tapers between the full tension and its taper', () => {
    const fraction = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(fraction, fraction, fc.constantFrom('hyperbolic' as const, 'linear' as const), (taper, part, law) => {
        const diameter = 0.0762 + part * 0.2
        const tension = value(taperedTension({ law, tension: 100, taper, coreDiameter: 0.0762, fullDiameter: 0.2762, diameter }))
        expect(tension).toBeLessThanOrEqual(100)
        expect(tension).toBeGreaterThanOrEqual(100 * (1 - taper) - 1e-9)
      }),
    )
  })

  it('never throws and never lets a NaN or an infinity out', () => {
    const wild = fc.oneof(fc.double(), fc.constantFrom(0, -1, Number.MAX_VALUE, Number.MIN_VALUE, undefined as unknown as number))
    const names = [
      'tension',
      'thickness',
      'modulus',
      'guardStress',
      'grammage',
      'span',
      'sag',
      'width',
      'diameter',
      'torque',
      'setAtDiameter',
      'taper',
      'coreDiameter',
      'fullDiameter',
      'friction',
      'wrapAngle',
      'strain',
      'length',
    ] as const
    type Wild = Record<(typeof names)[number], number> & { law: 'linear' | 'hyperbolic' }
    const inputs = fc.record({
      law: fc.constantFrom('linear' as const, 'hyperbolic' as const),
      ...Object.fromEntries(names.map((name) => [name, wild])),
    }) as unknown as fc.Arbitrary<Wild>
    fc.assert(
      fc.property(inputs, (v) => {
        const all: readonly Outcome<number | Range | object>[] = [
          webStress(v),
          webStrain(v),
          tensionGuard(v),
          leastTension(v),
          tensionBounds(v),
          windingTorque(v),
          tensionAtTorque(v),
          tensionAsRollEmpties(v),
          taperedTension(v),
          capstanRatio(v),
          stretchOf(v),
        ]
        for (const outcome of all) {
          if (!outcome.ok) expect(outcome.problem.reason).toMatch(/^the .*[a-z0-9)]$/)
          else expect(numbersIn(outcome.value).every(Number.isFinite)).toBe(true)
        }
      }),
      { numRuns: 500 },
    )
  })
})

const numbersIn = (found: unknown): readonly number[] =>
  typeof found === 'number' ? [found] : typeof found === 'object' && found !== null ? Object.values(found).flatMap(numbersIn) : []
