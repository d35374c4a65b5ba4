// A complaint of a wrong length, answered by the day it was printed on: what the evidence of that day said of the print, what was measured on it since, and
// the decision by both.
import type { Outcome } from '../../base/outcome.ts'
import { type Claim, CONTRADICTION, judgeClaim, type Mixture } from '../../calc/claim.ts'
import { type MeasuredLength, type Measurement, measuredLength, ruleClasses } from '../../calc/measurement.ts'
import type { MixtureParts } from '../../calc/normal-mixture.ts'
import type { MediaDocument } from '../../model/generated/documents.ts'
import { tooShort } from '../../model/instrument-history.ts'
import type { Setup } from '../../model/setup.ts'
import { type FeedFacts, feedOf, ruleErrorOn, ruleFacts } from '../feed/facts.ts'
import { type HeldThen, heldThen } from '../feed/held-then.ts'

export type Observation = NonNullable<MediaDocument['observed']>['items'][number]

export interface Answer {
  /** The setup as it was on the day of the print. */
  readonly then: Setup
  readonly feed: FeedFacts
  readonly held: HeldThen | undefined
  /** The complaint; undefined where nobody wrote down both lengths. */
  readonly observation: Observation | undefined
  /** m */
  readonly ordered: number | undefined
  /** A fraction of the length either way, and whose it is. */
  readonly tolerance: number
  readonly toleranceBy: 'agreed' | 'shop'
  readonly risk: number
  /** The length brought to the reference temperature and to the shop's climate; undefined where none was measured. */
  readonly measured: Outcome<MeasuredLength> | undefined
  /** How well the length is known: by its own ±, by an instrument of the shop, by a class, or not at all. */
  readonly knownBy: 'stated' | 'instrument' | 'class' | undefined
  /** Why what was known that day says nothing of the print. */
  readonly silent: 'unknown' | 'expected' | 'not-held' | 'same-rule' | undefined
  /** Length errors as fractions of what was ordered, plus is long. */
  readonly claim: Outcome<Claim>
  readonly verdict: Verdict
  /** Why nobody can tell; undefined where somebody can. */
  readonly because: Because | undefined
}

/** Who has to answer for the length: the shop, since the print was out; somebody else, since it was not; or nobody can tell. */
export type Verdict = 'ours' | 'theirs' | 'cannot-tell'

export type Because =
  /** Nobody wrote down what was ordered and what was measured. */
  | 'not-measured'
  /** It is not known what was measured with, or how well. */
  | 'not-known-how'
  /** The rule is shorter than the print, and was laid on more than once. */
  | 'in-steps'
  /** The measured length cannot be reckoned with. */
  | 'unusable'
  /** What was known of the print and what was measured on it contradict each other. */
  | 'contradiction'
  /** The probability lies between the risk and 1 − risk. */
  | 'between'

/** `then`: the profile as it was on the day of the print. Never throws. */
export function answerFor(then: Setup, observation: Observation | undefined): Answer {
  const feed = feedOf(then)
  const held = heldThen(feed)
  const { shop } = then
  const ordered = observation?.ordered?.value.si
  const agreed = observation?.tolerance?.value
  const tolerance =
    agreed === undefined
      ? shop.tolerance.length.value
      : agreed.dimension === 'relative'
        ? agreed.si
        : ordered
          ? agreed.si / ordered
          : shop.tolerance.length.value
  const knownBy = observation && knownByOf(then, observation)
  const measured = observation && ordered !== undefined ? lengthOf(then, observation, ordered) : undefined
  const combined = feed.reckoning?.combined
  // One rule errs alike in both: together they would seem surer than it is.
  const sameRule = knownBy === 'instrument' && feed.counted.some(({ check }) => check.with?.value === observation?.with?.value)
  const silent = !combined ? 'unknown' : feed.expected ? 'expected' : !held ? 'not-held' : sameRule ? 'same-rule' : undefined
  const known = silent === undefined ? errorsOf(combined!.mixture.parts, held!.correction) : undefined
  const instrument = observation?.with && shop.instruments.get(observation.with.value)
  const inSteps = ordered !== undefined && knownBy === 'instrument' && tooShort(instrument, ordered)
  const seen =
    measured?.ok && knownBy !== undefined && ordered !== undefined && !inSteps
      ? { value: measured.value.length / ordered - 1, u: measured.value.u / ordered }
      : undefined
  const claim = judgeClaim({ known, measured: seen, low: -tolerance, high: tolerance, risk: shop.tolerance.risk.value })
  const because = reasonOf(measured, knownBy, inSteps, claim)
  return {
    then,
    feed,
    held,
    observation,
    ordered,
    tolerance,
    toleranceBy: agreed === undefined ? 'shop' : 'agreed',
    risk: shop.tolerance.risk.value,
    measured,
    knownBy,
    silent,
    claim,
    because,
    verdict: because !== undefined || !claim.ok ? 'cannot-tell' : claim.value.decision === 'within' ? 'theirs' : 'ours',
  }
}

