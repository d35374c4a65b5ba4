// Curl: how much a core bends a film, what that does to its two faces, and which way a web rises on the platen for each way of winding.
import type { Outcome } from '../base/outcome.ts'
import { formula, POISSON, rangeFormula } from './formula.ts'
import type { Range } from './range.ts'

/** A web on a roll: its thickness and the diameter (not radius) it lies on, in m. */
interface WoundWeb {
  readonly thickness: number
  readonly diameter: number
}

/**
 * Strain that winding gives each face, a fraction: the outer face is longer and the inner one shorter than the middle by t / (D + t), nearly t / D.
 * Polymers take 1 to 3 % elastically (from memory), so what stays is creep: it grows with time, warmth and nearness to the core. Source: bending geometry.
 * Errors: missing, not finite, zero or negative.
 */
export const woundStrain = ({ thickness, diameter }: WoundWeb): Outcome<number> => formula({ thickness, diameter }, strainOf)

/** Where the print face looks on the roll: `in` towards the core, `out` away from it. */
type Winding = 'in' | 'out'

/** What the curl of a winding lifts off the platen. */
interface CurlDirection {
  readonly lifts: 'edges' | 'middle'
  readonly towardsHeads: string
}

/**
 * Which way a web curls on the platen, print face up. From the geometry of winding (from memory): the print face of a web wound in was the shorter one, so
 * it pulls the lead and the edges up; wound out is the reverse. A winding that is neither gives undefined.
 */
export function curlDirection(wound: Winding): CurlDirection | undefined {
  if (wound === 'in') return { lifts: 'edges', towardsHeads: 'the lead and the edges lift towards the heads' }
  if (wound === 'out') return { lifts: 'middle', towardsHeads: 'the lead and the edges turn down, and the middle may bow up' }
  return undefined
}

/**
 * The pull at which the loose end of a roll wound against the web's own curl stays put, N/m: D / 2 (1/r + 1/R)^2, with D = E t^3 / (12 (1 - nu^2)), r half the diameter
 * it is wound on and R the radius it would curl to if free. Derived: what bending a further length back takes is what the pull must give. Inputs in Pa and m.
 * Errors: missing, not finite, zero or negative; nu outside 0 to 0.99.
 */
export const pullAgainstCurl = (input: {
  modulus: number | Range
  thickness: number
  poisson: number | Range
  diameter: number
  curlRadius: number | Range
}): Outcome<Range> =>
  rangeFormula(
    {
      modulus: input.modulus,
      thickness: input.thickness,
      poisson: input.poisson,
      diameter: input.diameter,
      curlRadius: input.curlRadius,
    },
    (v) => ((v.modulus * v.thickness ** 3) / (24 * (1 - v.poisson ** 2))) * (2 / v.diameter + 1 / v.curlRadius) ** 2,
    { poisson: POISSON },
  )

const strainOf = ({ thickness, diameter }: WoundWeb): number => thickness / (diameter + thickness)
