// How well the eye sees bands of a given period from a given distance: two contrast sensitivity functions, for ranking bands and
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
const PEAK_FREQUENCY = 7.8909
const PEAK = 0.980_88

/** Cycles per degree of bands `period` m apart seen from `viewingDistance` m, straight ahead. */
export function bandFrequency(input: { period: number; viewingDistance: number }): Outcome<number> {
  const refusal = refusalOf(input, { positive: ['period', 'viewingDistance'] })
  return refusal ?? finished('period', (input.viewingDistance * DEGREE) / input.period)
}

/** m from band to band for `frequency` cycles per degree at `viewingDistance` m. */
export function bandPeriod(input: { frequency: number; viewingDistance: number }): Outcome<number> {
  const refusal = refusalOf(input, { positive: ['frequency', 'viewingDistance'] })
  return refusal ?? finished('frequency', (input.viewingDistance * DEGREE) / input.frequency)
}

/** m from which bands `period` m apart are seen best, by Mannos & Sakrison. */
export function mostVisibleDistance(input: { period: number }): Outcome<number> {
  return refusalOf(input, { positive: ['period'] }) ?? finished('period', (PEAK_FREQUENCY * input.period) / DEGREE)
}

/**
 * Relative sensitivity at `frequency` cycles per degree (0..60), greatest 0.981 at 7.89. It is normalised: no threshold of
 * contrast follows from it.
 * Source: Mannos & Sakrison 1974, IEEE Trans. Inf. Theory 20:525.
 */
export function mannosSakrison(input: { frequency: number }): Outcome<number> {
  const refusal = refusalOf(input, { notNegative: ['frequency'] })
  return refusal ?? ok(relativeSensitivity(input.frequency))
}

/**
 * Sensitivity (1 / threshold modulation) at `frequency` cycles per degree, `luminance` cd/m2 and a field `field` degrees wide.
 * Valid for smooth waves, from about 0.3 to 60 cycles per degree. Source: Barten 2003, Proc. SPIE 5294:231, the simplified
 * formula.
 */
export function bartenSensitivity(input: { frequency: number; luminance?: number; field?: number }): Outcome<number> {
  const { frequency, luminance = 100, field = 20 } = input
  const refusal = refusalOf({ frequency, luminance, field }, { notNegative: ['frequency'], positive: ['luminance', 'field'] })
  if (refusal) return refusal
  const u2 = frequency * frequency
  const decay = Math.exp(-0.0016 * u2 * (1 + 100 / luminance) ** 0.08)
  const noise = (1 + 144 / field ** 2 + 0.64 * u2) * (63 / luminance ** 0.83 + 1 / -Math.expm1(-0.02 * u2))
  return finished('luminance', (5200 * decay) / Math.sqrt(noise))
}

export interface BandVisibility {
  /** Cycles per degree. */
  readonly frequency: number
  /** 0..1, the share of the best sensitivity that the eye has here; for putting bands in order. */
  readonly rank: number
}

/**
 * How bands rank from a distance. `period` in m: for `repeats: 'periodic'` from band to band; for `'single'` the width of one
 * line or step, to which the loss of sensitivity at low frequency does not apply (a wide single edge stays visible).
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
 * `resolutionAlong` in dots per m.
 */
export function feedErrorForShift(input: { advance: number; resolutionAlong: number; share?: number }): Outcome<number> {
  const { advance, resolutionAlong, share = 0.25 } = input
  const refusal = refusalOf({ advance, resolutionAlong, share }, { positive: ['advance', 'resolutionAlong', 'share'] })
  return refusal ?? finished('advance', share / resolutionAlong / advance)
}

const relativeSensitivity = (f: number): number => {
  const decay = Math.exp(-((0.114 * f) ** 1.1))
  return decay === 0 ? 0 : 2.6 * (0.0192 + 0.114 * f) * decay
}
