// Curl from winding, checked with the geometry of a bent strip and with the wrong forms people use.
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import { curlDirection, pullAgainstCurl, woundStrain } from '../../server/src/calc/curl.ts'
import { runs } from '../support/counts.ts'
import { withstand } from './hostile.ts'

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problem.reason)
  return outcome.value
}

describe('strain from winding', () => {
  it.each([
    // Thickness, diameter, t / D in percent (bending geometry, worked by hand): the exact t / (D + t) is lower by t / D of itself.
    [100e-6, 76.2e-3, 0.131],
    [180e-6, 76.2e-3, 0.236],
    [250e-6, 76.2e-3, 0.328],
    [400e-6, 76.2e-3, 0.525],
    [500e-6, 76.2e-3, 0.656],
    [180e-6, 152.4e-3, 0.118],
  ])('%f m on %f m', (thickness, diameter, percent) => {
    const strain = value(woundStrain({ thickness, diameter }))
    expect(Math.abs((strain * 100 * (1 + thickness / diameter)) / percent - 1)).toBeLessThan(2e-3)
    expect(strain).toBeLessThan(thickness / diameter)
    // A strip bent round the core: outer face over middle, lengths of arcs.
    expect(strain).toBeCloseTo((diameter / 2 + thickness) / (diameter / 2 + thickness / 2) - 1, 12)
  })

  it('is neither half nor double', () => {
    // Misuse: t / (2 D) is half, t / R is double.
    const strain = value(woundStrain({ thickness: 180e-6, diameter: 76.2e-3 }))
    expect(strain / (180e-6 / (2 * 76.2e-3))).toBeCloseTo(2, 2)
    expect(strain / (180e-6 / 38.1e-3)).toBeCloseTo(0.5, 2)
  })
})

describe('direction', () => {
  it('lifts the edges when wound in and the middle when wound out', () => {
    // Geometry, from memory: the face that was inside on the roll was the shorter one and pulls its side together.
    expect(curlDirection('in')).toEqual({ lifts: 'edges', towardsHeads: 'the lead and the edges lift towards the heads' })
    expect(curlDirection('out')?.lifts).toBe('middle')
    expect(curlDirection('sideways' as 'in')).toBeUndefined()
  })
})

describe('any input', () => {
  it('strains more when thicker and less on a larger core', () => {
    const thickness = fc.double({ min: 1e-5, max: 1e-3, noNaN: true })
    fc.assert(
      fc.property(thickness, fc.double({ min: 0.02, max: 1, noNaN: true }), (t, diameter) => {
        const strain = value(woundStrain({ thickness: t, diameter }))
        expect(value(woundStrain({ thickness: t * 1.1, diameter }))).toBeGreaterThan(strain)
        expect(value(woundStrain({ thickness: t, diameter: diameter * 1.1 }))).toBeLessThan(strain)
      }),
    )
  })

  it('never throws and never lets a NaN or an infinity out', () => {
    const wild = fc.oneof(fc.double(), fc.constantFrom(0, -1, Number.MAX_VALUE, Number.MIN_VALUE, undefined as unknown as number))
    fc.assert(
      fc.property(fc.record({ thickness: wild, diameter: wild }), (v) => {
        const outcome = woundStrain(v)
        expect(outcome.ok ? Number.isFinite(outcome.value) : outcome.problem.reason.startsWith('the ')).toBe(true)
      }),
      { numRuns: runs(500) },
    )
    expect(woundStrain({ thickness: 0, diameter: 1 })).toMatchObject({ problem: { input: 'thickness' } })
    expect(woundStrain({ thickness: 1, diameter: Number.POSITIVE_INFINITY })).toMatchObject({ problem: { input: 'diameter' } })
  })
})

describe('winding against the curl', () => {
  const film = { modulus: 4.5e9, thickness: 250e-6, poisson: 0.38 }

  it('takes the energy of bending each further metre', () => {
    // D = 4.5e9 x (250e-6)^3 / 12 / (1 - 0.38^2) = 6.848e-3 N m; free film on a 3 in core: D / 2 / (38.1 mm)^2 = 2.359 N/m, by hand.
    const flat = value(pullAgainstCurl({ ...film, diameter: 76.2e-3, curlRadius: 1e6 }))
    expect(flat.typical).toBeCloseTo(2.359, 2)
    // With a curl of 38.1 mm the other way it is bent twice as far: four times the energy (strip theory: energy goes with curvature squared).
    const against = value(pullAgainstCurl({ ...film, diameter: 76.2e-3, curlRadius: 38.1e-3 }))
    expect(against.typical / flat.typical).toBeCloseTo(4, 4)
    const stiffness = (4.5e9 * 250e-6 ** 3) / 12 / (1 - 0.38 ** 2)
    expect(against.typical).toBeCloseTo((stiffness / 2) * (1 / 38.1e-3 + 1 / 38.1e-3) ** 2, 9)
  })

  it('refuses what is no film', () => {
    const refused = withstand(pullAgainstCurl, { ...film, diameter: 76.2e-3, curlRadius: 0.3 })
    expect(refused).toEqual(['curlRadius', 'diameter', 'modulus', 'poisson', 'thickness'])
  })
})
