// Suction on the platen: worked drags and curls, the coupling with feed, and the window of levels that hold.
import fc from 'fast-check'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import { dimpleDepth } from '../../server/src/calc/plate.ts'
import type { Range } from '../../server/src/calc/range.ts'
import {
  feedChange,
  holdingForce,
  holdingShare,
  pressureToFlatten,
  standingCurl,
  suctionDrag,
  suctionStretch,
} from '../../server/src/calc/suction.ts'
import { type SuctionCase, suctionWindow } from '../../server/src/calc/suction-window.ts'
import { runs } from '../support/counts.ts'

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problem.reason)
  return outcome.value
}
const typical = (outcome: Outcome<Range>) => value(outcome).typical

describe('holding and drag', () => {
  it('are pressure times area, and friction times that', () => {
    // Coulomb's law, by hand: 1 kPa on 1.6 m x 0.1 m, friction 0.3: 160 N, 48 N of drag, 30 N per metre of width. Units by mathjs 15.
    const platen = { pressure: 1e3, share: 1, depth: 0.1 }
    expect(typical(holdingForce({ ...platen, width: 1.6 }))).toBeCloseTo(evaluate('1 kPa * 1.6 m * 0.1 m').toNumber('N'), 9)
    expect(typical(suctionDrag({ ...platen, friction: 0.3 }))).toBeCloseTo(30, 9)
    expect(typical(suctionDrag({ ...platen, friction: 0.3 })) * 1.6).toBeCloseTo(48, 9)
  })

  it.each([
    // Hooke's law, by hand: strain in ppm of films by 30 N/m: thickness, modulus (film-trade tables and ASTM D883 classes, see schemas/families.json).
    [80e-6, 2.4e9, 156],
    [80e-6, 0.5e9, 750],
    [100e-6, 4.5e9, 67],
    [180e-6, 1.5e9, 111],
    [400e-6, 0.3e9, 250],
    [130e-6, 3e9, 77],
  ])('stretches %f m of %f Pa by %f ppm', (thickness, modulus, ppm) => {
    const strain = typical(suctionStretch({ pressure: 1e3, share: 1, depth: 0.1, friction: 0.3, thickness, modulus }))
    expect(Math.abs(strain * 1e6 - ppm)).toBeLessThan(0.5)
  })

  it('carries friction and modulus as ranges', () => {
    const drag = value(suctionDrag({ pressure: 1e3, share: 1, depth: 0.1, friction: { low: 0.2, typical: 0.3, high: 0.5 } }))
    expect([drag.low, drag.typical, drag.high].map((n) => Math.round(n * 1e6) / 1e6)).toEqual([20, 30, 50])
  })

  it.each([
    // Conversions of pressure (NIST SP 811 App. B): by mathjs 15, which has no inch of water but 25.4 mm of it.
    ['1 mbar', 100, 9],
    ['1 mmH2O', 9.80665, 9],
    ['25.4 mmH2O', 249.08891, 5],
    ['1 psi', 6894.757, 3],
  ])('%s is %f Pa', (text, pascals, digits) => {
    expect(evaluate(text).toNumber('Pa')).toBeCloseTo(pascals, digits)
  })

  it('counts only what is covered and pressed', () => {
    // Misuse: pressure times the whole bed. A web of 0.8 m on a bed of 1.6 m is held by half of that, and by less where it seals on the lands.
    const bed = typical(holdingForce({ pressure: 1e3, share: 1, width: 1.6, depth: 0.1 }))
    const share = value(holdingShare({ openArea: 0.1 }))
    const covered = value(holdingForce({ pressure: 1e3, share, width: 0.8, depth: 0.1 }))
    expect(share).toEqual({ low: 0.1, typical: 0.55, high: 1 })
    expect(covered.high).toBeCloseTo(bed / 2, 9)
    expect(covered.low).toBeCloseTo(bed / 20, 9)
    expect(value(holdingShare({ openArea: 1 }))).toEqual({ low: 1, typical: 1, high: 1 })
    expect(holdingShare({ openArea: 0 })).toMatchObject({
      problem: { input: 'openArea', reason: 'the open area must be above zero and no more than 1' },
    })
  })
})

