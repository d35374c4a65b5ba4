// Colour differences between two colours in CIELAB, and what many of them come to: the mean, the 95th percentile and the greatest.
import { type Outcome, ok, refuse } from '../base/outcome.ts'

/** A colour in CIELAB. Both colours of a difference are measured alike: the same illuminant, observer, filter and backing. */
export interface Lab {
  readonly l: number
  readonly a: number
  readonly b: number
}

interface ColourPair {
  readonly reference: Lab
  readonly measured: Lab
}

/**
 * CIEDE2000 with kL = kC = kH = 1. Source: Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary
 * Test Data, and Mathematical Observations", Color Res. Appl. 30 (2005) 21-30; ISO/CIE 11664-6. Made for differences below about 5; a large
 * one only says "far off". Hues without chroma count as 0. Errors: missing, not finite, beyond +-1000.
 */
export const deltaE2000 = (pair: ColourPair): Outcome<number> => difference(pair, ciede2000)

/** What many differences come to. */
export interface ColourSpread {
  readonly count: number
  readonly mean: number
  /** The smallest difference that at least 95 of 100 patches do not exceed (nearest rank): always that of a patch. */
  readonly p95: number
  readonly max: number
  /** The places of all differences in the list given, the greatest first. */
  readonly worst: readonly number[]
}

/**
 * Mean, 95th percentile by nearest rank, maximum and order of differences, in their own unit. Errors: none at all; one that is not finite or
 * negative; a sum that overflows.
 */
export function spreadOfDifferences({ differences }: { differences: readonly number[] }): Outcome<ColourSpread> {
  if (differences.length === 0) return refuse('differences', 'there is no patch to compare')
  let sum = 0
  for (const d of differences) {
    if (!(Number.isFinite(d) && d >= 0)) return refuse('differences', 'a colour difference must be a number of zero or more')
    sum += d
  }
  if (!Number.isFinite(sum)) return refuse('differences', 'the colour differences are too large to be added up')
  const worst = differences.map((_, i) => i).sort((i, j) => differences[j]! - differences[i]!)
  const count = differences.length
  // Counted in whole patches: 0.95 times 20 is 19 exactly, and floating point must not make 20 of it.
  const rank = Math.ceil((95 * count) / 100)
  return ok({
    count,
    mean: sum / count,
    p95: differences[worst[count - rank]!]!,
    max: differences[worst[0]!]!,
    worst,
  })
}

function difference({ reference, measured }: ColourPair, formula: (x: Lab, y: Lab) => number): Outcome<number> {
  for (const [input, colour] of [
    ['reference', reference],
    ['measured', measured],
  ] as const)
    if (!isColour(colour)) return refuse(input, `${input} is no colour: L*, a* and b* must be numbers within ±${BEYOND}`)
  return ok(formula(reference, measured))
}

/** No light gives numbers near it, and none within it makes the formula overflow. */
const BEYOND = 1000

/** Whether all three are numbers that a colour may have. */
export const isColour = (colour: Lab | undefined): boolean =>
  colour !== undefined && [colour.l, colour.a, colour.b].every((v) => Number.isFinite(v) && Math.abs(v) <= BEYOND)

const RADIANS = Math.PI / 180
const DEGREES = 180 / Math.PI

const POW7 = 25 ** 7

function ciede2000(x: Lab, y: Lab): number {
  const mean7 = ((Math.hypot(x.a, x.b) + Math.hypot(y.a, y.b)) / 2) ** 7
  const g = 0.5 * (1 - Math.sqrt(mean7 / (mean7 + POW7)))
  const [c1, h1] = chromaAndHue((1 + g) * x.a, x.b)
  const [c2, h2] = chromaAndHue((1 + g) * y.a, y.b)

  const dL = y.l - x.l
  const dC = c2 - c1
  let dh = h2 - h1
  if (dh > 180) dh -= 360
  else if (dh < -180) dh += 360
  const dH = 2 * Math.sqrt(c1 * c2) * Math.sin((dh / 2) * RADIANS)

  const l = (x.l + y.l) / 2
  const c = (c1 + c2) / 2
  // Of two hues more than half a turn apart the mean lies on the shorter way between them, across 0.
  let h = h1 + h2
  if (Math.abs(h1 - h2) <= 180) h /= 2
  else h = h < 360 ? (h + 360) / 2 : (h - 360) / 2
  const t =
    1 -
    0.17 * Math.cos((h - 30) * RADIANS) +
    0.24 * Math.cos(2 * h * RADIANS) +
    0.32 * Math.cos((3 * h + 6) * RADIANS) -
    0.2 * Math.cos((4 * h - 63) * RADIANS)
  const turn = 30 * Math.exp(-(((h - 275) / 25) ** 2))
  const c7 = c ** 7
  const rc = 2 * Math.sqrt(c7 / (c7 + POW7))
  const sl = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2)
  const sc = 1 + 0.045 * c
  const sh = 1 + 0.015 * c * t
  const rt = -Math.sin(2 * turn * RADIANS) * rc
  const [pl, pc, ph] = [dL / sl, dC / sc, dH / sh]
  // Rounding can leave a hair below nothing where two colours are one.
  return Math.sqrt(Math.max(0, pl * pl + pc * pc + ph * ph + rt * pc * ph))
}

/** Hue in degrees from 0 up to 360. A grey has none, and whichever it is given counts for nothing: dH is zero by its chroma. */
function chromaAndHue(a: number, b: number): readonly [chroma: number, hue: number] {
  const hue = Math.atan2(b, a) * DEGREES
  return [Math.hypot(a, b), hue < 0 ? hue + 360 : hue]
}
