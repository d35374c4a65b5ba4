// Tension in a running web: what it stretches, how much a material takes, how little keeps it flat, and what the winding does with it.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { type Allowed, ANY, FRACTION, formula, inputProblem, rangeFormula, ZERO_OR_MORE } from './formula.ts'
import type { Range } from './range.ts'

/** Standard gravity, m/s2 (exact by definition, CGPM 1901). */
export const GRAVITY = 9.80665
/** One pound-force per inch of width, N/m: 4.4482216152605 N over 0.0254 m (NIST SP 811 App. B). */
export const POUND_FORCE_PER_INCH = 4.4482216152605 / 0.0254
/** One pound-force per inch of width per mil of thickness, Pa: the unit of the trade's tension tables, equal to 1000 psi. */
export const POUND_FORCE_PER_INCH_PER_MIL = POUND_FORCE_PER_INCH / 25.4e-6

/** Stress under a line tension, Pa: N / t, with N in N/m and t in m of what carries the load. Errors: missing, not finite, below zero; t zero. */
export const webStress = ({ tension, thickness }: { tension: number; thickness: number }): Outcome<number> =>
  formula({ tension, thickness }, (v) => v.tension / v.thickness, { tension: ZERO_OR_MORE })

/**
 * Strain under a line tension, a fraction: N / (t E). What is printed on the stretched web comes out shorter by this much once it relaxes. Valid
 * below the yield stress; cloth is not linear, so its result is a guide only. Errors: as `webStress`; a modulus that is zero or below.
 */
export const webStrain = (input: { tension: number | Range; thickness: number; modulus: number | Range }): Outcome<Range> =>
  rangeFormula(
    { tension: input.tension, thickness: input.thickness, modulus: input.modulus },
    (v) => v.tension / v.thickness / v.modulus,
    { tension: ZERO_OR_MORE },
  )

/**
 * The line tension that reaches a guard stress, N/m: stress x t. Guard stresses come from converting-trade tables in lb/in per mil, made for webs
 * driven without pause; a printer that feeds in steps over suction runs far lower, so this is an upper guard and not a setting.
 */
export const tensionGuard = (input: { thickness: number; guardStress: number | Range }): Outcome<Range> =>
  rangeFormula({ thickness: input.thickness, guardStress: input.guardStress }, (v) => v.guardStress * v.thickness)

/**
 * The least line tension that keeps a span from sagging more than `sag`, N/m: G g span^2 / (8 sag), a shallow catenary. Valid for sag below a tenth
 * of the span. Inputs: grammage kg/m2, span m, sag m. Errors: missing, not finite, zero or negative; sag above a tenth of the span.
 */
export function leastTension({ grammage, span, sag }: { grammage: number; span: number; sag: number }): Outcome<number> {
  const tension = formula({ grammage, span, sag }, (v) => (v.grammage * GRAVITY * v.span * (v.span / v.sag)) / 8)
  if (tension.ok && sag > span / 10) return refuse('sag', 'the sag is more than a tenth of the span, too deep for a taut web')
  return tension
}

/** The line tensions a web may run at: from what keeps it flat to what its material takes. */
export interface TensionBounds {
  /** No less than this, or the web sags, N/m. */
  readonly least: number
  /** No more than this, N/m. */
  readonly guard: Range
  /** Whether any tension satisfies both, taking the guard at its lowest. */
  readonly possible: boolean
}

/** `leastTension` and `tensionGuard` together. Errors: those of either. */
export function tensionBounds(input: {
  grammage: number
  span: number
  sag: number
  thickness: number
  guardStress: number | Range
}): Outcome<TensionBounds> {
  const least = leastTension(input)
  if (!least.ok) return least
  const guard = tensionGuard(input)
  if (!guard.ok) return guard
  return ok({ least: least.value, guard: guard.value, possible: least.value <= guard.value.low })
}

/** Torque a wound roll needs for a line tension, N m: N W D / 2, with the roll's diameter D. Errors: missing, not finite, below zero; D or W zero. */
export const windingTorque = (input: { tension: number; width: number; diameter: number }): Outcome<number> =>
  formula(
    { tension: input.tension, width: input.width, diameter: input.diameter },
    (v) => v.tension * v.width * (v.diameter / 2),
    { tension: ZERO_OR_MORE },
  )

