// How well the eye sees bands of a given period from a given distance: a contrast sensitivity function, for ranking bands and
// nothing more.
import { type Outcome, ok } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'

/** What a ranking by contrast sensitivity does not say. */
export const VISIBILITY_CAUTION =
  'Contrast sensitivity ranks bands, it does not pass or fail them: real bands of a print are seen at lower contrast than the smooth waves it was ' +
  'measured with, and a single line or step is seen at any distance that resolves it. Look at the print from where the customer will.'

/** m of surface that one degree of sight covers, per m of distance. */
const DEGREE = 2 * Math.tan(Math.PI / 360)
/** cycles per degree at which Mannos & Sakrison's function is greatest, and its value there. */
export const PEAK_FREQUENCY = 7.8909
const PEAK = 0.980_88

/** Cycles per degree of bands `period` m apart seen from `viewingDistance` m, straight ahead. Errors: missing, not finite, zero or negative. */
function bandFrequency(input: { period: number; viewingDistance: number }): Outcome<number> {
  const refusal = refusalOf(input, { positive: ['period', 'viewingDistance'] })
  return refusal ?? finished('period', (input.viewingDistance * DEGREE) / input.period)
}

/**
 * m from which bands `period` m apart are seen best: where they come to 7.89 cycles per degree, at which Mannos & Sakrison's function is greatest.
 * Valid for bands that repeat; a single line or step is seen best from close by. Source: Mannos & Sakrison 1974, IEEE Trans. Inf. Theory 20:525.
 * Errors: missing, not finite, zero or negative.
 */
export function mostVisibleDistance(input: { period: number }): Outcome<number> {
  return refusalOf(input, { positive: ['period'] }) ?? finished('period', (PEAK_FREQUENCY * input.period) / DEGREE)
}

export interface BandVisibility {
  /** Cycles per degree. */
  readonly frequency: number
  /** 0..1, the share of the best sensitivity that the eye has here; for putting bands in order. */
  readonly rank: number
}

/**
 * How bands rank from a distance. `period` in m: for `repeats: 'periodic'` from band to band; for `'single'` the width of one
 * line or step, to which the loss of sensitivity at low frequency does not apply (a wide single edge stays visible). The function is normalised, so it
 * ranks bands and gives no threshold of contrast; beyond 60 cycles per degree nothing is seen and the rank goes to 0.
 * Source: Mannos & Sakrison 1974, IEEE Trans. Inf. Theory 20:525. Errors: missing, not finite, zero or negative.
 */
export function bandVisibility(input: {
  period: number
  viewingDistance: number
  repeats: 'periodic' | 'single'
}): Outcome<BandVisibility> {
  const frequency = bandFrequency({ period: input.period, viewingDistance: input.viewingDistance })
  if (!frequency.ok) return frequency
  const seen = input.repeats === 'single' ? Math.max(frequency.value, PEAK_FREQUENCY) : frequency.value
  return ok({ frequency: frequency.value, rank: Math.min(1, relativeSensitivity(seen) / PEAK) })
}

/**
 * Feed error (a fraction) that moves the boundary between passes by `share` of a pixel, a quarter unless told. `advance` in m,
 * `resolutionAlong` in dots per m. A quarter of a pixel is common practice; the rest is geometry, for a feed that errs by the same share in every pass.
 * Errors: missing, not finite, zero or negative.
 */
export function feedErrorForShift(input: { advance: number; resolutionAlong: number; share?: number }): Outcome<number> {
  const { advance, resolutionAlong, share = 0.25 } = input
  const refusal = refusalOf({ advance, resolutionAlong, share }, { positive: ['advance', 'resolutionAlong', 'share'] })
  return refusal ?? finished('advance', share / resolutionAlong / advance)
}

const relativeSensitivity = (f: number): number => 2.6 * (0.0192 + 0.114 * f) * Math.exp(-((0.114 * f) ** 1.1))
