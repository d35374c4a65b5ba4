// The web's temperature over its heaters and after them, and the heat that takes.
// Temperatures in degC, differences in K, lengths in m, W/(m2 K) for coupling. Material data are ranges, so results are ranges.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { finished, refusalOf } from './inputs.ts'
import { asRange, combineRanges, type Range } from './range.ts'

/** To be shown with every number about heat. */
export const HEAT_CAUTION =
  'Heated platens, webs and covers burn skin: the longer the touch, the lower the temperature that burns. A web that stops over a heater goes on warming. ' +
  'Computed temperatures are estimates: measure the web. The safety documents of the machine and the material, local codes and licensed practice come first.'

/**
 * W/(m2 K) from heater through the thin air under the web; an engineering estimate, from memory (0.026 W/(m K) over 50 µm of air
 * is 520).
 */
export const CONTACT_COUPLING: Range = { low: 50, typical: 200, high: 500 }

/** W/(m2 K) from the web's open face to the air; from memory. */
export const AIR_LOSS: Range = { low: 10, typical: 15, high: 25 }

/**
 * Biot number up to which the web may be taken as one temperature through its thickness (Incropera; Cengel), and up to which that
 * is still an estimate.
 */
const BIOT_LUMPED = 0.1
const BIOT_LIMIT = 0.3

/** How far one temperature through the thickness may be trusted; `unchecked` when thickness or conductivity is not known. */
export type Trust = 'good' | 'approximate' | 'unchecked'

export interface WebBody {
  /** kg/m2 */
  readonly grammage: number
  /** J/(kg K) */
  readonly heatCapacity: number | Range
  /** m */
  readonly thickness?: number
  /** W/(m K), through the thickness. */
  readonly conductivity?: number | Range
}

interface ZoneInput extends WebBody {
  /** degC of the heater's surface. */
  readonly set: number
  /** degC of the web as it comes in. */
  readonly enter: number | Range
  /** degC */
  readonly air: number
  readonly coupling: number | Range
  readonly airLoss?: number | Range
  /** s over the zone: length / web speed. */
  readonly dwell: number
}

interface ZoneHeat {
  /** degC of the web as it leaves. */
  readonly leave: Range
  /** degC it tends to: below the heater's, since the open face loses heat. */
  readonly settles: Range
  /** s to go 63 % of the way there. */
  readonly timeConstant: Range
  readonly biot?: Range
  readonly trust: Trust
}

/** s that any part of the web spends over a zone: `zoneLength` m at `webSpeed` m/s. Errors: missing, not finite, zero or negative. */
function dwellTime(input: { zoneLength: number; webSpeed: number }): Outcome<number> {
  const refusal = refusalOf(input, { positive: ['zoneLength', 'webSpeed'] })
  return refusal ?? finished('webSpeed', input.zoneLength / input.webSpeed)
}

/**
 * Web temperature after a heated zone: T(t) = T_inf + (T_enter - T_inf) exp(-t / tau), with T_inf = (h_c T_set + h_a T_air) /
 * (h_c + h_a) and tau = grammage x heat capacity / (h_c + h_a). The coupling, not the film's own conduction, sets the pace.
 * Valid while the Biot number coupling x thickness / conductivity is below 0.1; approximate to 0.3; refused above, when the
 * inside lags the face.
 * Source: lumped capacity, Incropera and Cengel, transient conduction. Errors: missing, not finite, out of order; grammage, heat
 * capacity or coupling of zero or below; a negative loss or dwell; a temperature at absolute zero or above 1000 °C.
 */
export function webAfterZone(input: ZoneInput): Outcome<ZoneHeat> {
  const { grammage, heatCapacity, set, enter, air, coupling, airLoss = AIR_LOSS, dwell } = input
  const refusal = refusalOf(
    { grammage, heatCapacity, set, enter, air, coupling, airLoss, dwell },
    {
      positive: ['grammage', 'heatCapacity', 'coupling'],
      notNegative: ['airLoss', 'dwell'],
      temperature: ['set', 'enter', 'air'],
    },
  )
  if (refusal) return refusal
  const lumped = checkBiot(input)
  if (!lumped.ok) return lumped
  const inputs = { h: asRange(coupling), loss: asRange(airLoss), cp: asRange(heatCapacity), enter: asRange(enter) }
  type Values = Record<keyof typeof inputs, number>
  const settles = (v: Values) => set + (v.loss / (v.h + v.loss)) * (air - set)
  const tau = (v: Values) => (grammage * v.cp) / (v.h + v.loss)
  return finished('grammage', {
    leave: combineRanges(inputs, (v) => settles(v) + (v.enter - settles(v)) * Math.exp(-dwell / tau(v))),
    settles: combineRanges(inputs, settles),
    timeConstant: combineRanges(inputs, tau),
    ...lumped.value,
  })
}

/** Temperature of a free web after `time` s in air: both faces lose heat. Units, source and errors as {@link webAfterZone}. */
function webInAir(
  input: WebBody & { enter: number | Range; air: number; airLoss?: number | Range; time: number },
): Outcome<Range> {
  const { grammage, heatCapacity, enter, air, airLoss = AIR_LOSS, time } = input
  const refusal = refusalOf(
    { grammage, heatCapacity, enter, air, airLoss },
    { positive: ['grammage', 'heatCapacity'], notNegative: ['airLoss'], temperature: ['enter', 'air'] },
  )
  if (refusal) return refusal
  const inputs = { loss: asRange(airLoss), cp: asRange(heatCapacity), enter: asRange(enter) }
  const leave = combineRanges(inputs, (v) => air + (v.enter - air) * Math.exp((-2 * v.loss * time) / (grammage * v.cp)))
  return finished('grammage', leave)
}

