// Web tension against the converting trade's tables, worked cases, and units from js-quantities.
import { createRequire } from 'node:module'
import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import type { Outcome } from '../../server/src/base/outcome.ts'
import { leastTension, tensionAsRollEmpties, tensionGuard, webStress, windingTorque } from '../../server/src/calc/web.ts'
import { withstand } from './hostile.ts'

// js-quantities ships no types; its one function is enough here.
const qty = createRequire(import.meta.url)('js-quantities') as (text: string) => { to(unit: string): { scalar: number } }

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(outcome.problem.reason)
  return outcome.value
}

/** m/s2 (CGPM 1901). */
const GRAVITY = 9.80665
/** N/m: 4.4482216152605 N over 0.0254 m (NIST SP 811 App. B). */
const POUND_FORCE_PER_INCH = 4.4482216152605 / 0.0254
/** Pa: the unit of the trade's tension tables, 1000 psi. */
const POUND_FORCE_PER_INCH_PER_MIL = POUND_FORCE_PER_INCH / 25.4e-6

describe('units of the trade', () => {
  it('agree with js-quantities', () => {
    // js-quantities 1.8, which rounds the pound-force to six digits.
    expect(POUND_FORCE_PER_INCH / qty('1 lbf/in').to('N/m').scalar).toBeCloseTo(1, 6)
    expect(POUND_FORCE_PER_INCH_PER_MIL / qty('1000 psi').to('Pa').scalar).toBeCloseTo(1, 6)
    expect(POUND_FORCE_PER_INCH_PER_MIL / 6.8948e6).toBeCloseTo(1, 4)
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

  it('is the stress of the table, whatever the thickness', () => {
    const tension = 0.75 * POUND_FORCE_PER_INCH_PER_MIL * 100e-6
    expect(value(webStress({ tension, thickness: 100e-6 }))).toBeCloseTo(0.75 * POUND_FORCE_PER_INCH_PER_MIL, 3)
  })
})

describe('tension that keeps a span flat', () => {
  it.each([
    // Span 0.5 m, sag 2 mm; parabola of a heavy cable, N = w L^2 / (8 s), any statics text.
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

  it('is refused where the web would hang too deep for the formula', () => {
    expect(leastTension({ grammage: 0.25, span: 0.5, sag: 0.2 })).toMatchObject({ problem: { input: 'sag' } })
  })
})

describe('torque', () => {
  it('is the pull on the whole width at half the diameter', () => {
    // By hand: 100 N/m x 1.6 m x 0.1 m.
    expect(value(windingTorque({ tension: 100, width: 1.6, diameter: 0.2 }))).toBeCloseTo(16, 12)
    expect(value(windingTorque({ tension: 100, width: 1.6, diameter: 0.0762 }))).toBeCloseTo(6.096, 12)
  })

  it('tightens as a roll empties under one torque', () => {
    expect(value(tensionAsRollEmpties({ tension: 40, setAtDiameter: 0.2, diameter: 0.0762 }))).toBeCloseTo((40 * 200) / 76.2, 9)
    const torque = value(windingTorque({ tension: 40, width: 1.37, diameter: 0.2 }))
    const empty = value(tensionAsRollEmpties({ tension: 40, setAtDiameter: 0.2, diameter: 0.0762 }))
    expect(value(windingTorque({ tension: empty, width: 1.37, diameter: 0.0762 }))).toBeCloseTo(torque, 9)
  })
})

it('gives a problem for bad input, never a throw or a NaN', () => {
  expect(withstand(webStress, { tension: 30, thickness: 80e-6 })).toEqual(['tension', 'thickness'])
  expect(withstand(tensionGuard, { thickness: 80e-6, guardStress: { low: 0.6e6, typical: 0.8e6, high: 1e6 } })).toEqual([
    'guardStress',
    'thickness',
  ])
  expect(withstand(leastTension, { grammage: 0.25, span: 0.5, sag: 2e-3 })).toEqual(['grammage', 'sag', 'span'])
  expect(withstand(windingTorque, { tension: 100, width: 1.6, diameter: 0.2 })).toEqual(['diameter', 'tension', 'width'])
  expect(withstand(tensionAsRollEmpties, { tension: 40, setAtDiameter: 0.2, diameter: 0.0762 })).toEqual([
    'diameter',
    'setAtDiameter',
    'tension',
  ])
})
