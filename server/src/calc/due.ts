// The date of the next check: the first day on which the risk that a level has left its tolerance exceeds what the shop takes, by what this
// profile's checks and those of others say of drift and lots. No date is computed from a calendar here; days are numbers.
import { firstProblem, type Outcome, ok, refuse } from '../base/outcome.ts'
import { followLevel, type Level, type LevelCheck, levelAhead, type Rates, riskBeyond } from './level.ts'

// What is held possible before any check, all from memory: per root day the walk of printers of a kind lies about 0.0025 %, that of one about its kind's
// (each within a factor of 2 for two in three); a step from lot to lot about 0.022 %, within a factor of 2.4; a steady drift within ±0.00015 % a day.
const WALK = 2.5e-5
const WALK_SPREAD = 0.7
const LOT = Math.sqrt(5e-5 * 1e-3)
const LOT_SPREAD = 0.87
const SLOPE = 1.5e-6

// Nodes: the walk on a lattice of half a spread, so that a printer's lies on its kind's lattice too; the lots' on thirds of theirs.
const KIND_REACH = 6
const OWN_REACH = 3
const WALK_REACH = KIND_REACH + 2 * OWN_REACH
const LOT_REACH = 6
const kinds = 2 * KIND_REACH + 1
const walks = 2 * WALK_REACH + 1
const lots = 2 * LOT_REACH + 1
const walkAt = (k: number): number => WALK * Math.exp((k - WALK_REACH) * (WALK_SPREAD / 2))
const lotAt = (l: number): number => LOT * Math.exp((l - LOT_REACH) * (LOT_SPREAD / 3))
const bell = (z: number): number => Math.exp((-z * z) / 2)
/** Share of a kind's printers whose walk lies 0, ±1, … spreads from the kind's. */
const OWN = Array.from({ length: 2 * OWN_REACH + 1 }, (_, j) => bell(j - OWN_REACH))
const OWN_SUM = OWN.reduce((sum, w) => sum + w, 0)

/** Within two years and a bit; what is not due by then is not dated. */
const HORIZON = 800

const TOO_FAR = 'the values are too large or too small to compute with'

/** What one profile's checks say of the rates of its printer's kind: ln of their probability at each node, up to a constant. */
export interface RateEvidence {
  readonly logs: readonly number[]
}

/**
 * What the checks of one profile say of how fast levels move on its kind of printer, to be pooled over profiles by `nextCheckDue`.
 * Order of the checks does not matter. Fewer than two say nothing: all zeros. Source and refusals: `nextCheckDue`.
 */
export function rateEvidence({ checks }: { checks: readonly LevelCheck[] }): Outcome<RateEvidence> {
  const problem = faultIn(checks)
  if (problem) return problem
  const logs = kindLogs(nodesOf(byDay(checks)))
  return logs.every(Number.isFinite) ? ok({ logs }) : refuse('checks', TOO_FAR)
}

interface DueInput {
  /** The profile's checks, in any order. */
  readonly checks: readonly LevelCheck[]
  /** The day to speak of, counted as the checks' days; not before the newest of them. */
  readonly today: number
  /** The lot on the machine; another than that of the newest check is a step that no check has seen. */
  readonly lot?: string | undefined
  /** Days from today on which another lot comes on, as far as known; 0 is today. */
  readonly lotChanges?: readonly number[]
  /** What is keyed in, as a fraction; left out, it is what the checks ask for today (`level`). */
  readonly set?: number
  /** How far the level may lie from it, a fraction above zero. */
  readonly tolerance: number
  /** Probability of lying outside at which a check is due, above 0 and below 1. */
  readonly risk: number
  /** Standard deviation of a single print about the level, as a fraction: with it the risk is that of a print, without it that of the level. */
  readonly scatter?: number
  /** What other profiles of this kind of printer say of the rates; without it, and with few, the rates are largely from memory. */
  readonly others?: readonly RateEvidence[]
  /** Days from today at which to tell the risk too. */
  readonly days?: readonly number[]
}

export interface Due {
  /** Whole days from today to the first on which the risk exceeds the target, 0 where it does so today; undefined where it does not in two years. */
  readonly due: number | undefined
  /** Probability that the level (or a print, see `scatter`) is outside set ± tolerance today. */
  readonly riskToday: number
  /** The same at each of the days that were asked for. */
  readonly curve: readonly { readonly day: number; readonly risk: number }[]
  /** The level today and its standard uncertainty, as fractions. */
  readonly level: number
  readonly u: number
  /** Middle (geometric mean) of the rates held possible: wandering per root day, and the step from lot to lot, as fractions. */
  readonly walk: number
  readonly lotStep: number
}

