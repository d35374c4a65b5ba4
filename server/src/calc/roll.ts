// The geometry of a wound roll: metres from diameter and back, mass, and the thickness that a roll of known length shows.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { ANY, formula, inputProblem, ZERO_OR_MORE } from './formula.ts'

/**
 * A wound roll: both diameters in m (diameters, not radii), and the thickness in m of everything that winds: film, adhesive and liner together, with the
 * air wound in where it is known (`effectiveThickness`).
 */
interface WoundRoll {
  readonly outsideDiameter: number
  readonly coreDiameter: number
  readonly thickness: number
}

/**
 * Metres on a roll: L = pi (D^2 - d^2) / (4 t), the area of the ring over the thickness. Valid for t far below d. Check: 5 in on 2 in with 0.011 in
 * holds 1499.4 in. Source: area of the ring. Errors: missing, not finite, zero or negative; an outside diameter below the core. An empty core holds 0 m.
 */
export function rollLength(roll: WoundRoll): Outcome<number> {
  const inputs = rollInputs(roll)
  const problem = rollProblem(roll)
  return problem ?? formula(inputs, lengthOf)
}

/** Outside diameter of a roll that holds a length, m: D = sqrt(d^2 + 4 L t / pi). Errors: missing, not finite, below zero; core or thickness zero. */
export const rollDiameter = (input: { length: number; coreDiameter: number; thickness: number }): Outcome<number> =>
  formula(
    { length: input.length, coreDiameter: input.coreDiameter, thickness: input.thickness },
    (v) => Math.hypot(v.coreDiameter, Math.sqrt((4 / Math.PI) * v.length * v.thickness)),
    { length: ZERO_OR_MORE },
  )

/**
 * Mass of a length of web, kg: G W L, with the grammage in kg/m2 of everything that winds, liner included; the core is not counted.
 * Errors: missing, not finite, below zero; grammage or width zero.
 */
export const rollMass = (input: { grammage: number; width: number; length: number }): Outcome<number> =>
  formula({ grammage: input.grammage, width: input.width, length: input.length }, (v) => v.grammage * v.width * v.length, {
    length: ZERO_OR_MORE,
  })

/**
 * Thickness per turn that a roll of known length shows, m: pi (D^2 - d^2) / (4 L), diameters and length in m. It holds the air and the compression of that
 * winding. Source: area of the ring, as `rollLength`. Errors: missing, not finite, zero or negative; an outside diameter no larger than the core.
 */
export function effectiveThickness(input: { outsideDiameter: number; coreDiameter: number; length: number }): Outcome<number> {
  const { outsideDiameter, coreDiameter, length } = input
  const problem = inputProblem({ outsideDiameter, coreDiameter, length })
  if (problem) return { ok: false, problem }
  if (outsideDiameter <= coreDiameter) return refuse('outsideDiameter', 'the outside diameter must be larger than the core')
  return formula({ outsideDiameter, coreDiameter, length }, (v) => ringArea(v) / v.length)
}

/** What a slip in measuring changes in the metres computed, m: more diameter is more metres, more thickness fewer. */
interface LengthSensitivity {
  readonly byDiameter: number
  readonly byThickness: number
}

/**
 * How the length answers to an error in diameter and in thickness, m; the whole change, not the tangent. `diameterError` and `thicknessError` in m, of either sign.
 * Errors: as `rollLength`; an error that makes the roll smaller than its core or the thickness zero.
 */
export function lengthSensitivity({
  diameterError,
  thicknessError,
  ...roll
}: WoundRoll & { diameterError: number; thicknessError: number }): Outcome<LengthSensitivity> {
  const problem = inputProblem({ diameterError, thicknessError }, { diameterError: ANY, thicknessError: ANY })
  if (problem) return { ok: false, problem }
  const length = rollLength(roll)
  if (!length.ok) return length
  const otherDiameter = rollLength({ ...roll, outsideDiameter: roll.outsideDiameter + diameterError })
  if (!otherDiameter.ok) return refuse('diameterError', 'the error in diameter makes the roll smaller than its core')
  const otherThickness = rollLength({ ...roll, thickness: roll.thickness + thicknessError })
  if (!otherThickness.ok) return refuse('thicknessError', 'the error in thickness leaves no thickness')
  return ok({ byDiameter: otherDiameter.value - length.value, byThickness: otherThickness.value - length.value })
}

/** Thickness of everything that winds, m: the sum of the layers. Errors: no layers; a layer missing, not finite, zero or negative. */
export function totalThickness(layers: readonly number[]): Outcome<number> {
  if (layers.length === 0) return refuse('layers', 'there are no layers to add up')
  for (const [index, thickness] of layers.entries()) {
    const problem = inputProblem({ thickness })
    if (problem) return refuse('layers', `${problem.reason} in layer ${index + 1}`)
  }
  const sum = layers.reduce((total, layer) => total + layer, 0)
  return Number.isFinite(sum) ? ok(sum) : refuse('layers', 'the layers are too thick to add up')
}

/** Grammage of a sheet, kg/m2: density x thickness (ISO 536, ISO 534). Errors: missing, not finite, zero or negative. */
export const grammageOf = ({ density, thickness }: { density: number; thickness: number }): Outcome<number> =>
  formula({ density, thickness }, (v) => v.density * v.thickness)

/** Density of a sheet, kg/m3: grammage / thickness. Errors: missing, not finite, zero or negative. */
export const densityOf = ({ grammage, thickness }: { grammage: number; thickness: number }): Outcome<number> =>
  formula({ grammage, thickness }, (v) => v.grammage / v.thickness)

const rollInputs = ({ outsideDiameter, coreDiameter, thickness }: WoundRoll) => ({ outsideDiameter, coreDiameter, thickness })

function rollProblem(roll: WoundRoll): Outcome<never> | undefined {
  const problem = inputProblem(rollInputs(roll))
  if (problem) return { ok: false, problem }
  if (roll.outsideDiameter < roll.coreDiameter) return refuse('outsideDiameter', 'the outside diameter is smaller than the core')
  return undefined
}

// (D - d)(D + d) keeps the digits that D^2 - d^2 loses on a nearly empty roll.
const ringArea = (v: { outsideDiameter: number; coreDiameter: number }): number =>
  (Math.PI / 4) * (v.outsideDiameter - v.coreDiameter) * (v.outsideDiameter + v.coreDiameter)

const lengthOf = (v: WoundRoll): number => ringArea(v) / v.thickness