/** A part of the web's path: over a heater (one with no `set` is off, and takes the air's temperature), or free in the air. */
export type Stretch =
  | {
      readonly kind: 'zone'
      readonly name: string
      readonly length: number
      readonly set?: number
      readonly coupling?: number | Range
    }
  | { readonly kind: 'free'; readonly name: string; readonly length: number }

export interface StretchHeat {
  readonly name: string
  readonly kind: 'zone' | 'free'
  /** s */
  readonly dwell: number
  readonly enter: Range
  readonly leave: Range
  /** degC, the hottest the web gets here: at one end or the other. */
  readonly hottest: Range
  readonly trust: Trust
}

/**
 * The web's temperature along its path, stretch by stretch in the order it passes them, coming in at `enter` degC (the air's unless
 * given), at `webSpeed` m/s, the mean with its pauses; lengths in m. A zone's coupling is {@link CONTACT_COUPLING} unless given.
 * Validity and source as {@link webAfterZone}, stretch by stretch.
 * Errors: no stretch; any input missing, not finite or out of order, a length or speed of zero or below, a temperature at absolute
 * zero or above 1000 °C; a web too thick for its coupling. The first stretch that fails is the whole path's problem.
 */
export function webPath(
  input: WebBody & {
    stretches: readonly Stretch[]
    webSpeed: number
    air: number
    enter?: number | Range
    airLoss?: number | Range
  },
): Outcome<readonly StretchHeat[]> {
  const { stretches, webSpeed, enter, ...web } = input
  if (!stretches?.length) return refuse('stretches', 'the path of the web has no stretch')
  const path: StretchHeat[] = []
  let temperature = asRange(enter ?? input.air)
  for (const stretch of stretches) {
    const dwell = dwellTime({ zoneLength: stretch.length, webSpeed })
    if (!dwell.ok) return dwell
    const here = alongStretch(web, stretch, temperature, dwell.value)
    if (!here.ok) return here
    const { leave, trust } = here.value
    path.push({
      name: stretch.name,
      kind: stretch.kind,
      dwell: dwell.value,
      enter: temperature,
      leave,
      hottest: hotter(temperature, leave),
      trust,
    })
    temperature = leave
  }
  return ok(path)
}

/**
 * s until a web has gone `share` (0.99 unless told) of the way to the temperature it tends to: -tau ln(1 - share), with `timeConstant`
 * tau in s of {@link webAfterZone}; validity and source as there. Errors: missing, not finite; tau of zero or below; a share outside 0 to 1,
 * and 1 itself, which takes for ever.
 */
export function timeToSettle(input: { timeConstant: number | Range; share?: number }): Outcome<Range> {
  const { timeConstant, share = 0.99 } = input
  const refusal = refusalOf({ timeConstant, share }, { positive: ['timeConstant'], share: ['share'] })
  if (refusal) return refusal
  const times = combineRanges({ tau: asRange(timeConstant) }, (v) => -v.tau * Math.log1p(-share))
  return finished('share', times)
}

/**
 * W to warm the web by `rise` K: grammage kg/m2 x width m x speed m/s x heat capacity J/(kg K) x rise. Losses of the heater itself come
 * on top. Source: heat balance (definition of heat capacity). Errors: missing, not finite, out of order; all but the rise: zero or below.
 */
export function webHeatPower(input: {
  grammage: number
  heatCapacity: number | Range
  webWidth: number
  webSpeed: number
  rise: number | Range
}): Outcome<Range> {
  const { grammage, heatCapacity, webWidth, webSpeed, rise } = input
  const refusal = refusalOf(
    { grammage, heatCapacity, webWidth, webSpeed, rise },
    { positive: ['grammage', 'heatCapacity', 'webWidth', 'webSpeed'] },
  )
  if (refusal) return refusal
  const inputs = { cp: asRange(heatCapacity), rise: asRange(rise) }
  return finished(
    'grammage',
    combineRanges(inputs, (v) => grammage * webWidth * webSpeed * v.cp * v.rise),
  )
}

function checkBiot({ coupling, thickness, conductivity }: ZoneInput): Outcome<{ biot?: Range; trust: Trust }> {
  if (thickness === undefined || conductivity === undefined) return ok({ trust: 'unchecked' })
  const refusal = refusalOf({ thickness, conductivity }, { positive: ['thickness', 'conductivity'] })
  if (refusal) return refusal
  const biot = combineRanges({ h: asRange(coupling), k: asRange(conductivity) }, (v) => (v.h * thickness) / v.k)
  if (biot.typical > BIOT_LIMIT) {
    const number = `Biot number ${biot.typical.toPrecision(2)}, above ${BIOT_LIMIT}`
    const reason = 'its inside lags its face, so no one temperature describes it'
    return refuse('thickness', `the media is too thick for its coupling to the heater (${number}): ${reason}`)
  }
  return ok({ biot, trust: biot.high <= BIOT_LUMPED * (1 + 1e-9) ? 'good' : 'approximate' })
}

type Body = WebBody & { air: number; airLoss?: number | Range }

function alongStretch(
  web: Body,
  stretch: Stretch,
  enter: Range,
  dwell: number,
): Outcome<{ readonly leave: Range; readonly trust: Trust }> {
  if (stretch.kind === 'zone') {
    return webAfterZone({ ...web, set: stretch.set ?? web.air, coupling: stretch.coupling ?? CONTACT_COUPLING, enter, dwell })
  }
  const leave = webInAir({ ...web, enter, time: dwell })
  return leave.ok ? ok({ leave: leave.value, trust: 'good' }) : leave
}

const hotter = (a: Range, b: Range): Range => ({
  low: Math.max(a.low, b.low),
  typical: Math.max(a.typical, b.typical),
  high: Math.max(a.high, b.high),
})
