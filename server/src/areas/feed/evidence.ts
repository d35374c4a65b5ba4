// Which feed checks speak for today, and which are shown and prove nothing. Walks the whole history at every keystroke, so it makes no text: reasons are
// worded when someone asks.
import { recorded } from '../../base/recorder.ts'
import { DAY, daysBetween } from '../../model/dates.ts'
import { type Opening, openedOn, openedSince } from '../../model/events.ts'
import type { Check, Instrument, State } from '../../model/generated/documents.ts'
import { type Doubt as InstrumentDoubt, suspectOn } from '../../model/instrument-history.ts'
import type { Setup } from '../../model/setup.ts'
import { isMadeName, nameByContent, statesOf } from '../../model/states.ts'
import { type Carried, type Carry, carriedFrom, humidityCarry, type Stopped } from './carry.ts'
import { doubtText } from './doubt-words.ts'

/** Why a check has no use at all: a person said so, nothing can be reckoned of it, or its instrument is in doubt. */
export type LeftOut = 'skipped' | 'incomplete' | 'future' | 'instrument'

/** Why a check proves nothing of today, though its number may be the one to expect. */
export type Doubt =
  | { readonly why: 'no-state' }
  | { readonly why: 'no-such-state' | 'state-differs'; readonly state: string }
  | { readonly why: 'event'; readonly opening: Opening }
  | { readonly why: 'other-lot'; readonly lot: string | undefined; readonly now: string }
  | { readonly why: 'no-such-instrument'; readonly instrument: string }
  | { readonly why: 'stopped'; readonly state: string; readonly stopped: Stopped }

export interface FeedEvidence {
  readonly check: Check
  /** Position in the list, from 0. */
  readonly index: number
  readonly id: string
  /** Days before today; undefined without a date. */
  readonly age: number | undefined
  /** Whether the shop still trusts a check of this age. */
  readonly recent: boolean
  readonly leftOut: LeftOut | undefined
  /** Undefined for a check that can prove today's number, and for one that is left out. */
  readonly doubt: Doubt | undefined
  /** What brings it to today's settings. */
  readonly carries: readonly Carry[]
  /** An event of its own day, which counts as before it. */
  readonly sameDay: Opening | undefined
  /** Why it proves nothing, in plain words. */
  readonly reason: string | undefined
}

/** All checks of a setup, the newest that is dated and usable, and the lot that is printed on now, as far as anybody wrote it down. */
export interface Weighed {
  readonly evidence: readonly FeedEvidence[]
  readonly newest: FeedEvidence | undefined
  readonly lot: string | undefined
}

export const weigh: (setup: Setup) => Weighed = recorded('weighed checks', weighed)

function weighed(setup: Setup): Weighed {
  const { own, shop, today, printer } = setup
  const checks = own.feed?.checks?.items ?? []
  const states = new States(setup)
  const instrumentOf = (check: Check): Instrument | undefined => check.with && shop.instruments.get(check.with.value)
  const leftOut = checks.map((check): LeftOut | undefined => {
    if (!isComplete(check)) return 'incomplete'
    if (check.skip) return 'skipped'
    if (check.date!.value > today) return 'future'
    return suspectOn(instrumentOf(check), check.date!.value) ? 'instrument' : undefined
  })
  let newest = -1
  checks.forEach(({ date }, i) => {
    if (leftOut[i] === undefined && (newest < 0 || date!.value >= checks[newest]!.date!.value)) newest = i
  })
  const lot = lotNow(setup, checks[newest])
  const spread = setup.stock?.['lot-spread'] !== undefined
  const evidence = checks.map((check, index): FeedEvidence => {
    const date = check.date?.value
    const out = leftOut[index]
    const age = date === undefined ? undefined : daysBetween(date, today)
    if (out !== undefined)
      return new Evidence(setup, { check, index, age, leftOut: out, doubt: undefined, carries: [], sameDay: undefined })
    const name = check.under?.value
    const carried = name === undefined ? undefined : broughtBy(states.carried(name), () => humidityCarry(setup, check))
    const doubt = doubtOf({
      check,
      name,
      carried,
      states,
      lot,
      spread,
      opening: openedSince(printer, 'feed', date!, today),
      instrumentOf,
    })
    const carries = !doubt && carried?.ok ? carried.carries : []
    return new Evidence(setup, { check, index, age, leftOut: out, doubt, carries, sameDay: openedOn(printer, 'feed', date!) })
  })
  return { evidence, newest: evidence[newest], lot }
}

/** What the settings and the air do together; the first that stops it. */
function broughtBy(settings: Carried | undefined, air: () => Carried): Carried | undefined {
  if (!settings?.ok) return settings
  const byAir = air()
  return byAir.ok && byAir.carries.length > 0
    ? { ok: true, carries: [...settings.carries, ...byAir.carries] }
    : byAir.ok
      ? settings
      : byAir
}