/** Line tension that a torque gives on a roll of this diameter, N/m: 2 M / (W D). At one torque the tension rises as the roll empties. */
export const tensionAtTorque = (input: { torque: number; width: number; diameter: number }): Outcome<number> =>
  formula({ torque: input.torque, width: input.width, diameter: input.diameter }, (v) => (2 * v.torque) / v.width / v.diameter, {
    torque: ZERO_OR_MORE,
  })

/**
 * Line tension at another diameter under the same torque, N/m: N D / D'. So a brake set on a full roll of 200 mm pulls 2.6 times as hard at a core
 * of 76.2 mm. Errors: missing, not finite, below zero; a diameter of zero.
 */
export const tensionAsRollEmpties = (input: { tension: number; setAtDiameter: number; diameter: number }): Outcome<number> =>
  formula(
    { tension: input.tension, setAtDiameter: input.setAtDiameter, diameter: input.diameter },
    (v) => v.tension * (v.setAtDiameter / v.diameter),
    { tension: ZERO_OR_MORE },
  )

/** Hyperbolic: N0 [1 - tau (1 - d0/d)]. Linear: N0 [1 - tau (d - d0)/(dmax - d0)]. A taper means nothing until its law is named. */
export type TaperLaw = 'hyperbolic' | 'linear'

/**
 * Line tension while a roll winds up under taper, N/m. `taper` is a fraction 0 to 1; `fullDiameter` is used by the linear law only. Source: the hyperbolic
 * law is in slitting-equipment guides; both are named in Lee et al. 2009, J. Mech. Sci. Technol. 23:3036. Errors: missing, not finite; taper
 * outside 0 to 1; a diameter below the core, or above the full roll under the linear law.
 */
export function taperedTension(input: {
  law: TaperLaw
  tension: number
  taper: number
  coreDiameter: number
  diameter: number
  fullDiameter?: number
}): Outcome<number> {
  const { law, tension, taper, coreDiameter, diameter } = input
  const allowed: Allowed = { tension: ZERO_OR_MORE, taper: FRACTION }
  const problem = inputProblem({ tension, taper, coreDiameter, diameter }, allowed)
  if (problem) return { ok: false, problem }
  if (diameter < coreDiameter) return refuse('diameter', 'the diameter is smaller than the core')
  if (law === 'hyperbolic')
    return formula({ tension, taper }, (v) => v.tension * (1 - v.taper * (1 - coreDiameter / diameter)), allowed)
  if (law !== 'linear') return refuse('law', 'the taper law must be hyperbolic or linear')
  const fullProblem = inputProblem({ fullDiameter: input.fullDiameter })
  if (fullProblem) return { ok: false, problem: fullProblem }
  const fullDiameter = input.fullDiameter!
  if (fullDiameter <= coreDiameter) return refuse('fullDiameter', 'the full roll of a linear taper must be larger than the core')
  if (diameter > fullDiameter) return refuse('diameter', 'the diameter is larger than the full roll')
  const wound = (diameter - coreDiameter) / (fullDiameter - coreDiameter)
  return formula({ tension, taper }, (v) => v.tension * (1 - v.taper * wound), allowed)
}

/**
 * How much tighter a web is after sliding over a bar than before it: exp(mu theta), Euler and Eytelwein's capstan equation. `wrapAngle` in rad, friction
 * a plain number. Errors: missing, not finite, below zero.
 */
export const capstanRatio = (input: { friction: number | Range; wrapAngle: number }): Outcome<Range> =>
  rangeFormula({ friction: input.friction, wrapAngle: input.wrapAngle }, (v) => Math.exp(v.friction * v.wrapAngle), {
    friction: ZERO_OR_MORE,
    wrapAngle: ZERO_OR_MORE,
  })

/** Length that a strain adds to (or, below zero, takes from) a length, m. Errors: missing, not finite; negative length. */
export const stretchOf = (input: { strain: number; length: number }): Outcome<number> =>
  formula({ strain: input.strain, length: input.length }, (v) => v.strain * v.length, { strain: ANY, length: ZERO_OR_MORE })
