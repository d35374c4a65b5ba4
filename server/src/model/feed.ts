// The feed correction of a setup: its checks, with what the shop knows of each, reckoned into one number. Decides which checks speak for today:
// those within the shop's re-check time and of the newest lot; where none is recent enough, the last ones made, and the facts say so.
import type { CalcProblem, Outcome } from '../base/outcome.ts'
import { type FeedCheckResult, type FeedInput, type FeedReckoning, reckonFeed } from '../calc/feed.ts'
import { type FeedCheckInput, type ImpliedCorrection, impliedCorrection } from '../calc/feed-check.ts'
import type { LimitOfError } from '../calc/measurement.ts'
import { divideRanges, exactly, type Range } from '../calc/range.ts'
import type { Quantity } from '../quantities/quantity.ts'
import { advanceOf } from './advance.ts'
import { DAY, daysBetween } from './dates.ts'
import type { F } from './field.ts'
import type { Check, Instrument } from './generated/documents.ts'
import type { Setup } from './setup.ts'
import { tensionOf } from './tension.ts'

/** Why a check does not count: a person said so, or what the shop knows of it. */
export type LeftOut = 'skipped' | 'too-old' | 'other-lot' | 'incomplete' | 'future'

export interface FeedEvidence {
  readonly check: Check
  /** Position in the list, from 0. */
  readonly index: number
  readonly id: string
  /** Days before today; undefined without a date. */
  readonly age: number | undefined
  readonly leftOut: LeftOut | undefined
  /** Why, in plain words. */
  readonly reason: string | undefined
}

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

const kept = new WeakMap<Setup, FeedFacts>()

/** The feed facts of a setup, reckoned once. Never throws; what cannot be reckoned is told in `problem` or beside its check. */
export function feedOf(setup: Setup): FeedFacts {
  let facts = kept.get(setup)
  if (!facts) {
    facts = reckon(setup)
    kept.set(setup, facts)
  }
  return facts
}

