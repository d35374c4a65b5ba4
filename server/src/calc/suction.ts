// Suction on the platen: what it holds flat, what it drags and stretches, and how that changes the feed from one pressure to another.
import type { Outcome } from '../base/outcome.ts'
import { FRACTION, POISSON, rangeFormula, SHARE, ZERO_OR_MORE } from './formula.ts'
import type { Range } from './range.ts'

/**
 * The share of the covered platen on which suction presses, a range. Assumption, to be replaced by a measured drag where there is one: at the low end the
 * web seals on the lands and suction acts over the openings only (the share `openArea`); at the high end air spreads under the whole web (share 1);
 * typically half of the lands feel it. Holes left uncovered lower the pressure itself, which is why levels are measured with the platen covered.
 * `openArea` is a fraction 0 to 1. Errors: missing, not finite, zero, or outside 0 to 1.
 */
export const holdingShare = ({ openArea }: { openArea: number }): Outcome<Range> =>
  rangeFormula({ openArea, landShare: LAND_SHARE }, (v) => v.openArea + (1 - v.openArea) * v.landShare, {
    openArea: SHARE,
    landShare: FRACTION,
  })

/** A suction, Pa, and the share of the covered platen it acts on (`holdingShare`), a fraction. */
interface Suction {
  readonly pressure: number
  readonly share: number | Range
}

/** Force that holds down a covered area, N: p x share x width x depth, in m; the covered area only. Errors: missing, not finite, below zero. */
export const holdingForce = (input: Suction & { width: number; depth: number }): Outcome<Range> =>
  rangeFormula(
    { pressure: input.pressure, share: input.share, width: input.width, depth: input.depth },
    (v) => v.pressure * v.share * v.width * v.depth,
    SUCTION_ALLOWED,
  )

/**
 * Drag per metre of width, N/m: mu p x share x depth, where depth is the length of the suction zone along the feed, m. Friction is Coulomb's; methods
 * ASTM D1894 and ISO 8295. Not valid for cloth that lets the air through. Errors: missing, not finite, below zero; depth zero.
 */
export const suctionDrag = (input: Suction & { friction: number | Range; depth: number }): Outcome<Range> =>
  rangeFormula(dragInputs(input), dragOf, SUCTION_ALLOWED)

/** The web that the drag stretches: modulus in Pa and thickness in m of what carries the load. */
export interface DraggedWeb {
  readonly friction: number | Range
  readonly depth: number
  readonly modulus: number | Range
  readonly thickness: number
}

/**
 * Strain of the web behind the suction zone by its drag, a fraction: mu p x share x depth / (E t). Valid below the yield stress. Errors: as `suctionDrag`;
 * a modulus or thickness of zero or below.
 */
export const suctionStretch = (input: Suction & DraggedWeb): Outcome<Range> =>
  rangeFormula(
    { ...dragInputs(input), modulus: input.modulus, thickness: input.thickness },
    (v) => dragOf(v) / v.thickness / v.modulus,
    SUCTION_ALLOWED,
  )

/**
 * What changing the suction does to the printed length: the strain at the new pressure less that at the old, a fraction (0.001 is 1 mm/m). Above zero,
 * the web is stretched more while printed and the relaxed print comes out shorter, so a feed correction found at the old pressure no longer holds.
 * Both pressures share friction and modulus, so the difference is formed before the range. Errors: as `suctionStretch`.
 */
export const feedChange = (
  input: DraggedWeb & { share: number | Range; fromPressure: number; toPressure: number },
): Outcome<Range> =>
  rangeFormula(
    {
      fromPressure: input.fromPressure,
      toPressure: input.toPressure,
      share: input.share,
      friction: input.friction,
      depth: input.depth,
      modulus: input.modulus,
      thickness: input.thickness,
    },
    (v) => dragOf({ ...v, pressure: v.toPressure - v.fromPressure }) / v.thickness / v.modulus,
    { ...SUCTION_ALLOWED, fromPressure: ZERO_OR_MORE, toPressure: ZERO_OR_MORE },
  )

/** A curled web under suction: modulus Pa, thickness m, and the radius it would curl to if free, m. */
export interface CurledWeb {
  readonly modulus: number | Range
  readonly thickness: number
  readonly poisson: number | Range
  readonly curlRadius: number | Range
}

/** The strip along an edge that suction does not flatten. */
export interface StandingCurl {
  /** Width of the strip that stays free, m: sqrt(2 D / (R p)). */
  readonly length: Range
  /** How far its edge stands up, m: length^2 / (2 R). */
  readonly rise: Range
}

/**
 * Curl that suction leaves standing. The bending moment D / R that flattens a strip is what the suction on it gives, p l^2 / 2, so l = sqrt(2 D / (R p))
 * and the edge rises l^2 / (2 R) = D / (R^2 p). Derived; valid for a strip shorter than half of R. A web that suction cannot hold at all curls to its free
 * radius, so the length stops at half a turn and the rise at two radii. Errors: missing, not finite; zero or below (pressure may be zero).
 */
export function standingCurl(input: Suction & CurledWeb): Outcome<StandingCurl> {
  const { pressure, share, modulus, thickness, poisson, curlRadius } = input
  const inputs = { pressure, share, modulus, thickness, poisson, curlRadius }
  const length = rangeFormula(
    inputs,
    (v) => Math.min(Math.PI * v.curlRadius, Math.sqrt(2 * riseOf(v) * v.curlRadius)),
    SUCTION_ALLOWED,
  )
  if (!length.ok) return length
  const rise = rangeFormula(inputs, (v) => Math.min(2 * v.curlRadius, riseOf(v)), SUCTION_ALLOWED)
  return rise.ok ? { ok: true, value: { length: length.value, rise: rise.value } } : rise
}

/** Pressure that flattens a curl down to a rise, Pa: D / (R^2 x rise x share). Errors: as `standingCurl`; a rise of zero or below. */
export const pressureToFlatten = (input: CurledWeb & { share: number | Range; rise: number }): Outcome<Range> =>
  rangeFormula(
    {
      share: input.share,
      modulus: input.modulus,
      thickness: input.thickness,
      poisson: input.poisson,
      curlRadius: input.curlRadius,
      rise: input.rise,
    },
    (v) => moment(v) / v.curlRadius / (v.rise * v.share),
    { share: SHARE, poisson: POISSON },
  )

const LAND_SHARE: Range = { low: 0, typical: 0.5, high: 1 }
const SUCTION_ALLOWED = { pressure: ZERO_OR_MORE, share: SHARE, friction: ZERO_OR_MORE, poisson: POISSON }

const dragInputs = (input: Suction & { friction: number | Range; depth: number }) => ({
  pressure: input.pressure,
  share: input.share,
  friction: input.friction,
  depth: input.depth,
})

const dragOf = (v: { friction: number; pressure: number; share: number; depth: number }): number =>
  v.friction * v.pressure * v.share * v.depth

interface Bent {
  readonly modulus: number
  readonly thickness: number
  readonly poisson: number
  readonly curlRadius: number
}

/** Bending moment per width that flattens a curl, N: D / R. */
const moment = ({ modulus, thickness, poisson, curlRadius }: Bent): number =>
  (modulus * thickness ** 3) / (12 * (1 - poisson ** 2)) / curlRadius

const riseOf = (v: Bent & { pressure: number; share: number }): number => moment(v) / v.curlRadius / (v.pressure * v.share)
