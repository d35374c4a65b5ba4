// A length measured on the web: the rule's limit of error, the length brought to the reference temperature and to the relaxed web, the
// uncertainty part by part, and how long a pattern must be for a tolerance to be provable with that rule.
import { type CalcProblem, firstProblem, type Outcome, ok } from '../base/outcome.ts'
import { type Range, rangeProblem } from './range.ts'
import { coverageFactor } from './student-t.ts'

/** Limit of error ± (a + b·L), L in metres rounded up to whole metres; a in metres, b in metres per metre. */
export interface LimitOfError {
  readonly a: number
  readonly b: number
  /** Added where one end is a surface (a hook or a butt end), metres. */
  readonly c?: number
}

type RuleClass = 'I' | 'II' | 'III'

/**
 * Accuracy classes of rules and tapes, ± (a + b·L). Source: UK SI 2016/1153, Schedule 1I, paragraph 2, Table 1; the same in Directive
 * 2014/32/EU, Annex X, chapter I, and in OIML R 35-1 (these two from memory).
 */
export const ruleClasses: Readonly<Record<RuleClass, Required<LimitOfError>>> = {
  I: { a: 0.1e-3, b: 0.1e-3, c: 0.1e-3 },
  II: { a: 0.3e-3, b: 0.2e-3, c: 0.2e-3 },
  III: { a: 0.6e-3, b: 0.4e-3, c: 0.3e-3 },
}

/** Temperature at which a rule is true, degC. Source: ISO 1:2022. */
export const ruleReferenceTemperature = 20

/** What is assumed where a check does not say: common practice, and marked `assumed` wherever it enters a budget. */
const assumptions = {
  /** Full step of the rule, m. */
  division: 1e-3,
  limitOfError: ruleClasses.II as LimitOfError,
  /** Half-width within which a temperature is known, K. */
  temperature: 2,
  /** Half-width within which a humidity that was read is known, 0 to 1 (from memory: hygrometers of a shop). */
  humidity: 0.05,
}

/**
 * What belongs to one check alone: how it was read, and the weather of its day. Everything else its fellows share; how warm a web was that nobody measured,
 * by half of the variance, since the same technician lets a print lie as long as ever, and a day has its weather (from memory).
 */
const OWN: ReadonlySet<LengthCause> = new Set(['reading', 'humidity'])

/** One length read on the web, with what is known of the rule and of the web. All but the reading may be left out. */
export interface Measurement {
  /** Length read, m, from 1 mm to 1 km. */
  readonly measured: number
  /** Full step of the rule, m; both edges of the pattern are read to it. */
  readonly division?: number | undefined
  /** Half-width of the 95 % interval in which the reader puts the reading (an inline ±), m; takes the place of the division. */
  readonly statedUncertainty?: number | undefined
  readonly limitOfError?: LimitOfError | undefined
  /** Whether the pattern was measured from the rule's hook or butt end. */
  readonly hook?: boolean | undefined
  /** Expansion of the rule, 1/K; without it the rule's temperature is left out of account. */
  readonly ruleExpansion?: number | undefined
  /** Temperature of the rule, degC; that of the room (the reference temperature) where left out. */
  readonly ruleTemperature?: number | undefined
  /** Half-width within which the rule's temperature is known, K. */
  readonly ruleTemperatureUncertainty?: number | undefined
  /** Expansion of the web along the feed, 1/K; without it the web's temperature is left out of account. */
  readonly webExpansion?: Range | undefined
  /** Temperature of the web when it was measured, degC; the reference temperature where left out. */
  readonly webTemperature?: number | undefined
  /** Half-width of the 95 % interval in which the web's temperature is known (an inline ±), K. */
  readonly webTemperatureUncertainty?: number | undefined
  /** Where nobody wrote the web's temperature down: between which temperatures it was, degC. Takes the place of `webTemperature`. */
  readonly webBetween?: readonly [number, number] | undefined
  /** Moisture expansion of the web along the feed, per unit of relative humidity (0 to 1); without it humidity is left out of account. */
  readonly moistureExpansion?: Range | undefined
  /** Relative humidity when it was measured, 0 to 1. */
  readonly humidity?: number | undefined
  /** Half-width of the 95 % interval in which the humidity is known (an inline ±), 0 to 1. */
  readonly humidityUncertainty?: number | undefined
  /** Where nobody wrote the humidity down: between which it was, 0 to 1. */
  readonly humidityBetween?: readonly [number, number] | undefined
  /** The humidity at which lengths count, 0 to 1; needed where `moistureExpansion` is given. */
  readonly referenceHumidity?: number | undefined
  /** What the rule was found to show too much, as a share of the length or as an amount in m: the reading is brought right by it. */
  readonly ruleError?: RuleError | undefined
  /** Strain of the web when it was measured under tension, 1; left out where it lay relaxed. */
  readonly tensionStrain?: Range | undefined
}