/** What one check asks for, whether it counts or not; undefined for an incomplete one. */
export function impliedOf(facts: FeedFacts, evidence: FeedEvidence): Outcome<ImpliedCorrection> | undefined {
  if (evidence.leftOut === 'incomplete') return undefined
  return impliedAlone(evidence, facts.setup)
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

interface Alone {
  readonly shop: unknown
  readonly stock: unknown
  readonly strain: Range | undefined
  readonly outcome: Outcome<ImpliedCorrection>
}

const alone = new WeakMap<Check, Alone>()

/** A left-out check reckoned by itself, kept by check: a long history is not reckoned again at every keystroke. */
function impliedAlone(evidence: FeedEvidence, setup: Setup): Outcome<ImpliedCorrection> | undefined {
  const { check } = evidence
  const strain = check.tensioned?.value === true ? strainOf(setup) : undefined
  const before = alone.get(check)
  const same = before && before.shop === setup.shop.document && before.stock === setup.stock && sameRange(before.strain, strain)
  if (same) return before.outcome
  const input = inputOf(evidence, setup)
  if (!input) return undefined
  const outcome = impliedCorrection({ check: input, referenceTemperature: setup.shop.referenceTemperature.value })
  alone.set(check, { shop: setup.shop.document, stock: setup.stock, strain, outcome })
  return outcome
}

const sameRange = (a: Range | undefined, b: Range | undefined): boolean =>
  a?.low === b?.low && a?.typical === b?.typical && a?.high === b?.high

function reckon(setup: Setup): FeedFacts {
  const { own, profile, printer, shop } = setup
  const recheckDays = shop.recheck.feed.value / DAY
  const checks = own.feed?.checks?.items ?? []
  const { evidence, newest, stale, lot } = weigh(checks, setup, recheckDays)
  const entry = printer?.feed?.entry?.value ?? 'percent'
  const step = printer?.feed?.step?.value
  const range = rangeOf(printer?.feed?.range?.items)
  const patternLength = patternOf(printer?.feed?.['pattern-lengths']?.items, newest?.check)
  const applied = profile.feed?.correction
  const counted = evidence.filter((e) => e.leftOut === undefined)
  const inputs = counted.flatMap((e) => inputOf(e, setup) ?? [])
  const base = {
    setup,
    evidence,
    counted,
    entry,
    applied,
    step: step?.si,
    range,
    patternLength,
    tolerance: shop.tolerance.length.value,
    newest,
    recheckDays,
    stale,
    lot,
  }
  const fine = fineOf(setup)
  if (inputs.length === 0 && !fine) return { ...base, byId: new Map(), reckoning: undefined, problem: undefined }
  const input: FeedInput = {
    checks: inputs,
    referenceTemperature: shop.referenceTemperature.value,
    tolerance: shop.tolerance.length.value,
    entry,
    applied: applied?.value.si,
    range,
    patternLength,
    ...(step?.dimension === 'length' ? { lengthStep: step.si } : { step: step?.si }),
    ...(fine && { fine }),
  }
  const outcome = reckonFeed(input)
  const byId = new Map(outcome.ok ? outcome.value.checks.map((c) => [c.id, c]) : [])
  return { ...base, byId, reckoning: outcome.ok ? outcome.value : undefined, problem: outcome.ok ? undefined : outcome.problem }
}

/** What decides which checks speak for today. */
interface Terms {
  /** Days: the age up to which a check counts. */
  readonly oldest: number
  readonly recheckDays: number
  readonly lot: string | undefined
}

/** Which checks speak for today. Walks the history twice, and makes no text: a hundred hovers ask for reasons, a thousand keystrokes do not. */
function weigh(
  checks: readonly Check[],
  setup: Setup,
  recheckDays: number,
): { evidence: FeedEvidence[]; newest: FeedEvidence | undefined; stale: boolean; lot: string | undefined } {
  const ages = checks.map(({ date }) => date && daysBetween(date.value, setup.today))
  let newest = -1
  for (let i = 0; i < checks.length; i++) {
    const age = ages[i]
    if (age === undefined || age < 0 || checks[i]!.skip || !isComplete(checks[i]!)) continue
    if (newest < 0 || age <= ages[newest]!) newest = i
  }
  const youngest = ages[newest] ?? 0
  const stale = newest >= 0 && youngest > recheckDays
  // Where nothing is recent, the last checks still say most: those within the re-check time before the newest one.
  const oldest = stale ? youngest + recheckDays : recheckDays
  const lot = newestLot(checks, ages, oldest)
  const terms: Terms = { oldest, recheckDays, lot }
  const evidence = checks.map((check, i) => new Evidence(check, i, ages[i], whyLeftOut(check, ages[i], terms), terms))
  return { evidence, newest: evidence[newest], stale, lot }
}

/** The lot of the newest check that is recent and names one. */
function newestLot(checks: readonly Check[], ages: readonly (number | undefined)[], oldest: number): string | undefined {
  let newest = -1
  for (let i = 0; i < checks.length; i++) {
    const [check, age] = [checks[i]!, ages[i]]
    if (age === undefined || age < 0 || age > oldest || !check.lot || check.skip || !isComplete(check)) continue
    if (newest < 0 || age <= ages[newest]!) newest = i
  }
  return checks[newest]?.lot?.value
}

class Evidence implements FeedEvidence {
  constructor(
    readonly check: Check,
    readonly index: number,
    readonly age: number | undefined,
    readonly leftOut: LeftOut | undefined,
    private readonly terms: Terms,
  ) {}

  get id(): string {
    return `check ${this.index + 1}`
  }

  get reason(): string | undefined {
    const { check, age, terms } = this
    switch (this.leftOut) {
      case 'incomplete':
        return 'date, commanded, measured or applied is missing or not understood'
      case 'skipped':
        return check.skip?.value
      case 'future':
        return `it is dated ${-(age ?? 0)} days after today`
      case 'too-old':
        return `it is ${age} days old, and a check proves the feed for ${Number(terms.recheckDays.toFixed(1))} days`
      case 'other-lot':
        return `it was made on lot ${check.lot?.value}, and the newest on lot ${terms.lot}`
      default:
        return undefined
    }
  }
}

function whyLeftOut(check: Check, age: number | undefined, { oldest, lot }: Terms): LeftOut | undefined {
  if (!isComplete(check) || age === undefined) return 'incomplete'
  if (check.skip) return 'skipped'
  if (age < 0) return 'future'
  if (age > oldest) return 'too-old'
  return lot !== undefined && check.lot && check.lot.value !== lot ? 'other-lot' : undefined
}

const isComplete = (check: Check): boolean =>
  check.commanded !== undefined && check.measured !== undefined && check.applied !== undefined

function inputOf(evidence: FeedEvidence, setup: Setup): FeedCheckInput | undefined {
  const { check, id, leftOut } = evidence
  if (leftOut === 'incomplete') return undefined
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
    webTemperature: check.web?.value.si,
    webTemperatureUncertainty: check.web?.value.uncertainty,
    webExpansion: expansion,
    tensionStrain: tension,
  }
}

function ruleFacts(instrument: Instrument | undefined): Pick<FeedCheckInput, 'division' | 'limitOfError' | 'ruleExpansion'> {
  if (!instrument) return {}
  const division = instrument.division?.value
  return {
    division: division?.dimension === 'length' ? division.si : undefined,
    limitOfError: limitOf(instrument['limit-of-error']),
    ruleExpansion: instrument.expansion?.value.si,
  }
}

function limitOf(limit: Instrument['limit-of-error']): LimitOfError | undefined {
  if (!limit) return undefined
  if ('items' in limit) {
    const [a, b] = limit.items
    return a?.value.dimension === 'length' ? { a: a.value.si, b: b?.value.dimension === 'relative' ? b.value.si : 0 } : undefined
  }
  return limit.value.dimension === 'length' ? { a: limit.value.si, b: 0 } : undefined
}

/** Strain of the web at the profile's tension, for a check measured under it. */
export function strainOf(setup: Setup): Range | undefined {
  const tension = tensionOf(setup)
  const stiffness = setup.material.stiffness()
  if (!tension || !stiffness) return undefined
  const strain = divideRanges(exactly(tension.value), stiffness.range)
  return strain.ok ? strain.value : undefined
}

function fineOf(setup: Setup): FeedInput['fine'] {
  const { own, printer } = setup
  const picks = own.feed?.fine?.picks?.items.map((p) => p.value) ?? []
  const applied = own.feed?.fine?.applied?.value.si
  const step = printer?.feed?.fine?.step?.value.si
  const advance = advanceOf(setup)
  if (picks.length === 0 || applied === undefined || step === undefined || !advance.ok) return undefined
  return { picks, step, advancePerPass: advance.value.advance, applied }
}

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
