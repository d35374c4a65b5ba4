// How far a film sags into a suction hole: a clamped circular plate under pressure, from a stiff plate to a limp membrane.
import type { Outcome } from '../base/outcome.ts'
import { POISSON, rangeFormula, ZERO_OR_MORE } from './formula.ts'
import type { Range } from './range.ts'

/** Depth of an ideal membrane over a (p a / E t)^(1/3): energy method; Hencky's exact series gives 0.653 at nu 0.3. */
const MEMBRANE_COEFFICIENT = 0.662
/** Stiffening by stretching of a clamped plate whose edge cannot move, nu 0.3. */
const STRETCH_COEFFICIENT = 0.488

/**
 * Depth at its middle of the dimple a film makes over a round suction hole, m. Inputs: suction and modulus in Pa, hole diameter (not radius) and thickness
 * in m, Poisson's ratio from 0 to 0.99. It is the shallower of two: a clamped plate that bends and stretches, the root of w (1 + 0.488 w^2/t^2) = p a^4 / (64 D)
 * with D = E t^3 / (12 (1 - nu^2)) and a half the hole's diameter; and a membrane too limp to bend, 0.662 a (p a/(E t))^(1/3). Each leaves out part of what
 * resists, so each is too deep, and the shallower is the nearer: 0 to 3 % too deep up to w/t 1, at most 8 % between, 4 % beyond w/t 5 (against a numerical
 * solution of von Karman's plate equations at nu 0.3). It is continuous, so more suction never computes a shallower dimple. The coefficients are for nu near
 * 0.3 and an edge that cannot slide, so they hold for a film that the suction around the hole keeps in place. Not valid for cloth that lets the air through.
 * Source: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, sections 97 and 100 (from memory); the linear part: Chen & Lui, Civil Engineering
 * Handbook, 2nd ed., eq. 47.73. Errors: any input missing, not finite, zero or negative (pressure may be zero); nu outside 0 to 0.99.
 */
export const dimpleDepth = (film: {
  pressure: number
  holeDiameter: number
  modulus: number | Range
  thickness: number
  poisson: number | Range
}): Outcome<Range> => {
  const { pressure, holeDiameter, modulus, thickness, poisson } = film
  return rangeFormula({ pressure, holeDiameter, modulus, thickness, poisson }, nearest, {
    pressure: ZERO_OR_MORE,
    poisson: POISSON,
  })
}

interface FilmOverHole {
  readonly pressure: number
  readonly holeDiameter: number
  readonly modulus: number
  readonly thickness: number
  readonly poisson: number
}

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

/**
 * Depth over thickness solved from the linear one: the only real root of x (1 + c x^2) = linear. By the hyperbolic form of Cardano's rule, which
 * loses no digits where the plain form subtracts equal numbers.
 */
function cubicRoot(linearRatio: number): number {
  const scale = 2 / Math.sqrt(3 * STRETCH_COEFFICIENT)
  return scale * Math.sinh(Math.asinh(1.5 * linearRatio * Math.sqrt(3 * STRETCH_COEFFICIENT)) / 3)
}