/** Shown minus true: plus where it reads too long. */
interface RuleError {
  /** Share of the length, or metres. */
  readonly value: number
  readonly of: 'length' | 'reading'
  /** Half-width of its 95 % interval, in the same unit; where it is not stated, the limit of error stands beside it. */
  readonly uncertainty: number | undefined
}

export type LengthCause =
  | 'reading'
  | 'limit-of-error'
  | 'rule-error'
  | 'rule-temperature'
  | 'web-temperature'
  | 'web-expansion'
  | 'humidity'
  | 'moisture-expansion'
  | 'tension'

/** One part of the uncertainty of a length: u = sensitivity · basis / divisor. */
export interface LengthPart {
  readonly cause: LengthCause
  /** A random part falls with the number of checks; a systematic one is shared by all checks made the same way and does not. */
  readonly kind: 'random' | 'systematic'
  /** What it starts from: the full step for a reading to a division, else the half-width of the limits; m, K, 1/K or 1. */
  readonly basis: number
  readonly divisor: number
  /** Metres of length per unit of the basis, signed. */
  readonly sensitivity: number
  /** Standard uncertainty it puts on the length, m, with the sign of the sensitivity. */
  readonly u: number
  /** Whether the basis is an assumption, because the check does not say. */
  readonly assumed: boolean
}

/** One correction of the length read. */
export interface LengthStep {
  readonly cause: 'rule-error' | 'rule-temperature' | 'web-temperature' | 'humidity' | 'tension'
  /** What the length is multiplied by. */
  readonly factor: number
  /** What that adds to it, m. */
  readonly change: number
}

export interface MeasuredLength {
  readonly read: number
  /** At the reference temperature, relaxed, with a rule true at 20 degC; m. */
  readonly length: number
  readonly steps: readonly LengthStep[]
  readonly parts: readonly LengthPart[]
  /** Standard uncertainties of the length, m. */
  readonly uRandom: number
  readonly uSystematic: number
  readonly u: number
}

/**
 * Brings a length read on the web to the reference temperature and to the relaxed web, and gives its uncertainty part by part.
 *
 * length = read · (1 + α_rule·(T_rule − 20)) / ((1 + α_web·(T_web − T_reference)) · (1 + β·(RH − RH_reference)) · (1 + strain)): a hot rule reads
 * short; a hot, damp or stretched web is long. A known error of the rule is taken off first. A temperature or humidity that nobody wrote down is
 * taken in the middle of where it can have been, as a rectangle; of the temperature half of that variance is shared. The limit of error is that for `nominal`, the length the pattern is meant to have (m; the reading where left out):
 * readings scattered about a whole metre must not differ in weight because some count as the next metre. Linear expansion, small strains; the whole web at one temperature. Limits are taken as rectangular.
 * What is written with ± is the 95 % interval of a normal. Source: ISO 1:2022; GUM 4.3.4, 4.3.7, 4.3.8, F.2.2.1, H.1. Refuses what no shop can have measured, naming the input.
 */