/**
 * When a profile is to be checked again, and the risk until then.
 *
 * The level wanders (variance walk² a day), drifts steadily, and steps by `lot` at each new lot; a check is a Kalman step. The rates are not estimated and
 * plugged in but integrated over: one walk of the printer about its kind's, one step of lots for the kind, weighed by this profile's checks and by `others`.
 * The risk is 1 − P(level within set ± tolerance), the decision rule of JCGM 106:2012 7.4. That the stated risk is the real one within a point holds
 * over ten profiles or more that learn from one another (`tests/simulation/due.ts`); one profile alone is told what is typical, from memory.
 * Refuses no checks, a day before the newest check, what is not finite, a u or tolerance of zero or below, a risk outside ]0, 1[, a negative scatter
 * or day ahead, and evidence of another number of nodes.
 */
export function nextCheckDue(input: DueInput): Outcome<Due> {
  const { checks, today, lot, lotChanges = [], tolerance, risk, scatter = 0, others = [], days = [] } = input
  const problem = faultIn(checks) ?? faultAhead(input)
  if (problem) return problem
  const ordered = byDay(checks)
  const since = today - ordered.at(-1)!.day
  const newestLot = ordered.findLast((check) => check.lot !== undefined)?.lot
  const unseen = lot !== undefined && newestLot !== undefined && lot !== newestLot ? 1 : 0
  const nodes = weighed(nodesOf(ordered), others)

  const stepsBy = (day: number): number => unseen + lotChanges.reduce((sum, change) => sum + (change <= day ? 1 : 0), 0)
  const mean = (of: (i: number) => number): number => nodes.reduce((sum, { weight }, i) => sum + weight * of(i), 0)
  const now = nodes.map(({ level, rates }) => levelAhead(level, rates, since, stepsBy(0)))
  const level = mean((i) => now[i]!.value)
  const { set = level } = input
  const riskAt = (day: number): number => {
    const steps = stepsBy(day)
    let sum = 0
    for (let i = 0; i < nodes.length; i++) {
      const { level: known, rates, weight } = nodes[i]!
      const { value, variance } = levelAhead(known, rates, since + day, steps)
      sum += weight * riskBeyond(value - set, variance + scatter * scatter, tolerance)
    }
    return sum
  }
  const riskToday = riskAt(0)
  const result: Due = {
    due: riskToday > risk ? 0 : firstBeyond((day) => riskAt(day) > risk, lotChanges),
    riskToday: Math.min(1, riskToday),
    curve: days.map((day) => ({ day, risk: Math.min(1, riskAt(day)) })),
    level,
    u: Math.sqrt(mean((i) => now[i]!.variance + (now[i]!.value - level) ** 2)),
    walk: Math.exp(mean((i) => Math.log(nodes[i]!.rates.walk))),
    lotStep: Math.exp(mean((i) => Math.log(nodes[i]!.rates.lot))),
  }
  return [riskToday, level, result.u].every(Number.isFinite) ? ok(result) : refuse('checks', TOO_FAR)
}

/**
 * The first whole day after today on which `beyond` holds. Looks at days ever further apart and at those of new lots, then halves the gap: a risk that
 * exceeded the target for some days between two looks, and fell again by itself, would be missed; variance grows, so it hardly can.
 */
function firstBeyond(beyond: (day: number) => boolean, changes: readonly number[]): number | undefined {
  const looks = new Set(changes.map(Math.ceil).filter((day) => day > 0 && day <= HORIZON))
  for (let day = 1; day < HORIZON; day = Math.ceil(day * 1.5)) looks.add(day)
  looks.add(HORIZON)
  let inside = 0
  for (const look of [...looks].sort((a, b) => a - b)) {
    if (!beyond(look)) {
      inside = look
      continue
    }
    let outside = look
    while (outside - inside > 1) {
      const half = (inside + outside) >> 1
      if (beyond(half)) outside = half
      else inside = half
    }
    return outside
  }
  return undefined
}

interface Node {
  readonly rates: Rates
  readonly level: Level
}