describe('feed follows suction', () => {
  const web = { depth: 0.12, friction: 0.3, modulus: 0.5e9, thickness: 50e-6, share: 1 }

  it('is the difference of the strains, in mm per metre', () => {
    const at = (pressure: number) => typical(suctionStretch({ ...web, pressure }))
    const change = typical(feedChange({ ...web, fromPressure: 400, toPressure: 900 }))
    expect(change).toBeCloseTo(at(900) - at(400), 12)
    // 500 Pa x 0.12 m x 0.3 = 18 N/m over 50 µm and 0.5 GPa: 0.72 mm per metre.
    expect(change * 1e3).toBeCloseTo(0.72, 9)
    expect(typical(feedChange({ ...web, fromPressure: 900, toPressure: 400 }))).toBeCloseTo(-change, 12)
  })

  it('does not let what both pressures share spread the difference', () => {
    const friction = { low: 0.2, typical: 0.3, high: 0.5 }
    const same = value(feedChange({ ...web, friction, fromPressure: 500, toPressure: 500 }))
    expect([same.low, same.typical, same.high].map(Math.abs)).toEqual([0, 0, 0])
    const rise = value(feedChange({ ...web, friction, fromPressure: 400, toPressure: 900 }))
    expect(rise.low).toBeGreaterThan(0)
  })
})

describe('curl that suction leaves', () => {
  // Derived: D / R = p l^2 / 2. PP film of 180 µm, 1.5 GPa, nu 0.40, and vinyl of 80 µm, 2.4 GPa, nu 0.38, set to the radius of a 3 in core.
  const pp = { modulus: 1.5e9, thickness: 180e-6, poisson: 0.4, curlRadius: 38.1e-3, share: 1 }
  const vinyl = { modulus: 2.4e9, thickness: 80e-6, poisson: 0.38, curlRadius: 38.1e-3, share: 1 }

  it.each([
    ['polypropylene at 1 kPa', pp, 1e3, 6.75, 0.6],
    ['polypropylene at 2 kPa', pp, 2e3, 4.77, 0.3],
    ['vinyl at 1 kPa', vinyl, 1e3, 2.51, 0.08],
  ])('%s', (_, film, pressure, length, rise) => {
    const curl = value(standingCurl({ ...film, pressure }))
    expect(Math.abs(curl.length.typical * 1e3 - length)).toBeLessThan(0.006)
    expect(Math.abs(curl.rise.typical * 1e3 - rise)).toBeLessThan(0.005)
    expect(curl.rise.typical).toBeCloseTo(curl.length.typical ** 2 / (2 * 38.1e-3), 12)
  })

  it('goes from rise to pressure and back', () => {
    const rise = value(standingCurl({ ...pp, pressure: 1200 })).rise.typical
    expect(typical(pressureToFlatten({ ...pp, rise }))).toBeCloseTo(1200, 6)
  })

  it('stands as high under a share of the pressure as under that much less of it', () => {
    // D / (R p s): what presses is the pressure times the share that it acts on.
    const half = value(standingCurl({ ...pp, pressure: 1000, share: 0.5 }))
    expect(half.rise.typical).toBeCloseTo(value(standingCurl({ ...pp, pressure: 500 })).rise.typical, 12)
  })

  it('curls to its free radius where nothing holds it', () => {
    const free = value(standingCurl({ ...pp, pressure: 0 }))
    expect(free.rise.typical).toBeCloseTo(2 * 38.1e-3, 12)
    expect(free.length.typical).toBeCloseTo(Math.PI * 38.1e-3, 12)
  })
})

