// Curl: how much a core bends a film, what that does to its two faces, and which way a web rises on the platen for each way of winding.
import type { Outcome } from '../base/outcome.ts'
import { formula, ZERO_OR_MORE } from './formula.ts'

/** A web on a roll: its thickness and the diameter (not radius) it lies on, in m. */
export interface WoundWeb {
  readonly thickness: number
  readonly diameter: number
}

/**
 * Strain that winding gives each face, a fraction: the outer face is longer and the inner one shorter than the middle by t / (D + t), nearly t / D.
 * Polymers take 1 to 3 % elastically (from memory), so what stays is creep: it grows with time, warmth and nearness to the core. Source: bending geometry.
 * Errors: missing, not finite, zero or negative.
 */
export const woundStrain = ({ thickness, diameter }: WoundWeb): Outcome<number> => formula({ thickness, diameter }, strainOf)

/** How much longer the outer face lies than the inner over a length of web, m: 2 L t / (D + t). Errors: as `woundStrain`; a negative length. */
export const faceLengthDifference = ({ thickness, diameter, length }: WoundWeb & { length: number }): Outcome<number> =>
  formula({ thickness, diameter, length }, (v) => 2 * v.length * strainOf(v), { length: ZERO_OR_MORE })

/**
 * The tightest radius a wound web can curl to, m: half the diameter it lay on, as if it kept all of its bend. A fresh or thin web curls far less; use
 * this where no radius was measured and the worst must be borne. Errors: missing, not finite, zero or negative.
 */
export const tightestCurlRadius = ({ diameter }: { diameter: number }): Outcome<number> =>
  formula({ diameter }, (v) => v.diameter / 2)

/** Where the print face looks on the roll: `in` towards the core, `out` away from it. */
export type Winding = 'in' | 'out'

/** What the curl of a winding lifts off the platen. */
export interface CurlDirection {
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

const strainOf = ({ thickness, diameter }: WoundWeb): number => thickness / (diameter + thickness)