/** The level at every pair of rates, walks outside, lots inside. Where no new lot is among the checks, lots change nothing of it. */
function nodesOf(ordered: readonly LevelCheck[]): Node[] {
  const oneLot = new Set(ordered.flatMap(({ lot }) => lot ?? [])).size < 2
  const nodes: Node[] = []
  for (let k = 0; k < walks; k++) {
    const first = followLevel(ordered, { walk: walkAt(k), lot: lotAt(0), slope: SLOPE })
    for (let l = 0; l < lots; l++) {
      const rates = { walk: walkAt(k), lot: lotAt(l), slope: SLOPE }
      nodes.push({ rates, level: oneLot || l === 0 ? first : followLevel(ordered, rates) })
    }
  }
  return nodes
}

/** ln of the probability of the checks at each pair of the kind's walk and lots: a printer's walk averaged over. */
function kindLogs(nodes: readonly Node[]): number[] {
  const logs: number[] = []
  const top = nodes.reduce((largest, { level }) => Math.max(largest, level.logLikelihood), Number.NEGATIVE_INFINITY)
  for (let kind = 0; kind < kinds; kind++)
    for (let l = 0; l < lots; l++) {
      let sum = 0
      for (let j = 0; j < OWN.length; j++) sum += OWN[j]! * Math.exp(nodes[(kind + 2 * j) * lots + l]!.level.logLikelihood - top)
      logs.push(Math.max(Math.log(sum / OWN_SUM), -700))
    }
  return logs
}

/** Nodes too unlikely to tell in a risk are left out. */
const NEGLIGIBLE = 1e-6

/** The nodes by how probable they are: what was held of the kind, what other profiles say of it, and this profile's own checks. */
function weighed(nodes: readonly Node[], others: readonly RateEvidence[]): (Node & { readonly weight: number })[] {
  const kindLog = Array.from({ length: kinds * lots }, (_, i) => {
    const z = (Math.floor(i / lots) - KIND_REACH) / 2
    const y = ((i % lots) - LOT_REACH) / 3
    return others.reduce((sum, { logs }) => sum + logs[i]!, -(z * z + y * y) / 2)
  })
  const top = kindLog.reduce((largest, log) => Math.max(largest, log))
  const weights = nodes.map(() => 0)
  for (let i = 0; i < kindLog.length; i++) {
    const weight = Math.exp(kindLog[i]! - top)
    const [kind, l] = [Math.floor(i / lots), i % lots]
    for (let j = 0; j < OWN.length; j++) weights[(kind + 2 * j) * lots + l]! += weight * OWN[j]!
  }
  const best = nodes.reduce(
    (largest, { level }, i) => (weights[i]! > 0 ? Math.max(largest, level.logLikelihood) : largest),
    -Infinity,
  )
  let sum = 0
  for (let i = 0; i < nodes.length; i++) sum += weights[i]! *= Math.exp(nodes[i]!.level.logLikelihood - best)
  const kept = nodes.flatMap((node, i) =>
    weights[i]! > NEGLIGIBLE * sum ? [{ rates: node.rates, level: node.level, weight: weights[i]! }] : [],
  )
  const left = kept.reduce((total, { weight }) => total + weight, 0)
  return kept.map(({ rates, level, weight }) => ({ rates, level, weight: weight / left }))
}

const byDay = (checks: readonly LevelCheck[]): LevelCheck[] => [...checks].sort((a, b) => a.day - b.day)

function faultIn(checks: readonly LevelCheck[]): Outcome<never> | undefined {
  if (checks.length === 0) return refuse('checks', 'there is no check to start from')
  for (const { day, value, u } of checks) {
    const problem = firstProblem({ day, value, u }, ['u'])
    if (problem) return refuse('checks', problem.reason)
  }
  return undefined
}

function faultAhead(input: DueInput): Outcome<never> | undefined {
  const { checks, today, lotChanges = [], set = 0, tolerance, risk, scatter = 0, others = [], days = [] } = input
  const problem = firstProblem({ today, set, tolerance, scatter }, ['tolerance'])
  if (problem) return { ok: false, problem }
  if (checks.some(({ day }) => day > today)) return refuse('today', 'a check was made after this day')
  if (!(risk > 0 && risk < 1)) return refuse('risk', 'the risk lies between 0 and 1, both excluded')
  if (scatter < 0) return refuse('scatter', 'the scatter must be zero or more')
  if (![...lotChanges, ...days].every((day) => day >= 0 && day < Number.POSITIVE_INFINITY))
    return refuse('days', 'days ahead are counted from today: zero or more')
  if (others.some(({ logs }) => logs.length !== kinds * lots || !logs.every(Number.isFinite)))
    return refuse('others', 'the evidence of another profile is not made by rateEvidence')
  return undefined
}
