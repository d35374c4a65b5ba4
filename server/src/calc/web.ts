// Tension in a running web: what it stretches, how much a material takes, how little keeps it flat, and what the winding does with it.
import { type Outcome, refuse } from '../base/outcome.ts'
import { formula, rangeFormula, ZERO_OR_MORE } from './formula.ts'
import type { Range } from './range.ts'

/** Standard gravity, m/s2 (exact by definition, CGPM 1901). */
const GRAVITY = 9.80665
/** Stress under a line tension, Pa: N / t, with N in N/m and t in m of what carries the load. Errors: missing, not finite, below zero; t zero. */
export const webStress = ({ tension, thickness }: { tension: number; thickness: number }): Outcome<number> =>
  formula({ tension, thickness }, (v) => v.tension / v.thickness, { tension: ZERO_OR_MORE })

/**
 * The line tension that reaches a guard stress, N/m: stress x t. Guard stresses come from converting-trade tables in lb/in per mil, made for webs
 * driven without pause; a printer that feeds in steps over suction runs far lower, so this is an upper guard and not a setting. Inputs: Pa and m.
 * Errors: missing, not finite, zero or negative.
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

/** Torque a wound roll needs for a line tension, N m: N W D / 2, with the roll's diameter D. Errors: missing, not finite, below zero; D or W zero. */
export const windingTorque = (input: { tension: number; width: number; diameter: number }): Outcome<number> =>
  formula(
    { tension: input.tension, width: input.width, diameter: input.diameter },
    (v) => v.tension * v.width * (v.diameter / 2),
    { tension: ZERO_OR_MORE },
  )

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