export function measuredLength({
  measurement,
  referenceTemperature,
  nominal = measurement.measured,
}: {
  measurement: Measurement
  referenceTemperature: number
  nominal?: number
}): Outcome<MeasuredLength> {
  const problem = measurementProblem(measurement, referenceTemperature)
  if (problem) return { ok: false, problem }
  const steps = correctionsOf(measurement, referenceTemperature)
  const length = steps.reduce((l, step) => l + step.change, measurement.measured)
  const parts = partsOf(measurement, length, nominal, referenceTemperature)
  let random = 0
  let systematic = 0
  for (const part of parts)
    if (part.kind === 'random') random += part.u ** 2
    else systematic += part.u ** 2
  return ok({
    read: measurement.measured,
    length,
    steps,
    parts,
    uRandom: Math.sqrt(random),
    uSystematic: Math.sqrt(systematic),
    u: Math.sqrt(random + systematic),
  })
}

interface RequiredPattern {
  /** Shortest pattern that proves the tolerance, m; undefined where none up to `longest` does. */
  readonly length: number | undefined
  /** The uncertainty U of the correction that is left however long the pattern: temperature, tension and the rule's error per metre. */
  readonly floor: number
}

/**
 * How long a pattern must be for the expanded uncertainty of the correction to be within `tolerance` (fraction), measured like `measurement`.
 *
 * The mean of `repeats` readings (1 unless given) reduces the reading's part only. k is that of infinite degrees of freedom at `coverage` (0.95).
 * The answer is the shortest length; as the rule's limit steps up at each metre, a pattern a little over a whole metre may do worse than one a
 * little under it. Looks up to `longest`, 50 m unless given. Source: the budget of `measuredLength`, solved for the length. Refuses what `measuredLength` refuses, and a tolerance of zero or below.
 */
export function requiredPattern({
  measurement,
  referenceTemperature,
  tolerance,
  coverage = 0.95,
  repeats = 1,
  longest = 50,
}: {
  measurement: Omit<Measurement, 'measured'>
  referenceTemperature: number
  tolerance: number
  coverage?: number
  repeats?: number
  longest?: number
}): Outcome<RequiredPattern> {
  const problem = firstProblem({ tolerance, repeats, longest }, ['tolerance', 'repeats', 'longest'])
  if (problem) return { ok: false, problem }
  const factor = coverageFactor({ nu: Number.POSITIVE_INFINITY, coverage })
  if (!factor.ok) return factor
  const metre = measuredLength({ measurement: { ...measurement, measured: 1 }, referenceTemperature })
  if (!metre.ok) return metre
  const { length, parts } = metre.value
  const proportional = parts.reduce((sum, part) => (scalesWithLength(part) ? sum + (part.u / length) ** 2 : sum), 0)
  const reading = parts.reduce((sum, part) => (part.cause === 'reading' ? sum + part.u ** 2 / repeats : sum), 0)
  const limit = measurement.limitOfError ?? assumptions.limitOfError
  const start = limit.a + (measurement.hook ? (limit.c ?? 0) : 0)
  const floor = factor.value * Math.sqrt(proportional + limit.b ** 2 / 3)
  const allowed = (tolerance / factor.value) ** 2 - proportional
  // Nothing is allowed where what grows with the length uses it all up: then `shortest` is no number.
  for (let metres = 1; metres <= Math.min(Math.ceil(longest), 1000); metres++) {
    const shortest = Math.sqrt((reading + (start + limit.b * metres) ** 2 / 3) / allowed)
    if (shortest <= metres && shortest <= longest) return ok({ length: shortest, floor })
  }
  return ok({ length: undefined, floor })
}

/** Length in metres as the classes count it: up to the next whole metre, where 2 m that arithmetic made 2.0000000001 stay 2. */
const wholeMetres = (length: number): number => Math.ceil(length - 1e-9)

const scalesWithLength = (part: LengthPart): boolean => part.cause !== 'reading' && part.cause !== 'limit-of-error'

