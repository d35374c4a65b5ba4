// How far a film sags into a suction hole: a clamped circular plate under pressure, from a stiff plate to a limp membrane.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { ANY, formula, inputProblem, POISSON, rangeFormula, ZERO_OR_MORE } from './formula.ts'
import type { Range } from './range.ts'

/** A flat film: modulus in Pa, thickness in m, Poisson's ratio from 0 to 0.99. */
export interface Film {
  readonly modulus: number
  readonly thickness: number
  readonly poisson: number
}

/** A film over a round hole: suction in Pa, hole diameter (not radius) in m. */
export interface FilmOverHole extends Film {
  readonly pressure: number
  readonly holeDiameter: number
}

/**
 * What resists the pressure, by depth over thickness w/t: `linear` below 0.2 (bending alone, the linear formula holds within 2 %), `large` to 5
 * (bending and stretching), `membrane` beyond (stretching alone).
 */
export type PlateRegime = 'linear' | 'large' | 'membrane'

export interface Dimple {
  /** Depth at the middle of the hole, m. */
  readonly depth: number
  readonly regime: PlateRegime
  /** Depth over thickness. */
  readonly ratio: number
}

/** Depth over thickness below which bending alone resists, and beyond which stretching alone does. */
export const LINEAR_TO = 0.2
export const MEMBRANE_FROM = 5

/** Depth of an ideal membrane over a (p a / E t)^(1/3): energy method; Hencky's exact series gives 0.653 at nu 0.3. */
const MEMBRANE_COEFFICIENT = 0.662
/** Stiffening by stretching of a clamped plate whose edge cannot move, nu 0.3. */
const STRETCH_COEFFICIENT = 0.488

/**
 * Bending stiffness D = E t^3 / (12 (1 - nu^2)), N m. Source: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, section 2.
 * Errors: any input missing, not finite, zero or negative; nu outside 0 to 0.99.
 */
export const bendingStiffness = ({ modulus, thickness, poisson }: Film): Outcome<number> =>
  formula({ modulus, thickness, poisson }, stiffness, { poisson: POISSON })

/**
 * Depth w0 = p a^4 / (64 D) of a clamped film by the linear formula, m; a is half the hole's diameter. Valid below w/t = 0.2; far too deep beyond.
 * With `edge: 'supported'` the edge may tilt: (5 + nu)/(1 + nu) times as deep. Source: Chen & Lui, Civil Engineering Handbook, 2nd ed., eq. 47.73.
 * Errors: as `bendingStiffness`; a negative pressure.
 */
export const linearDepth = ({ edge = 'clamped', ...film }: FilmOverHole & { edge?: 'clamped' | 'supported' }): Outcome<number> =>
  formula(holeInputs(film), (v) => linear(v) * (edge === 'supported' ? (5 + v.poisson) / (1 + v.poisson) : 1), ALLOWED)

/**
 * Depth with stretching, m: the root of w (1 + 0.488 w^2/t^2) = w0. The coefficient is for nu 0.3 and an edge that cannot slide, so it holds for a
 * film that the suction around the hole keeps in place. Source: Timoshenko & Woinowsky-Krieger section 97 (from memory).
 */
export const stretchedDepth = (film: FilmOverHole): Outcome<number> => formula(holeInputs(film), stretched, ALLOWED)

/**
 * Depth of a film so limp that bending does not count, m: w = 0.662 a (p a/(E t))^(1/3). Poisson's ratio is not used (0.662 is near nu 0.25 to 0.3).
 * Source: Timoshenko & Woinowsky-Krieger section 100 (from memory).
 */
export const membraneDepth = (film: FilmOverHole): Outcome<number> => formula(holeInputs(film), membrane, ALLOWED)

/**
 * Depth of the dimple a film makes over a suction hole, and which regime it is in. Every formula here leaves out part of what resists, so each is too
 * deep, and the shallowest of them is the nearest: 0 to 3 % too deep up to w/t 1, at most 8 % between, 4 % beyond w/t 5 (against a numerical
 * solution of von Karman's plate equations at nu 0.3). It is continuous, so more suction never computes a shallower dimple. Not valid for cloth
 * that lets the air through. Errors: as `linearDepth`.
 */
