// The feed correction of a setup: its checks, with what the shop knows of each (instrument, temperatures, tension), reckoned into one number.
// Which of them speak for today is decided in evidence.ts.

import { type CalcProblem, type Outcome, ok } from '../../base/outcome.ts'
import { recorded, recordedItem } from '../../base/recorder.ts'
import { type FeedCheckResult, type FeedInput, type FeedReckoning, reckonFeed } from '../../calc/feed.ts'
import { type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from '../../calc/feed-check.ts'
import { type LimitOfError, ruleClasses } from '../../calc/measurement.ts'
import { divideRanges, exactly, type Range } from '../../calc/range.ts'
import { DAY } from '../../model/dates.ts'
import type { F } from '../../model/field.ts'
import type { Check, Instrument } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { canonicalUnit, type Unit } from '../../quantities/units.ts'
import { advanceOf } from '../advance/advance.ts'
import { tensionOf } from '../web/tension.ts'
import { type FeedEvidence, weigh } from './evidence.ts'
import { fineDoubt } from './fine-state.ts'
import { type Held, heldOf } from './held.ts'
import { rowsOf } from './rows.ts'

export interface FeedFacts {
  readonly setup: Setup
  readonly evidence: readonly FeedEvidence[]
  /** Those that count; a few of what may be thousands. */
  readonly counted: readonly FeedEvidence[]
  /** The results of the checks that count, by id. */
  readonly byId: ReadonlyMap<string, FeedCheckResult>
  /** Of the checks that count; undefined where there is nothing to reckon. */
  readonly reckoning: FeedReckoning | undefined
  readonly problem: CalcProblem | undefined
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

/** What one check asks for, whether it counts or not; undefined for an incomplete one. */
export function impliedOf(facts: FeedFacts, evidence: FeedEvidence): Outcome<ImpliedCorrection> | undefined {
  if (evidence.leftOut === 'incomplete') return undefined
  const counted = evidence.leftOut === undefined ? facts.byId.get(evidence.id)?.implied : undefined
  return counted ? ok(counted) : impliedAlone(evidence, facts.setup)
}

/** The result of one check: as reckoned, or for one that does not count, what it would ask for. Undefined for an incomplete one. */
export function resultOf(facts: FeedFacts, evidence: FeedEvidence): FeedCheckResult | undefined {
  if (evidence.leftOut === undefined) return facts.byId.get(evidence.id)
  if (evidence.leftOut === 'incomplete') return undefined
  const implied = impliedAlone(evidence, facts.setup)
  if (!implied) return undefined
  const { id } = evidence
  if (!implied.ok) return { id, use: 'unusable', reason: implied.problem.reason, problem: implied.problem, weight: 0 }
  const combined = facts.reckoning?.combined
  return {
    id,
    use: 'skipped',
    ...(evidence.reason !== undefined && { reason: evidence.reason }),
    implied: implied.value,
    weight: 0,
    ...(combined && { residual: implied.value.correction - combined.correction }),
  }
}

/** A left-out check reckoned by itself: a long history is not reckoned again at every keystroke. */
function impliedAlone({ check, leftOut }: FeedEvidence, setup: Setup): Outcome<ImpliedCorrection> | undefined {
  return leftOut === 'incomplete' ? undefined : implied(setup, check)
}

const implied = recordedItem('one check', (setup: Setup, check: Check) =>
  impliedCorrection({ check: inputOf(check, '', setup), referenceTemperature: setup.shop.referenceTemperature.value }),
)

function reckon(setup: Setup): FeedFacts {
  const { own, profile, printer, shop } = setup
  const recheckDays = shop.recheck.feed.value / DAY
  const checks = own.feed?.checks?.items ?? []
  const { evidence, newest, stale, lot } = weigh(checks, setup.today, recheckDays)
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
  const counted = evidence.filter((e) => e.leftOut === undefined)
  const inputs = counted.map(({ check, id }) => inputOf(check, id, setup))
  const base = {
    setup,
    evidence,
    counted,
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
    stale,
    lot,
  }
  const fine = fineOf(setup, counted)
  if (inputs.length === 0 && !fine) return { ...base, byId: new Map(), reckoning: undefined, problem: undefined }
  const input: FeedInput = {
    checks: inputs,
    referenceTemperature: shop.referenceTemperature.value,
    tolerance: shop.tolerance.length.value,
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
  return { ...base, byId, reckoning: outcome.ok ? outcome.value : undefined, problem: outcome.ok ? undefined : outcome.problem }
}

/** What a complete check says. */
function inputOf(check: Check, id: string, setup: Setup): FeedCheckInput {
  const instrument = check.with && setup.shop.instruments.get(check.with.value)
  const tension = check.tensioned?.value === true ? strainOf(setup) : undefined
  const expansion = setup.material.property('expansion')?.range
  return {
    id,
    commanded: check.commanded!.value.si,
    measured: check.measured!.value.si,
    applied: check.applied!.value.si,
    statedUncertainty: check.measured!.value.uncertainty,
    instrument: check.with?.value,
    ...ruleFacts(instrument),
    ruleTemperature: check.climate?.temperature?.value.si,
    ...webFacts(check),
    webExpansion: expansion,
    tensionStrain: tension,
  }
}

/** How warm the web was: as measured, or as the room in which it lay; where neither was written down it is taken to be at the reference. */
function webFacts({ web, climate }: Check): Pick<FeedCheckInput, 'webTemperature' | 'webTemperatureUncertainty'> {
  const known = web ?? climate?.temperature
  return { webTemperature: known?.value.si, webTemperatureUncertainty: known?.value.uncertainty }
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