function correctionsOf(m: Measurement, reference: number): LengthStep[] {
  const steps: LengthStep[] = []
  let length = m.measured
  const step = (cause: LengthStep['cause'], factor: number): void => {
    if (factor === 1) return
    steps.push({ cause, factor, change: length * (factor - 1) })
    length *= factor
  }
  const error = m.ruleError
  if (error) step('rule-error', error.of === 'length' ? 1 / (1 + error.value) : 1 - error.value / m.measured)
  if (m.ruleExpansion !== undefined)
    step('rule-temperature', 1 + m.ruleExpansion * ((m.ruleTemperature ?? reference) - ruleReferenceTemperature))
  const web = webTemperatureOf(m)
  if (m.webExpansion && web !== undefined) step('web-temperature', 1 / (1 + m.webExpansion.typical * (web - reference)))
  if (m.moistureExpansion) step('humidity', 1 / (1 + m.moistureExpansion.typical * damperOf(m)))
  if (m.tensionStrain) step('tension', 1 / (1 + m.tensionStrain.typical))
  return steps
}

/** degC: as measured, or the middle of where it was. */
const webTemperatureOf = ({ webTemperature, webBetween }: Measurement): number | undefined =>
  webTemperature ?? (webBetween && (webBetween[0] + webBetween[1]) / 2)

/** How much damper than the reference it was, 0 to 1. */
function damperOf({ humidity, humidityBetween, referenceHumidity = 0.5 }: Measurement): number {
  const known = humidity ?? (humidityBetween && (humidityBetween[0] + humidityBetween[1]) / 2)
  return (known ?? referenceHumidity) - referenceHumidity
}

/** Standard deviations in the half-width of a 95 % interval. */
const K95 = 1.959963984540054
const root3 = Math.sqrt(3)
const root6 = Math.sqrt(6)

function partsOf(m: Measurement, length: number, nominal: number, reference: number): LengthPart[] {
  const parts: LengthPart[] = []
  const add = (
    cause: LengthCause,
    basis: number,
    sensitivity: number,
    assumed: boolean,
    divisor = root3,
    kind: LengthPart['kind'] = OWN.has(cause) ? 'random' : 'systematic',
  ): void => {
    if (basis === 0 || sensitivity === 0) return
    parts.push({ cause, kind, basis, divisor, sensitivity, u: (sensitivity * basis) / divisor, assumed })
  }
  if (m.statedUncertainty !== undefined) add('reading', m.statedUncertainty, 1, false, K95)
  else add('reading', m.division ?? assumptions.division, 1, m.division === undefined, root6)
  const error = m.ruleError
  if (error?.uncertainty !== undefined) add('rule-error', error.uncertainty, error.of === 'length' ? -length : -1, false, K95)
  else {
    const limit = m.limitOfError ?? assumptions.limitOfError
    const hook = m.hook ? (limit.c ?? 0) : 0
    add('limit-of-error', limit.a + limit.b * wholeMetres(nominal) + hook, 1, m.limitOfError === undefined)
  }
  if (m.ruleExpansion !== undefined) {
    const given = m.ruleTemperatureUncertainty
    add('rule-temperature', given ?? assumptions.temperature, m.ruleExpansion * length, given === undefined, given ? K95 : root3)
  }
  if (m.webExpansion) {
    const { low, typical, high } = m.webExpansion
    const between = m.webTemperature === undefined ? m.webBetween : undefined
    const given = between ? (between[1] - between[0]) / 2 : m.webTemperatureUncertainty
    const basis = between ? Math.max(given!, assumptions.temperature) : (given ?? assumptions.temperature)
    if (between) {
      add('web-temperature', basis, -typical * length, false, root6)
      add('web-temperature', basis, -typical * length, false, root6, 'random')
    } else add('web-temperature', basis, -typical * length, given === undefined, given === undefined ? root3 : K95)
    add('web-expansion', (high - low) / 2, -((webTemperatureOf(m) ?? reference) - reference) * length, false)
  }
  if (m.moistureExpansion) {
    const { low, typical, high } = m.moistureExpansion
    const between = m.humidity === undefined ? m.humidityBetween : undefined
    const given = m.humidityUncertainty
    const basis = between ? (between[1] - between[0]) / 2 : (given ?? assumptions.humidity)
    add('humidity', basis, -typical * length, !between && given === undefined, !between && given !== undefined ? K95 : root3)
    add('moisture-expansion', (high - low) / 2, -damperOf(m) * length, false)
  }
  if (m.tensionStrain) add('tension', (m.tensionStrain.high - m.tensionStrain.low) / 2, -length, false)
  return parts
}

