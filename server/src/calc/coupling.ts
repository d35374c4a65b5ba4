// The coupling between a heater and the web, found from readings of the web's temperature at known heater settings.
import { type Outcome, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, type Range } from './range.ts'
import { coverageFactor } from './student-t.ts'

/** A heater's setting and the web's settled temperature over it, both in degC. */
interface WebReading {
  readonly zone: string
  readonly set: number
  readonly web: number
}

export interface FittedCoupling {
  readonly zone: string
  readonly readings: number
  /** Share of the heater's rise above the air that the web takes on: h_c / (h_c + h_a). */
  readonly share: Range
  /** W/(m2 K); its ends hold the share's 95 % interval and the range of the loss to air. */
  readonly coupling: Range
  /** True when the readings also agree with perfect contact, so that the coupling's high end is only the physical ceiling. */
  readonly open: boolean
}

/** W/(m2 K) of 26 µm of still air: no web on a bare heater is coupled better (0.026 W/(m K) / 26 µm, from memory). */
const COUPLING_CEILING = 1000

/** K by which hand-held thermometers are commonly wrong on a web, as a standard uncertainty (common practice). */
export const READING_UNCERTAINTY = 1

/** K a heater must stand above the air for its readings to say anything. */
const LEAST_RISE = 5

/**
 * Coupling h_c of one zone from settled readings: the least-squares share s of (web - air) on (set - air) through zero gives h_c
 * = h_a s / (1 - s). `air` in degC, `airLoss` h_a in W/(m2 K), `readingUncertainty` in K: the instrument's own error, which
 * repeats do not lessen.
 * Valid for readings taken after several time constants (seconds for film, so any reading near the zone's end). Since only s is
 * seen, the temperatures computed back are as good as the readings whatever h_a is; the coupling itself is no better than h_a.
 * Source: steady heat balance of a web; interval by Student's t with Welch-Satterthwaite degrees of freedom (GUM G.4).
 * Refuses no readings, readings of more than one zone, a heater less than 5 K above the air, a web that reads no warmer than the air or
 * as hot as its heater, a loss of zero or below, and what is missing or not finite.
 */
export function fitCoupling(input: {
  readings: readonly WebReading[]
  air: number
  airLoss: number | Range
  readingUncertainty?: number
}): Outcome<FittedCoupling> {
  const { readings, air, airLoss, readingUncertainty = READING_UNCERTAINTY } = input
  const refusal =
    refusalOf(
      { air, airLoss, readingUncertainty },
      { temperature: ['air'], positive: ['airLoss'], notNegative: ['readingUncertainty'] },
    ) ?? readingsRefusal(readings, air)
  if (refusal) return refusal
  const rises = readings.map(({ set, web }) => ({ x: set - air, y: web - air }))
  const xx = sum(rises, ({ x }) => x * x)
  const share = sum(rises, ({ x, y }) => x * y) / xx
  if (!(share > 0)) return refuse('readings', 'the web reads no warmer than the air, so nothing couples it to its heater')
  if (share >= 1)
    return refuse('readings', 'the web reads as hot as its heater or hotter: check the thermometer and the air temperature')
  const half = halfWidth(rises, share, xx, readingUncertainty)
  const loss = asRange(airLoss)
  const ceiling = COUPLING_CEILING / (COUPLING_CEILING + loss.high)
  const high = Math.max(share, Math.min(share + half, ceiling))
  const shares = { low: Math.min(share, Math.max(share - half, 1e-3)), typical: share, high }
  const coupling = combineRanges({ share: shares, loss }, (v) => (v.loss * v.share) / (1 - v.share))
  return finished('readings', {
    zone: readings[0]!.zone,
    readings: readings.length,
    share: shares,
    coupling,
    open: share + half > ceiling,
  })
}

function readingsRefusal(readings: readonly WebReading[] | undefined, air: number): Outcome<never> | undefined {
  if (!readings?.length) return refuse('readings', 'there is no reading of the web temperature')
  for (const { zone, set, web } of readings) {
    const refusal = refusalOf({ set, web }, { temperature: ['set', 'web'] })
    if (refusal) return refusal
    if (zone !== readings[0]!.zone) return refuse('readings', 'the readings are of more than one zone')
    if (set - air < LEAST_RISE)
      return refuse('set', `the heater must stand at least ${LEAST_RISE} K above the air for a reading to tell its coupling`)
  }
  return undefined
}

type Rise = { readonly x: number; readonly y: number }

/** Half of the share's 95 % interval: scatter falls with the number of readings, the thermometer's own error does not. */
function halfWidth(rises: readonly Rise[], share: number, xx: number, readingUncertainty: number): number {
  const freedom = rises.length - 1
  const scatter = freedom > 0 ? Math.sqrt(sum(rises, ({ x, y }) => (y - share * x) ** 2) / freedom / xx) : 0
  const instrument = (readingUncertainty * sum(rises, ({ x }) => x)) / xx
  const combined = Math.hypot(scatter, instrument)
  const nu = scatter > 0 ? Math.max(1, freedom * (combined / scatter) ** 4) : Number.POSITIVE_INFINITY
  const factor = coverageFactor({ nu })
  return combined * (factor.ok ? factor.value : 2)
}

const sum = (rises: readonly Rise[], of: (rise: Rise) => number): number => rises.reduce((total, rise) => total + of(rise), 0)