export function dimple(film: FilmOverHole): Outcome<Dimple> {
  const inputs = holeInputs(film)
  const depth = formula(inputs, nearest, ALLOWED)
  if (!depth.ok) return depth
  const ratio = depth.value / film.thickness
  if (!Number.isFinite(ratio)) return refuse('thickness', 'the thickness is too far from any real value to compute with')
  return ok({ depth: depth.value, regime: ratio < LINEAR_TO ? 'linear' : ratio <= MEMBRANE_FROM ? 'large' : 'membrane', ratio })
}

/** The depth of `dimple` for a modulus and a Poisson's ratio known within ranges, m. Errors: as `dimple`. */
export const dimpleDepth = (film: {
  pressure: number
  holeDiameter: number
  modulus: number | Range
  thickness: number
  poisson: number | Range
}): Outcome<Range> => {
  const { pressure, holeDiameter, modulus, thickness, poisson } = film
  return rangeFormula({ pressure, holeDiameter, modulus, thickness, poisson }, nearest, ALLOWED)
}

/**
 * Bending stress at the clamped edge by the linear formula, Pa: 3 p a^2 / (4 t^2). Valid below w/t = 0.2, an upper bound beyond. Same source.
 * Errors: any input missing, not finite; zero or negative thickness or diameter; negative pressure.
 */
export const edgeStress = (input: { pressure: number; holeDiameter: number; thickness: number }): Outcome<number> =>
  formula(
    { pressure: input.pressure, holeDiameter: input.holeDiameter, thickness: input.thickness },
    ({ pressure, holeDiameter, thickness }) => 0.75 * pressure * (holeDiameter / (2 * thickness)) ** 2,
    { pressure: ZERO_OR_MORE },
  )

/**
 * Depth over thickness solved from the linear one: the only real root of x (1 + c x^2) = linear. By the hyperbolic form of Cardano's rule, which
 * loses no digits where the plain form subtracts equal numbers. Errors: a missing or non-finite ratio.
 */
export function stretchedRatio(linearRatio: number): Outcome<number> {
  const problem = inputProblem({ linearRatio }, { linearRatio: ANY })
  return problem ? { ok: false, problem } : ok(cubicRoot(linearRatio))
}

const ALLOWED = { pressure: ZERO_OR_MORE, poisson: POISSON }

const holeInputs = ({ pressure, holeDiameter, modulus, thickness, poisson }: FilmOverHole) => ({
  pressure,
  holeDiameter,
  modulus,
  thickness,
  poisson,
})

const stiffness = ({ modulus, thickness, poisson }: Film): number => (modulus * thickness ** 3) / (12 * (1 - poisson ** 2))

// Lengths are taken over the thickness first, so that a film of micrometres does not underflow in t^3.
const linear = ({ pressure, holeDiameter, modulus, thickness, poisson }: FilmOverHole): number => {
  const slenderness = holeDiameter / (2 * thickness)
  return thickness * ((pressure / modulus) * slenderness ** 4 * ((12 * (1 - poisson ** 2)) / 64))
}

const stretched = (film: FilmOverHole): number => film.thickness * cubicRoot(linear(film) / film.thickness)

const membrane = ({ pressure, holeDiameter, modulus, thickness }: FilmOverHole): number => {
  const radius = holeDiameter / 2
  return MEMBRANE_COEFFICIENT * radius * Math.cbrt((pressure / modulus) * (radius / thickness))
}

// The linear formula is never the shallowest: stretching only takes away from it.
const nearest = (film: FilmOverHole): number => Math.min(stretched(film), membrane(film))

function cubicRoot(linearRatio: number): number {
  const scale = 2 / Math.sqrt(3 * STRETCH_COEFFICIENT)
  return scale * Math.sinh(Math.asinh(1.5 * linearRatio * Math.sqrt(3 * STRETCH_COEFFICIENT)) / 3)
}