function limitProblem({ a, b, c = 0 }: LimitOfError): CalcProblem | undefined {
  if (!Number.isFinite(a + b + c)) return { input: 'limitOfError', reason: 'the limit of error is not a finite number' }
  if (a < 0 || b < 0 || c < 0) return { input: 'limitOfError', reason: 'a limit of error is zero or more' }
  return a + b + c > 1 ? { input: 'limitOfError', reason: 'a limit of error of more than a metre belongs to no rule' } : undefined
}

type Scalar =
  | 'measured'
  | 'division'
  | 'statedUncertainty'
  | 'ruleExpansion'
  | 'ruleTemperature'
  | 'webTemperature'
  | 'humidity'
  | 'referenceHumidity'
  | KnownTo
type KnownTo = 'ruleTemperatureUncertainty' | 'webTemperatureUncertainty' | 'humidityUncertainty'

/** What no shop can have measured: each bound is far outside practice, and keeps the arithmetic away from overflow. */
const bounds: readonly (readonly [Scalar, number, number, string])[] = [
  ['measured', 1e-3, 1e3, 'a pattern is measured between 1 mm and 1 km long'],
  ['division', 1e-9, 0.1, 'the division of a rule lies above zero and below 100 mm'],
  ['statedUncertainty', 1e-9, 1, 'the uncertainty of a reading lies above zero and below 1 m'],
  ['ruleExpansion', 0, 1e-3, 'the expansion of a rule lies between 0 and 0.001 per kelvin'],
  ['ruleTemperature', -60, 100, 'a rule is used between -60 and 100 °C'],
  ['ruleTemperatureUncertainty', 0, 100, 'a temperature is known to between 0 and 100 K'],
  ['webTemperature', -60, 300, 'a web is measured between -60 and 300 °C'],
  ['webTemperatureUncertainty', 0, 100, 'a temperature is known to between 0 and 100 K'],
  ['humidity', 0, 1, 'a relative humidity lies between 0 and 100 %'],
  ['humidityUncertainty', 0, 1, 'a relative humidity is known to between 0 and 100 %'],
  ['referenceHumidity', 0, 1, 'a relative humidity lies between 0 and 100 %'],
]

function measurementProblem(m: Measurement, reference: number): CalcProblem | undefined {
  for (const [input, low, high, reason] of bounds) {
    const value = m[input]
    if (value === undefined ? input === 'measured' : !(value >= low && value <= high)) return namedProblem(input, value, reason)
  }
  if (!(reference >= -60 && reference <= 100))
    return namedProblem('referenceTemperature', reference, 'a shop works between -60 and 100 °C')
  return (
    (m.limitOfError && limitProblem(m.limitOfError)) ??
    (m.webExpansion &&
      boundedRange('webExpansion', m.webExpansion, -1e-3, 1e-3, 'the expansion of a web lies within ± 0.001 per kelvin')) ??
    (m.ruleError && !(Math.abs(m.ruleError.value) <= 0.1 && (m.ruleError.uncertainty ?? 0) <= 0.1)
      ? { input: 'ruleError', reason: 'a rule that is wrong by a tenth measures nothing' }
      : undefined) ??
    (m.moistureExpansion &&
      boundedRange('moistureExpansion', m.moistureExpansion, -0.1, 0.1, 'a web grows by less than a tenth from dry to damp')) ??
    (m.tensionStrain && boundedRange('tensionStrain', m.tensionStrain, -0.5, 1, 'a web stretches by less than its own length'))
  )
}

const namedProblem = (input: string, value: number | undefined, reason: string): CalcProblem =>
  firstProblem({ [input]: value }) ?? { input, reason }

const boundedRange = (
  input: string,
  { low, typical, high }: Range,
  least: number,
  most: number,
  reason: string,
): CalcProblem | undefined =>
  low >= least && low <= typical && typical <= high && high <= most
    ? undefined
    : (rangeProblem(input, { low, typical, high }) ?? { input, reason })
