// Bending of layered sheets: against a sheet that is not layered, the sandwich of composite beam theory, and what bonding adds.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bendingModulus } from '../../server/src/calc/laminate.ts'
import { answer, withstand } from './hostile.ts'

describe('bending of layers', () => {
  it('is the modulus itself for one material, however it is cut', () => {
    const positive = fc.double({ min: 1e-6, max: 1e-2, noNaN: true })
    fc.assert(
      fc.property(fc.array(positive, { minLength: 1, maxLength: 6 }), (cuts) => {
        const { typical, high } = answer(bendingModulus(cuts.map((thickness) => ({ modulus: 2e9, thickness }))))
        expect(typical / 2e9).toBeCloseTo(1, 9)
        expect(high / 2e9).toBeCloseTo(1, 9)
      }),
    )
  })

  it('works the symmetrical sandwich', () => {
    // Two faces (E, f) on a core (e, c): EI = e c^3 / 12 + 2 E (f^3 / 12 + f ((c + f) / 2)^2) (composite beam theory), per width.
    const [E, f, e, c] = [4e9, 0.1e-3, 0.1e9, 0.5e-3]
    const layers = [
      { modulus: E, thickness: f },
      { modulus: e, thickness: c },
      { modulus: E, thickness: f },
    ]
    const stiffness = (e * c ** 3) / 12 + 2 * E * (f ** 3 / 12 + f * ((c + f) / 2) ** 2)
    const { low, typical } = answer(bendingModulus(layers))
    expect((typical * (2 * f + c) ** 3) / 12).toBeCloseTo(stiffness, 12)
    // Sliding on one another, each layer bends about its own middle.
    expect((low * (2 * f + c) ** 3) / 12).toBeCloseTo((e * c ** 3) / 12 + (2 * E * f ** 3) / 12, 12)
  })

  it('bends two equal strips four times as hard bonded as loose', () => {
    // The carpenter's case: I of depth 2t is 8 times that of t, and two loose strips have twice that of one.
    const { low, typical } = answer(
      bendingModulus([
        { modulus: 1e9, thickness: 1e-4 },
        { modulus: 1e9, thickness: 1e-4 },
      ]),
    )
    expect(typical / low).toBeCloseTo(4, 12)
  })

  it('rises with every layer’s modulus and stays in order', () => {
    const modulus = fc.double({ min: 1e5, max: 1e10, noNaN: true })
    const thickness = fc.double({ min: 1e-6, max: 1e-3, noNaN: true })
    const layers = fc.array(fc.record({ modulus, thickness }), { minLength: 1, maxLength: 4 })
    fc.assert(
      fc.property(layers, fc.nat(3), (list, at) => {
        const before = answer(bendingModulus(list))
        const stiffer = list.map((layer, i) => (i === at % list.length ? { ...layer, modulus: layer.modulus * 1.5 } : layer))
        const after = answer(bendingModulus(stiffer))
        expect(before.low).toBeLessThanOrEqual(before.typical * (1 + 1e-9))
        expect(before.typical).toBeLessThanOrEqual(before.high * (1 + 1e-9))
        expect(after.typical).toBeGreaterThanOrEqual(before.typical * (1 - 1e-9))
      }),
    )
  })

  it('refuses what is no sheet', () => {
    expect(bendingModulus([])).toMatchObject({ problem: { input: 'layers' } })
    const refused = withstand((layer: { modulus: number; thickness: number }) => bendingModulus([layer]), {
      modulus: 1e9,
      thickness: 1e-4,
    })
    expect(refused).toEqual(['layers'])
  })
})