/** What is known of the print without a measurement decides nothing: somebody says that it came out otherwise. */
function reasonOf(
  measured: Answer['measured'],
  knownBy: Answer['knownBy'],
  inSteps: boolean,
  claim: Outcome<Claim>,
): Because | undefined {
  if (!measured) return 'not-measured'
  if (!measured.ok || !claim.ok) return 'unusable'
  if (knownBy === undefined) return 'not-known-how'
  if (inSteps) return 'in-steps'
  if (claim.value.decision !== 'open') return undefined
  return claim.value.surprise !== undefined && claim.value.surprise < CONTRADICTION ? 'contradiction' : 'between'
}

/** A print made with a correction is (1 + correction) · gain as long as it is meant to be, and scatters about that. */
const errorsOf = ({ p, mean, u, tau }: MixtureParts, correction: number): Mixture => ({
  p,
  mean: mean.map((gain) => gain * (1 + correction) - 1),
  s: u.map((one, k) => Math.hypot(one, tau[k]!) * (1 + correction)),
})

const CLASSES = { 'class-1': 'I', 'class-2': 'II', 'class-3': 'III' } as const

const classOf = (name: string | undefined): keyof typeof CLASSES | undefined =>
  name !== undefined && Object.hasOwn(CLASSES, name) ? (name as keyof typeof CLASSES) : undefined

/** How well the measured length of a complaint is known; undefined where nobody says. */
export function knownByOf({ shop }: Setup, { measured, with: name }: Observation): Answer['knownBy'] {
  if (measured?.value.uncertainty !== undefined) return 'stated'
  if (name && shop.instruments.has(name.value)) return 'instrument'
  return classOf(name?.value) ? 'class' : undefined
}

/** The print lay in a room like the shop's: how warm and how damp it was there, nobody wrote down. */
function lengthOf(
  setup: Setup,
  { measured, with: name, date }: Observation,
  ordered: number,
): Outcome<MeasuredLength> | undefined {
  if (!measured) return undefined
  const { shop, material } = setup
  const instrument = name && shop.instruments.get(name.value)
  const ruleClass = classOf(name?.value)
  const [cold, warm] = shop.climate.temperature.value
  const [dry, damp] = shop.climate.humidity.value
  const moistureExpansion = material.property('moisture-expansion')?.range
  const stated = measured.value.uncertainty
  const measurement: Measurement = {
    measured: measured.value.si,
    statedUncertainty: stated,
    // What is said behind the ± is the whole of it.
    ...(stated !== undefined ? { limitOfError: { a: 0, b: 0 } } : ruleFacts(instrument)),
    ...(stated === undefined && ruleClass && { limitOfError: ruleClasses[CLASSES[ruleClass]] }),
    ruleError: ruleErrorOn(instrument, date?.value ?? ''),
    webExpansion: material.property('expansion')?.range,
    webBetween: [cold, warm],
    ...(moistureExpansion && { moistureExpansion, humidityBetween: [dry, damp] as const, referenceHumidity: (dry + damp) / 2 }),
  }
  return measuredLength({ measurement, referenceTemperature: shop.referenceTemperature.value, nominal: ordered })
}