describe('window of levels', () => {
  // A soft cast vinyl of 50 µm on a platen with 3 mm holes.
  const soft: SuctionCase<number> = {
    levels: [
      { level: 4, pressure: 1600 },
      { level: 1, pressure: 100 },
      { level: 2, pressure: 400 },
      { level: 3, pressure: 800 },
    ],
    friction: 0.3,
    depth: 0.12,
    openArea: 1,
    modulus: 0.3e9,
    thickness: 60e-6,
    poisson: 0.4,
    holeDiameter: 3e-3,
    curlRadius: 0.03,
    limits: { strain: 1e-3, dimple: 10e-6, rise: 30e-6 },
  }

  it('judges each level and finds those that hold', () => {
    const { rows, window } = value(suctionWindow(soft))
    expect(rows.map((row) => [row.level, row.verdict])).toEqual([
      [1, 'too-weak'],
      [2, 'holds'],
      [3, 'too-strong'],
      [4, 'too-strong'],
    ])
    expect(window).toEqual({ from: 2, to: 2 })
    // By hand: 400 Pa x 0.12 m x 0.3 = 14.4 N/m; over 60 µm and 0.3 GPa 0.8 mm/m; 800 Pa twice that.
    expect(rows[1]!.holding.typical).toBeCloseTo(48, 9)
    expect(rows[1]!.drag.typical).toBeCloseTo(14.4, 9)
    expect(rows[1]!.strain.typical).toBeCloseTo(0.8e-3, 12)
    expect(rows[2]!.strain.typical).toBeCloseTo(1.6e-3, 12)
    expect(rows[2]!.faults).toContain('stretch')
    expect(rows[1]!.dimple.typical).toBe(typical(dimpleDepth({ ...soft, pressure: 400 })))
    expect(rows.every((row) => row.certain)).toBe(true)
  })

  it('says why in the words of the shop', () => {
    const { rows } = value(suctionWindow(soft))
    expect(rows.map((row) => row.reason)).toMatchInlineSnapshot(`
      [
        "leaves edges standing 71 µm high, more than the 30 µm allowed",
        "leaves edges standing 18 µm high; stretches the web by 0.8 mm/m; draws dimples 4.9 µm deep",
        "stretches the web by 1.6 mm/m, more than the 1 mm/m allowed",
        "stretches the web by 3.2 mm/m, more than the 1 mm/m allowed; draws dimples 19 µm deep, more than the 10 µm allowed",
      ]
    `)
  })

  it('bends layers by their own modulus and stretches them by the other', () => {
    const one = value(suctionWindow(soft)).rows[1]!
    const layered = value(suctionWindow({ ...soft, bendingModulus: 2 * 0.3e9 })).rows[1]!
    expect(layered.strain).toEqual(one.strain)
    // D / (R^2 p): the rise goes with the bending stiffness.
    expect(layered.curl.rise.typical).toBeCloseTo(2 * one.curl.rise.typical, 12)
    expect(layered.dimple.typical).toBeLessThan(one.dimple.typical)
  })

  it('is not certain where the material is known only roughly', () => {
    const rough = { ...soft, modulus: { low: 0.1e9, typical: 0.3e9, high: 0.5e9 }, openArea: 0.2 }
    const row = value(suctionWindow(rough)).rows[2]!
    expect(row.strain.low).toBeLessThan(row.strain.typical)
    expect(row.certain).toBe(false)
    expect(row.reason).toContain('typical values')
    // The verdict is that of the typical value: level 2 stretches 0.48 mm/m typically, and 2.4 mm/m at worst.
    const second = value(suctionWindow(rough)).rows[1]!
    expect(second.strain.typical).toBeLessThan(rough.limits.strain)
    expect(second.strain.high).toBeGreaterThan(rough.limits.strain)
    expect(second.faults).not.toContain('stretch')
  })

  it('finds no window where curl and stretch exclude each other', () => {
    const hopeless = { ...soft, limits: { strain: 1e-5, dimple: 1e-3, rise: 1e-6 } }
    const { rows, window } = value(suctionWindow(hopeless))
    expect(window).toBeUndefined()
    expect(rows.some((row) => row.verdict === 'unfit')).toBe(true)
  })

  it('names what is wrong', () => {
    expect(suctionWindow({ ...soft, levels: [] })).toMatchObject({ problem: { input: 'levels' } })
    expect(suctionWindow({ ...soft, limits: { ...soft.limits, rise: Number.NaN } })).toMatchObject({
      problem: { input: 'limits', reason: 'among the limits, the rise is not a finite number' },
    })
    expect(suctionWindow({ ...soft, curlRadius: 0 })).toMatchObject({ problem: { input: 'curlRadius' } })
    expect(suctionWindow({ ...soft, levels: [{ level: 1, pressure: -5 }] })).toMatchObject({ problem: { input: 'pressure' } })
    expect(value(suctionWindow({ ...soft, levels: [{ level: 0, pressure: 0 }] })).rows[0]!.verdict).toBe('too-weak')
  })

  const size = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  it('holds over neighbouring levels only, and more suction never weakens anything but curl', () => {
    const any = fc.record({
      levels: fc.array(fc.record({ level: fc.nat(), pressure: size(0, 5000) }), { minLength: 1, maxLength: 8 }),
      friction: size(0.1, 0.6),
      depth: size(0.02, 0.5),
      openArea: size(0.01, 1),
      modulus: size(1e7, 5e9),
      thickness: size(3e-5, 5e-4),
      poisson: size(0.1, 0.5),
      holeDiameter: size(5e-4, 1e-2),
      curlRadius: size(0.02, 1),
      limits: fc.record({ strain: size(1e-5, 1e-2), dimple: size(1e-6, 1e-3), rise: size(1e-6, 1e-2) }),
    })
    fc.assert(
      fc.property(any, (v) => {
        const { rows, window } = value(suctionWindow(v))
        const holds = rows.map((row) => row.verdict === 'holds')
        const inside = holds.slice(holds.indexOf(true), holds.lastIndexOf(true) + 1)
        expect(window ? inside.every(Boolean) : !holds.includes(true)).toBe(true)
        for (const [index, row] of rows.entries()) {
          const next = rows[index + 1]
          if (!next) continue
          expect(next.strain.typical).toBeGreaterThanOrEqual(row.strain.typical)
          expect(next.dimple.typical).toBeGreaterThanOrEqual(row.dimple.typical * (1 - 1e-12))
          expect(next.curl.rise.typical).toBeLessThanOrEqual(row.curl.rise.typical)
        }
      }),
    )
  })

  it('never throws and never lets a NaN or an infinity out', () => {
    const wild = fc.oneof(
      fc.double(),
      fc.constantFrom(0, -1, 0.5, Number.MAX_VALUE, Number.MIN_VALUE, undefined as unknown as number),
    )
    const any = fc.record({
      levels: fc.array(fc.record({ level: fc.nat(), pressure: wild }), { maxLength: 3 }),
      friction: wild,
      depth: wild,
      openArea: wild,
      modulus: wild,
      thickness: wild,
      poisson: fc.oneof(wild, fc.constant(0.3)),
      holeDiameter: wild,
      curlRadius: wild,
      limits: fc.oneof(fc.constant({ strain: 1, dimple: 1, rise: 1 }), fc.record({ strain: wild, dimple: wild, rise: wild })),
      share: wild,
      width: wild,
      rise: wild,
      pressure: wild,
      fromPressure: wild,
      toPressure: wild,
    })
    fc.assert(
      fc.property(any, (v) => {
        const all: readonly Outcome<unknown>[] = [
          suctionWindow(v),
          holdingShare(v),
          holdingForce(v),
          suctionDrag(v),
          suctionStretch(v),
          feedChange(v),
          standingCurl(v),
          pressureToFlatten(v),
        ]
        for (const outcome of all) {
          if (!outcome.ok) expect(outcome.problem.reason).toMatch(/^(the|there|among) /)
          else expect(numbersIn(outcome.value).every(Number.isFinite)).toBe(true)
        }
      }),
      { numRuns: runs(1000) },
    )
  })
})

const numbersIn = (found: unknown): readonly number[] =>
  typeof found === 'number' ? [found] : typeof found === 'object' && found !== null ? Object.values(found).flatMap(numbersIn) : []
