// Shops over two years, simulated: profiles whose level wanders, drifts and steps at each lot, checked when they are due or by the calendar.
// The truth (from memory, in percent of length): walk 0.0025 per root day, within a factor of 2 between printers; drift ±0.00015 a day; lots of
// 60 days with steps of 0.02; checks good to 0.025; tolerance 0.05. The walks can be made faster or slower than what is held possible beforehand.
import { nextCheckDue, type RateEvidence, rateEvidence } from '../../server/src/calc/due.ts'
import { followLevel, type LevelCheck, levelAhead, type Rates, riskBeyond } from '../../server/src/calc/level.ts'
import { must } from '../calculations/must.ts'
import { Chance } from '../support/chance.ts'

const DAYS = 730
const LOT_DAYS = 60
const U = 2.5e-4
const TOLERANCE = 5e-4
/** Every third day is looked at: risk moves little in between. */
const LOOK = 3

/**
 * When a profile is checked: at a risk, every so many days, or every so many days and at each new lot. `react`: by what a check found in tolerance or out of it,
 * the days to the next are multiplied.
 */
export type Policy =
  | { readonly risk: number }
  | { readonly every: number; readonly eachLot?: boolean; readonly react?: { readonly found: number; readonly out: number } }

interface Profile {
  readonly rates: Rates
  /** The true level on each day. */
  readonly truth: Float64Array
  /** The error that a check on that day would have. */
  readonly errors: Float64Array
  readonly lotDay: number
  readonly firstDay: number
}

export interface Shop {
  readonly profiles: readonly Profile[]
}

export interface Truth {
  readonly profiles: number
  /** Walks of the printers over those held typical. */
  readonly walk?: number
  /** Lots that lie about one level, instead of each about the one before. */
  readonly lotsReturn?: boolean
}

export function makeShop(seed: number, { profiles, walk: faster = 1, lotsReturn = false }: Truth): Shop {
  const chance = new Chance(seed)
  const make = (): Profile => {
    const walk = 2.5e-5 * faster * 2 ** chance.normal()
    const slope = 1.5e-6 * chance.normal()
    const lotDay = chance.below(LOT_DAYS)
    const truth = new Float64Array(DAYS)
    let [wandered, lot] = [0, 0]
    for (let day = 0; day < DAYS; day++) {
      wandered += slope + walk * chance.normal()
      if (day % LOT_DAYS === lotDay) lot = (lotsReturn ? 0 : lot) + 2e-4 * chance.normal()
      truth[day] = wandered + lot
    }
    return {
      rates: { walk, lot: 2e-4, slope: 1.5e-6 },
      truth,
      lotDay,
      errors: Float64Array.from({ length: DAYS }, () => U * chance.normal()),
      firstDay: chance.below(30),
    }
  }
  return { profiles: Array.from({ length: profiles }, make) }
}

/** What was counted, from the day on that counting began. */
export interface Count {
  /**
   * Profile-days looked at, the sum of the risks stated for them, that of the risks told by one who knows the printer's true rates, and how many were
   * outside. The second and the last have the same expectation where the truth is of the model's kind; the second has far less noise.
   */
  readonly days: number
  readonly stated: number
  readonly known: number
  readonly outside: number
  readonly checks: number
  /** Checks made because they were due (by the calendar, those of which is known what they found): the risk stated just before, and how many were outside. */
  readonly due: { readonly checks: number; readonly stated: number; readonly outside: number }
  /** Profile-years counted. */
  readonly years: number
}

/** Runs a shop day by day: profiles learn from one another's checks so far. By the calendar no risk is stated. */
export function runShop({ profiles }: Shop, policy: Policy, from: number): Count {
  const counts = { days: 0, stated: 0, known: 0, outside: 0, checks: 0, years: (profiles.length * (DAYS - from)) / 365 }
  const due = { checks: 0, stated: 0, outside: 0 }
  const evidence: (RateEvidence | undefined)[] = profiles.map(() => undefined)
  const states = profiles.map((profile) => ({ ...profile, checks: [] as LevelCheck[], set: 0, next: profile.firstDay, days: 0 }))
  for (let day = 0; day < DAYS; day++)
    states.forEach((state, i) => {
      const { rates, truth, errors, lotDay, checks, firstDay } = state
      const newLot = day % LOT_DAYS === lotDay && day > firstDay
      if (day < state.next && !newLot) return
      const lot = `${Math.floor((day - lotDay) / LOT_DAYS)}`
      const tillLot = LOT_DAYS - ((day + LOT_DAYS - lotDay) % LOT_DAYS)
      const others = evidence.flatMap((one, j) => (j !== i && one ? one : []))
      const judged = (more: { set?: number; days?: number[] }) =>
        // By the calendar the smallest of risks is asked for, which is answered at once.
        must(
          nextCheckDue({
            checks,
            today: day,
            lot,
            tolerance: TOLERANCE,
            risk: 'risk' in policy ? policy.risk : 1e-12,
            others,
            ...more,
          }),
        )
      const check = (): void => {
        if (day >= from) counts.checks++
        checks.push({ day, value: truth[day]! + errors[day]!, u: U, lot })
        evidence[i] = must(rateEvidence({ checks }))
      }
      const count = (until: number, risks?: ReadonlyMap<number, number>): void => {
        const level = followLevel(checks, rates)
        const last = checks.at(-1)!
        for (let on = Math.max(from, day); on < Math.min(until, DAYS); on++) {
          if (on % LOOK !== 0) continue
          counts.days++
          counts.stated += risks?.get(on - day) ?? 0
          const { value, variance } = levelAhead(level, rates, on - last.day, last.lot === lot ? 0 : 1)
          counts.known += riskBeyond(value - state.set, variance, TOLERANCE)
          if (Math.abs(truth[on]! - state.set) > TOLERANCE) counts.outside++
        }
      }
      if ('every' in policy) {
        if (day >= state.next || policy.eachLot === true) {
          const isOut = Math.abs(truth[day]! + errors[day]! - state.set) > TOLERANCE
          const factor = checks.length === 0 ? 1 : (policy.react?.[isOut ? 'out' : 'found'] ?? 1)
          state.days = (state.days || policy.every) * factor
          if (checks.length > 0 && day >= from) {
            due.checks++
            if (isOut) due.outside++
          }
          check()
          state.set = judged({}).level
          state.next = day + Math.max(1, Math.round(state.days))
        }
        count(Math.min(state.next, day + tillLot))
        return
      }
      const days = Array.from({ length: tillLot }, (_, ahead) => ahead).filter((ahead) => (day + ahead) % LOOK === 0)
      let found = checks.length > 0 ? judged({ set: state.set, days }) : undefined
      if (found === undefined || found.due === 0) {
        if (found && day >= from) {
          due.checks++
          due.stated += found.riskToday
          if (Math.abs(truth[day]! - state.set) > TOLERANCE) due.outside++
        }
        check()
        found = judged({ days })
        state.set = found.level
      }
      state.next = day + Math.max(1, found.due ?? DAYS)
      count(Math.min(state.next, day + tillLot), new Map(found.curve.map(({ day: ahead, risk }) => [ahead, risk])))
    })
  return { ...counts, due }
}