interface Question {
  readonly check: Check
  readonly name: string | undefined
  readonly carried: Carried | undefined
  readonly states: States
  readonly lot: string | undefined
  /** Whether the stock says how far its lots differ. */
  readonly spread: boolean
  readonly opening: Opening | undefined
  readonly instrumentOf: (check: Check) => Instrument | undefined
}

/** The first reason that holds, the one that is hardest to mend first. */
function doubtOf({ check, name, carried, states, lot, spread, opening, instrumentOf }: Question): Doubt | undefined {
  if (opening) return { why: 'event', opening }
  if (check.with && !instrumentOf(check)) return { why: 'no-such-instrument', instrument: check.with.value }
  if (name === undefined) return { why: 'no-state' }
  const fault = states.fault(name)
  if (fault) return { why: fault, state: name }
  if (carried && !carried.ok) return { why: 'stopped', state: name, stopped: carried.stopped }
  if (lot !== undefined && !spread && check.lot?.value !== lot) return { why: 'other-lot', lot: check.lot?.value, now: lot }
  return undefined
}

/** The states of a profile, each asked once. */
class States {
  private readonly states: ReadonlyMap<string, State>
  private readonly asked = new Map<string, Carried | undefined>()
  private readonly faults = new Map<string, 'no-such-state' | 'state-differs' | undefined>()

  constructor(private readonly setup: Setup) {
    this.states = statesOf(setup)
  }

  carried(name: string): Carried | undefined {
    if (!this.asked.has(name)) {
      const state = this.states.get(name)
      this.asked.set(name, state && carriedFrom(this.setup, state))
    }
    return this.asked.get(name)
  }

  /** Nothing that is written under a name which does not stand for its content is known to have been made in it. */
  fault(name: string): 'no-such-state' | 'state-differs' | undefined {
    if (!this.faults.has(name)) {
      const state = this.states.get(name)
      const guarded = state && isMadeName(name) && nameByContent(state) !== name
      this.faults.set(name, state === undefined ? 'no-such-state' : guarded ? 'state-differs' : undefined)
    }
    return this.faults.get(name)
  }
}

/**
 * The lot that is printed on: of the stock's lots the one that was opened last and is not used up, where that was after the newest check; else the lot of
 * the newest check. Undefined where neither names one: then nobody keeps lots apart.
 */
function lotNow({ stock, today }: Setup, newest: Check | undefined): string | undefined {
  const since = newest?.date?.value
  let opened: { readonly lot: string; readonly date: string } | undefined
  for (const { lot, opened: day, finished } of stock?.lots?.items ?? []) {
    if (!lot || !day || day.value > today || (finished && finished.value <= today)) continue
    if (!opened || day.value >= opened.date) opened = { lot: String(lot.value), date: day.value }
  }
  const checked = newest?.lot && String(newest.lot.value)
  return opened && (since === undefined || opened.date > since || checked === undefined) ? opened.lot : checked
}

type Given = Omit<FeedEvidence, 'id' | 'reason' | 'recent'>

class Evidence implements FeedEvidence {
  readonly check: Check
  readonly index: number
  readonly age: number | undefined
  readonly leftOut: LeftOut | undefined
  readonly doubt: Doubt | undefined
  readonly carries: readonly Carry[]
  readonly sameDay: Opening | undefined

  /** Out of reach of whoever walks a result. */
  readonly #setup: Setup

  constructor(setup: Setup, given: Given) {
    this.#setup = setup
    this.check = given.check
    this.index = given.index
    this.age = given.age
    this.leftOut = given.leftOut
    this.doubt = given.doubt
    this.carries = given.carries
    this.sameDay = given.sameDay
  }

  get id(): string {
    return `check ${this.index + 1}`
  }

  get recent(): boolean {
    const { age = Number.POSITIVE_INFINITY } = this
    return age <= this.#setup.shop.recheck.feed.value / DAY
  }

  get reason(): string | undefined {
    const { check, age } = this
    switch (this.leftOut) {
      case 'incomplete':
        return 'date, commanded, measured or applied is missing or not understood'
      case 'skipped':
        return check.skip?.value
      case 'future':
        return `it is dated ${-(age ?? 0)} days after today`
      case 'instrument':
        return instrumentReason(check.with?.value, this.instrumentDoubt())
      default:
        return this.doubt && doubtText(this.doubt, this.#setup)
    }
  }

  private instrumentDoubt(): InstrumentDoubt | undefined {
    const { check } = this
    return suspectOn(check.with && this.#setup.shop.instruments.get(check.with.value), check.date!.value)
  }
}

const instrumentReason = (name: string | undefined, doubt: InstrumentDoubt | undefined): string =>
  `${name} was in doubt then${doubt ? ` (${doubt.why}, since ${doubt.from})` : ''}`

const isComplete = (check: Check): boolean =>
  check.date !== undefined && check.commanded !== undefined && check.measured !== undefined && check.applied !== undefined
