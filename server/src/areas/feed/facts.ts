// The feed correction of a setup: its checks, with what the shop knows of each (instrument, temperatures, tension, state), reckoned into one number.
// Which of them speak for today is decided in evidence.ts; what that proves, in verdict.ts.

import { type CalcProblem, type Outcome, ok } from '../../base/outcome.ts'
import { recorded, recordedItem } from '../../base/recorder.ts'
import { type FeedCheckResult, type FeedInput, type FeedReckoning, reckonFeed } from '../../calc/feed.ts'
import { type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from '../../calc/feed-check.ts'
import { type LimitOfError, ruleClasses } from '../../calc/measurement.ts'
import { divideRanges, exactly, type Range } from '../../calc/range.ts'
import type { StatedScatter } from '../../calc/scatter-nodes.ts'
import { DAY } from '../../model/dates.ts'
import type { F, Q } from '../../model/field.ts'
import type { Check, Instrument, Repeatability, State } from '../../model/generated/documents.ts'
import { errorOn } from '../../model/instrument-history.ts'
import { roomOn } from '../../model/room.ts'
import type { Setup } from '../../model/setup.ts'
import { statesOf, underState } from '../../model/states.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { canonicalUnit, type Unit } from '../../quantities/units.ts'
import { advanceOf } from '../advance/advance.ts'
import { heatOf } from '../heat/facts.ts'
import { tensionOf } from '../web/tension.ts'
import { type FeedEvidence, weigh } from './evidence.ts'
import { fineDoubt } from './fine-state.ts'
import { type Held, heldOf } from './held.ts'
import { rowsOf } from './rows.ts'

export interface FeedFacts {
  readonly setup: Setup
  readonly evidence: readonly FeedEvidence[]
  /** Those that count: the ones that can prove today's number, and where there is none, those that may be expected to say it. */
  readonly counted: readonly FeedEvidence[]
  /** Whether those that count prove nothing, since nothing brings them to today's conditions. */
  readonly expected: boolean
  /** Whether some of those that count were made on another lot than the one printed on now. */
  readonly otherLots: boolean
  /** Whether the printer's document states how far its feed scatters. */
  readonly stated: boolean
  /** The results of the checks that count, by id. */
  readonly byId: ReadonlyMap<string, FeedCheckResult>
  /** Of the checks that count; undefined where there is nothing to reckon. */
  readonly reckoning: FeedReckoning | undefined
  readonly problem: CalcProblem | undefined
  /** What the reckoning took; undefined where there is nothing to reckon. */
  readonly input: FeedInput | undefined
  readonly entry: 'percent' | 'measured-length'
  readonly applied: F<Quantity> | undefined
  /** For a printer that is told a measured length: the correction it holds now, by the newest thing that says so. */
  readonly held: Outcome<Held> | undefined
  /** Corrections nearer than this are the same at the machine. */
  readonly halfStep: number
  /** In which unit a length is keyed in: as the printer's document writes its step, or its patterns. */
  readonly lengthUnit: Unit
  /** The printer's step for what is keyed in: a fraction, or metres for a measured length. */
  readonly step: number | undefined
  readonly range: readonly [number, number] | undefined
  /** The pattern a printer with measured-length entry is told about, m. */
  readonly patternLength: number | undefined
  readonly tolerance: number
  /** The newest check that nobody skipped. */
  readonly newest: FeedEvidence | undefined
  /** The re-check time of the shop, days. */
  readonly recheckDays: number
  /** True where no check is recent enough to prove today's number. */
  readonly stale: boolean
  /** The lot the reckoning speaks of. */
  readonly lot: string | undefined
}

/** The feed facts of a setup, reckoned once. Never throws; what cannot be reckoned is told in `problem` or beside its check. */
export const feedOf: (setup: Setup) => FeedFacts = recorded('feed', reckon)

/** As many of the newest checks as are reckoned with: what is older says nothing more. */
const MOST_CHECKS = 60

/** The correction that prints are made with now, as far as anybody knows: what is set, or what a printer that is told a length holds. */
export const runningWith = ({ entry, applied, held }: FeedFacts): number | undefined =>
  entry === 'percent' ? applied?.value.si : held?.ok ? held.value.correction : undefined

/** What one check asks for under the conditions it was made in, whether it counts or not; undefined for an incomplete one. */
export function impliedOf(facts: FeedFacts, evidence: FeedEvidence): Outcome<ImpliedCorrection> | undefined {
  if (evidence.leftOut === 'incomplete') return undefined
  return facts.byId.get(evidence.id)?.implied ? ok(facts.byId.get(evidence.id)!.implied!) : implied(facts.setup, evidence.check)
}

/** The result of one check: as reckoned, or for one that does not count, what it would ask for. Undefined for an incomplete one. */
export function resultOf(facts: FeedFacts, evidence: FeedEvidence): FeedCheckResult | undefined {
  const reckoned = facts.byId.get(evidence.id)
  if (reckoned) return reckoned
  if (evidence.leftOut === 'incomplete') return undefined
  const alone = implied(facts.setup, evidence.check)
  const { id } = evidence
  if (!alone.ok) return { id, use: 'unusable', reason: alone.problem.reason, problem: alone.problem, weight: 0 }
  const combined = facts.reckoning?.combined
  return {
    id,
    use: 'skipped',
    ...(evidence.reason !== undefined && { reason: evidence.reason }),
    implied: alone.value,
    weight: 0,
    ...(combined && { residual: alone.value.correction - combined.correction }),
  }
}

/** A check that does not count, reckoned by itself: a long history is not reckoned again at every keystroke. */
const implied = recordedItem('one check', (setup: Setup, check: Check) =>
  impliedCorrection({ check: inputOf(check, '', setup), referenceTemperature: setup.shop.referenceTemperature.value }),
)

/** A spread that a document states. */
export const spreadOf = (spread: Pick<Repeatability, 'value' | 'freedom'> | undefined): StatedScatter | undefined =>
  spread?.value && spread.freedom ? { value: spread.value.value.si, freedom: spread.freedom.value } : undefined

/** What a check has to do with the others: its day and state, its lot, its age, and what brings it here. */
function standingOf({ check, age, carries }: FeedEvidence): Partial<FeedCheckInput> {
  return {
    day: `${check.date?.value} ${check.under?.value ?? ''}`,
    lot: check.lot && String(check.lot.value),
    age: Math.max(0, age ?? 0),
    carries,
    samePrint: check['same-print']?.value === true,
  }
}

function reckon(setup: Setup): FeedFacts {
  const { own, profile, printer, stock, shop } = setup
  const recheckDays = shop.recheck.feed.value / DAY
  const { evidence, newest, lot } = weigh(setup)
  const entry = printer?.feed?.entry?.value ?? 'percent'
  const step = printer?.feed?.step?.value
  const range = rangeOf(printer?.feed?.range?.items)
  const patternLength = patternOf(printer?.feed?.['pattern-lengths']?.items, newest?.check)
  const applied = profile.feed?.correction
  const lengthStep = step?.dimension === 'length' ? step.si : undefined
  const halfStep = halfStepOf(step, patternLength)
  const held =
    entry === 'measured-length'
      ? heldOf({ own, newest, applied: applied?.value.si, patternLength, half: halfStep, today: setup.today })
      : undefined
  const usable = evidence.filter((e) => e.leftOut === undefined)
  const comparable = usable.filter((e) => e.doubt === undefined)
  const expected = comparable.length === 0 && usable.length > 0
  const counted = (expected ? usable : comparable).slice(-MOST_CHECKS)
  const youngest = counted.reduce((least, { age = 0 }) => Math.min(least, age), Number.POSITIVE_INFINITY)
  const repeatability = spreadOf(printer?.feed?.repeatability)
  const inputs = counted.map((e) => ({ ...inputOf(e.check, e.id, setup), ...standingOf(e) }))
  const base = {
    setup,
    evidence,
    counted,
    expected,
    otherLots: lot !== undefined && counted.some(({ check }) => check.lot !== undefined && String(check.lot.value) !== lot),
    stated: repeatability !== undefined,
    entry,
    applied,
    held,
    halfStep,
    lengthUnit: lengthUnitOf(step, printer?.feed?.['pattern-lengths']?.items[0]?.value),
    step: step?.si,
    range,
    patternLength,
    tolerance: shop.tolerance.length.value,
    newest,
    recheckDays,
    stale: counted.length > 0 && youngest > recheckDays,
    lot,
  }
  const fine = fineOf(setup, counted)
  if (inputs.length === 0 && !fine)
    return { ...base, byId: new Map(), reckoning: undefined, problem: undefined, input: undefined }
  const input: FeedInput = {
    checks: inputs,
    referenceTemperature: shop.referenceTemperature.value,
    scatter: { repeatability, lotSpread: spreadOf(stock?.['lot-spread']), lotNow: lot },
    tolerance: shop.tolerance.length.value,
    risk: shop.tolerance.risk.value,
    entry,
    applied: applied?.value.si,
    held: held?.ok ? ok(held.value.correction) : held,
    range,
    patternLength,
    ...(lengthStep === undefined ? { step: step?.si } : { lengthStep }),
    ...(fine && { fine }),
  }
  const outcome = reckonFeed(input)
  const byId = new Map(outcome.ok ? outcome.value.checks.map((c) => [c.id, c]) : [])
  const [reckoning, problem] = outcome.ok ? [outcome.value, undefined] : [undefined, outcome.problem]
  return { ...base, byId, reckoning, problem, input }
}

/** What a complete check says. */
function inputOf(check: Check, id: string, setup: Setup): FeedCheckInput {
  const { shop, printer, material } = setup
  const instrument = check.with && shop.instruments.get(check.with.value)
  const tension = check.tensioned?.value === true ? strainOf(setup) : undefined
  const date = check.date?.value ?? ''
  const room = roomOn(printer, date)
  const temperature = check.climate?.temperature ?? room?.temperature
  return {
    id,
    commanded: check.commanded!.value.si,
    measured: check.measured!.value.si,
    applied: check.applied!.value.si,
    statedUncertainty: check.measured!.value.uncertainty,
    instrument: check.with?.value,
    ...ruleFacts(instrument),
    ruleError: ruleErrorOn(instrument, date),
    ruleTemperature: temperature?.value.si,
    ...webFacts(check, temperature, setup),
    webExpansion: material.property('expansion')?.range,
    ...humidityFacts(check.climate?.humidity ?? room?.humidity, setup),
    tensionStrain: tension,
  }
}

/**
 * How warm the web was: as measured, or as the room in which it lay. Where nobody wrote either down, it was between the room and as warm as it gets on the
 * platen; on a machine that does not warm it, as warm as the shop's room may be.
 */
function webFacts(
  { web, under }: Check,
  room: Q<'temperature'> | undefined,
  setup: Setup,
): Pick<FeedCheckInput, 'webTemperature' | 'webTemperatureUncertainty' | 'webBetween'> {
  const known = web ?? room
  if (known) return { webTemperature: known.value.si, webTemperatureUncertainty: known.value.uncertainty }
  const state = under && statesOf(setup).get(under.value)
  const warm = state ? warmthThen(setup, state) : warmthOf(setup)
  const reference = setup.shop.referenceTemperature.value
  if (warm !== undefined) return { webBetween: [Math.min(reference, warm), Math.max(reference, warm)] }
  const [low, high] = setup.shop.climate.temperature.value
  return { webBetween: [low, high] }
}

/** degC that the web typically has behind the platen; undefined where nothing warms it. */
function warmthOf(setup: Setup): number | undefined {
  const platen = heatOf(setup).zones.find(({ zone }) => zone === 'platen')
  return platen?.set && platen.web.ok ? platen.web.value.leave.typical : undefined
}

const warmthThen = recordedItem('warmth then', (setup: Setup, state: State) => warmthOf(underState(setup, state)))

/** The middle of the shop's humidity is the one at which lengths count; what nobody wrote down was somewhere in it. */
function humidityFacts(
  humidity: Q<'humidity'> | undefined,
  { shop, material }: Setup,
): Pick<FeedCheckInput, 'moistureExpansion' | 'humidity' | 'humidityUncertainty' | 'humidityBetween' | 'referenceHumidity'> {
  const moistureExpansion = material.property('moisture-expansion')?.range
  if (!moistureExpansion) return {}
  const [dry, damp] = shop.climate.humidity.value
  const referenceHumidity = (dry + damp) / 2
  if (!humidity) return { moistureExpansion, referenceHumidity, humidityBetween: [dry, damp] }
  return {
    moistureExpansion,
    referenceHumidity,
    humidity: humidity.value.si,
    humidityUncertainty: humidity.value.uncertainty,
  }
}

/** What a rule was found to show too much on a day, as a calculation takes it. */
export function ruleErrorOn(instrument: Instrument | undefined, date: string): FeedCheckInput['ruleError'] {
  const found = errorOn(instrument, date)
  return found && { value: found.error, of: found.kind === 'share' ? 'length' : 'reading', uncertainty: found.uncertainty }
}

/** What a calculation takes of a rule: its division, its limit of error and how it grows with warmth. */
export function ruleFacts(
  instrument: Instrument | undefined,
): Pick<FeedCheckInput, 'division' | 'limitOfError' | 'hook' | 'ruleExpansion'> {
  if (!instrument) return {}
  const division = instrument.division?.value
  return {
    division: division?.dimension === 'length' ? division.si : undefined,
    limitOfError: limitOf(instrument['limit-of-error']),
    hook: instrument.hook?.value,
    ruleExpansion: instrument.expansion?.value.si,
  }
}

function limitOf(limit: Instrument['limit-of-error']): LimitOfError | undefined {
  if (!limit) return undefined
  if ('items' in limit) {
    const [a, b] = limit.items
    return a?.value.dimension === 'length' ? { a: a.value.si, b: b?.value.dimension === 'relative' ? b.value.si : 0 } : undefined
  }
  const { value } = limit
  if (typeof value === 'string') return ruleClasses[CLASSES[value]]
  return value.dimension === 'length' ? { a: value.si, b: 0 } : undefined
}

const CLASSES = { 'class-1': 'I', 'class-2': 'II', 'class-3': 'III' } as const

/** Strain of the web at the profile's tension, for a check measured under it. */
export function strainOf(setup: Setup): Range | undefined {
  const tension = tensionOf(setup)
  const stiffness = setup.material.stiffness()
  if (!tension || !stiffness) return undefined
  const strain = divideRanges(exactly(tension.value), stiffness.range)
  return strain.ok ? strain.value : undefined
}

function fineOf(setup: Setup, counted: readonly FeedEvidence[]): FeedInput['fine'] {
  const { own, printer } = setup
  const fine = own.feed?.fine
  const picks = fine?.picks?.items.map((p) => p.value) ?? []
  const applied = fine?.applied?.value.si
  const step = printer?.feed?.fine?.step?.value.si
  const advance = advanceOf(setup)
  if (picks.length === 0 || applied === undefined || step === undefined || !advance.ok) return undefined
  const date = fine?.date?.value
  const otherMode = fineDoubt(setup)
  return {
    picks,
    rows: rowsOf(setup, picks.length),
    step,
    advancePerPass: advance.value.advance,
    applied,
    patches: printer?.feed?.fine?.patches?.value,
    otherMode: otherMode && `they were ${otherMode}`,
    older: date !== undefined && counted.some(({ check }) => check.date !== undefined && check.date.value > date),
  }
}

/** As a correction; half of a hundredth of a per cent where the printer does not give its step (common practice). */
function halfStepOf(step: Quantity | undefined, patternLength: number | undefined): number {
  if (step?.dimension === 'length') return patternLength ? step.si / patternLength / 2 : 0.5e-4
  return step ? step.si / 2 : 0.5e-4
}

const lengthUnitOf = (step: Quantity | undefined, pattern: Quantity | undefined): Unit =>
  [step, pattern].find((q) => q?.dimension === 'length')?.unit ?? canonicalUnit('length')

function rangeOf(items: readonly F<Quantity>[] | undefined): readonly [number, number] | undefined {
  const [low, high] = items ?? []
  return low && high && low.value.si <= high.value.si ? [low.value.si, high.value.si] : undefined
}

/** The pattern the printer is told about: the newest check's where the printer has it, else the longest it has. */
function patternOf(items: readonly F<Quantity>[] | undefined, newest: Check | undefined): number | undefined {
  const lengths = items?.map((l) => l.value.si) ?? []
  const last = newest?.commanded?.value.si
  if (last !== undefined && (lengths.length === 0 || lengths.some((l) => Math.abs(l - last) < 1e-6))) return last
  return lengths.length ? Math.max(...lengths) : undefined
}
