// What a machine's data sheet does not tell, from simple measurements at the machine: nozzle pitch from a nozzle print, pressure from a column of water.
import type { Outcome } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'

/** A value with the half of its interval, which has the coverage of what was measured; undefined where that was given without one. */
interface Measured {
  readonly value: number
  readonly uncertainty: number | undefined
}

/**
 * Nozzle pitch in m: `lines` lines, one a nozzle of one row, span `length` m from the middle of the first to the middle of the last, so there are lines − 1
 * spaces between. The uncertainty of the length is divided alike.
 * Source: counting; propagation of one input, GUM 5.1.2. Errors: missing, not finite; a length of zero or below; fewer than two lines; a negative uncertainty.
 */
export function nozzlePitch(input: { length: number; lines: number; uncertainty?: number | undefined }): Outcome<Measured> {
  const { length, lines, uncertainty } = input
  const refusal =
    refusalOf({ length, lines }, { positive: ['length'], count: ['lines'] }) ??
    refusalOf({ spaces: lines - 1, uncertainty: uncertainty ?? 0 }, { count: ['spaces'], notNegative: ['uncertainty'] })
  if (refusal) return refusal
  return finished('length', {
    value: length / (lines - 1),
    uncertainty: uncertainty === undefined ? undefined : uncertainty / (lines - 1),
  })
}

/** Pa by which a metre of water differs between the arms of a U-tube: conventional water at standard gravity. */
const PASCAL_PER_METRE = 9806.65

/**
 * Pressure in Pa of a column of water of `difference` m, the height between the two levels of a U-tube: 9806.65 Pa/m.
 * Valid for water by convention (1000 kg/m³); at 20 °C it is 0.18 % lighter (998.2 kg/m³), less than can be read.
 * Source: NIST SP 811, Appendix B.8, conventional millimetre of water. Errors: missing, not finite; a negative difference or uncertainty.
 */
export function waterColumn(input: { difference: number; uncertainty?: number | undefined }): Outcome<Measured> {
  const { difference, uncertainty } = input
  const refusal = refusalOf({ difference, uncertainty: uncertainty ?? 0 }, { notNegative: ['difference', 'uncertainty'] })
  if (refusal) return refusal
  return finished('difference', {
    value: difference * PASCAL_PER_METRE,
    uncertainty: uncertainty === undefined ? undefined : uncertainty * PASCAL_PER_METRE,
  })
}
