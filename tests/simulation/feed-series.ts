// Printers and what is measured on them, simulated: a truth is drawn, and from it the checks that a technician would write down, rounded and with gaps.
// The truth knows nothing of the reckoning but its input: errors of rules are rectangular, readings fall on divisions, the web is as warm as it was.
// Sizes from memory: scatter 0.005 to 0.1 %, lots alike, walk 0.0025 % per root day within a factor of 2, tension and suction 0.02 to 0.1 %.
import type { FeedInput } from '../../server/src/calc/feed.ts'
import type { FeedCarry, FeedCheckInput } from '../../server/src/calc/feed-check.ts'
import { type LimitOfError, ruleClasses } from '../../server/src/calc/measurement.ts'
import { normalCdf } from '../../server/src/calc/normal.ts'
import { shiftOfRange } from '../../server/src/calc/two-piece.ts'
import { must } from '../calculations/must.ts'
import type { Chance } from '../support/chance.ts'

export type Rule = 'I' | 'II' | 'S'

/** Division and limit of error: rules of two classes read to half a millimetre, and a length sensor. */
const RULES: Readonly<Record<Rule, { readonly division: number; readonly limit: LimitOfError }>> = {
  I: { division: 0.5e-3, limit: ruleClasses.I },
  II: { division: 0.5e-3, limit: ruleClasses.II },
  S: { division: 0.01e-3, limit: { a: 0.05e-3, b: 0.1e-3 } },
}

/** What a truth is drawn from. All that is left out does not happen. */
export interface World {
  readonly checks: number
  /** Taken in turn. */
  readonly rules: readonly Rule[]
  readonly lengths?: readonly number[]
  /** Scatter from print to print: one size, log-uniform between two, or as the reckoning expects it beforehand. */
  readonly scatter?: number | readonly [number, number] | 'expected'
  /** Tails of the scatter: Student's t of 4 degrees of freedom, of the same standard deviation. */
  readonly tails?: boolean
  /** Degrees of freedom behind a repeatability that the printer states. */
  readonly stated?: number
  /** Several prints on a day, which share 0 to 0.8 of the variance. */
  readonly days?: boolean
  /** Three lots one after the other; half of the time the one printed on now is a fourth. */
  readonly lots?: boolean
  /** Over half a year: a random walk, or a straight drift that bends once, or one that nobody noticed happen: a step of 0.05 to 0.15 %. */
  readonly drift?: 'walk' | 'bent' | 'step'
  /** Share of checks without the web's temperature; it was between the room and the platen. */
  readonly forgets?: number
  /** A stock that grows with moisture, in a room where a half of the readings give no humidity. */
  readonly moisture?: boolean
  /** Checks brought here from another state by one law. */
  readonly carry?: Carries
}

interface Carries {
  /** Share of the checks. */
  readonly share: number
  /** Half-width of the stated range, as a share of the shift. */
  readonly range: number
  /** True shift over the one that the range says. */
  readonly off: number
  /** Typical shift, or log-uniform between two. */
  readonly shift: number | readonly [number, number]
}

export interface Series {
  readonly input: FeedInput
  /** The correction that prints now ask for, on average. */
  readonly truth: number
  /** The true mean gain now, and the scatter of prints about it. */
  readonly gain: number
  readonly tau: number
  /** One more check of today, on a day of its own, by one of the rules. */
  readonly another: (rule: Rule, length: number) => FeedCheckInput
}

export const SCATTER = [0.005e-2, 0.1e-2] as const
/** Middle of the log-normal that the reckoning begins with; its logarithm has the standard deviation 0.87. */
const EXPECTED = Math.sqrt(SCATTER[0] * SCATTER[1])
const LENGTHS = [0.5, 1, 1.5]
const REFERENCE = 21
const WEB = { low: 60e-6, typical: 70e-6, high: 80e-6 }
const MOISTURE = { low: 0.6e-3, typical: 1e-3, high: 1.4e-3 }
const STEEL = 11.5e-6
/** Up to what an unsaid thermometer may be wrong, K, and where a forgotten web temperature was. */
const THERMOMETER = 2
const FORGOTTEN = [21, 38] as const
const ROOM = { dry: 0.4, damp: 0.6, known: 0.05 }
/** Share of habit in how warm a web was that nobody measured (the same technician lets it lie as long as ever); the rest is that day's. */
const HABIT = 0.5

const size = (chance: Chance, range: number | readonly [number, number]): number =>
  typeof range === 'number' ? range : range[0] * (range[1] / range[0]) ** chance.part()
const between = (chance: Chance, low: number, high: number): number => low + (high - low) * chance.part()
const either = (chance: Chance): number => (chance.once(2) ? 1 : -1)

/** Student's t of 4 degrees of freedom over its standard deviation. */
function tailed(chance: Chance): number {
  const z = chance.normal()
  const squares = [0, 0, 0, 0].reduce((sum) => sum + chance.normal() ** 2, 0)
  return z / Math.sqrt(squares / 4) / Math.SQRT2
}

/** A truth and its checks, the oldest first. */
export function drawSeries(world: World, chance: Chance): Series {
  const { rules, lengths = LENGTHS, stated = 0, carry } = world
  const tau = world.scatter === 'expected' ? EXPECTED * Math.exp(0.87 * chance.normal()) : size(chance, world.scatter ?? SCATTER)
  const level = 1 / (1 + between(chance, -3e-3, 3e-3))
  const measure = measurer(world, chance)
  const { prints, lotNow, moved } = printsOf(world, tau, chance)
  const change = carry && changeOf(carry, chance)
  const first = chance.below(rules.length)
  const checks = prints.map(({ off, ...place }, i): FeedCheckInput => {
    const before = carry && change && chance.part() < carry.share ? change : undefined
    // Under the other state the print asked for a correction that is smaller by the shift.
    const asked = 1 / (level + off) - 1 - (before?.shift ?? 0)
    const measured = measure(rules[(first + i) % rules.length]!, chance.one(lengths), 1 / (1 + asked))
    return { id: `check ${i + 1}`, ...measured, ...place, ...(before && { carries: [before.stated] }) }
  })
  const gain = level + moved
  const squares = Array.from({ length: stated }, () => chance.normal() ** 2).reduce((sum, one) => sum + one, 0)
  const repeatability = stated === 0 ? undefined : { value: tau * Math.sqrt(squares / stated), freedom: stated }
  let later = 0
  return {
    input: {
      checks,
      scatter: { lotNow, repeatability },
      entry: 'percent',
      step: 1e-4,
      referenceTemperature: REFERENCE,
    },
    truth: 1 / gain - 1,
    gain,
    tau,
    another: (rule, length) => {
      const id = `later ${++later}`
      return { id, day: id, ...measure(rule, length, gain + tau * chance.normal()) }
    },
  }
}

interface Print {
  /** Of its gain from the level: its own scatter, its day's, its lot, and how far the printer has wandered since. */
  readonly off: number
  readonly day?: string
  readonly lot?: string
  readonly age?: number
}

/** The prints, the oldest first, and how far the gain of today lies from the level they are counted from. */
function printsOf(
  { checks: count, days, lots, drift, tails }: World,
  tau: number,
  chance: Chance,
): { prints: Print[]; lotNow: string | undefined; moved: number } {
  const dayOf: number[] = []
  while (dayOf.length < count) {
    const onThisDay = days ? 1 + chance.below(3) : 1
    const day = (dayOf.at(-1) ?? -1) + 1
    for (let i = 0; i < onThisDay && dayOf.length < count; i++) dayOf.push(day)
  }
  const dayCount = dayOf.at(-1)! + 1
  const ages = Array.from({ length: dayCount }, () => 1 + chance.below(180)).sort((a, b) => b - a)
  const wandered = drift ? wanderings(drift, ages, chance) : ages.map(() => 0)
  const share = days ? 0.8 * chance.part() : 0
  const ofDay = ages.map(() => Math.sqrt(share) * tau * chance.normal())
  const omega = size(chance, SCATTER)
  const ofLot = [0, 1, 2, 3].map(() => omega * chance.normal())
  const lotAt = (day: number): number => Math.floor((3 * day) / dayCount)
  const now = chance.once(2) ? 3 : lotAt(dayCount - 1)
  const scatter = (): number => Math.sqrt(1 - share) * tau * (tails ? tailed(chance) : chance.normal())
  const prints = dayOf.map((day) => ({
    off: scatter() + ofDay[day]! + wandered[day]! + (lots ? ofLot[lotAt(day)]! : 0),
    ...(days && { day: `day ${day}` }),
    ...(lots && { lot: `lot ${lotAt(day)}` }),
    ...(drift && { age: ages[day]! }),
  }))
  return { prints, lotNow: lots ? `lot ${now}` : undefined, moved: lots ? ofLot[now]! : 0 }
}

/** How far from today's the level was at each age; ages fall. */
function wanderings(drift: NonNullable<World['drift']>, ages: readonly number[], chance: Chance): number[] {
  if (drift === 'walk') {
    const walk = 2.5e-5 * 2 ** chance.normal()
    let [at, off] = [0, 0]
    return ages
      .toReversed()
      .map((age) => {
        off += walk * Math.sqrt(age - at) * chance.normal()
        at = age
        return off
      })
      .reverse()
  }
  const turn = 1 + chance.below(180)
  if (drift === 'step') {
    const step = either(chance) * between(chance, 0.5e-3, 1.5e-3)
    return ages.map((age) => (age > turn ? step : 0))
  }
  const [slope, before] = [either(chance) * between(chance, 2e-6, 8e-6), either(chance) * between(chance, 2e-6, 8e-6)]
  return ages.map((age) => slope * Math.min(age, turn) + before * Math.max(0, age - turn))
}

/** What one technician writes down of a print of a gain: errors that stay are drawn once, those of a day anew. */
function measurer(world: World, chance: Chance): (rule: Rule, length: number, gain: number) => Omit<FeedCheckInput, 'id'> {
  const within = (most: number): number => most * (2 * chance.part() - 1)
  const errors = { I: within(1), II: within(1), S: within(1) }
  const thermometer = { web: within(THERMOMETER), rule: within(THERMOMETER) }
  const webExpansion = between(chance, WEB.low, WEB.high)
  const moisture = between(chance, MOISTURE.low, MOISTURE.high)
  const habit = chance.normal()
  return (rule, commanded, gain) => {
    const { division, limit } = RULES[rule]
    const applied = Math.round(within(20)) * 1e-4
    const forgotten = chance.part() < (world.forgets ?? 0)
    const usual = normalCdf(Math.sqrt(HABIT) * habit + Math.sqrt(1 - HABIT) * chance.normal())
    const web = forgotten ? FORGOTTEN[0] + (FORGOTTEN[1] - FORGOTTEN[0]) * usual : between(chance, 18, 26)
    const room = between(chance, 18, 24)
    const humidity = between(chance, ROOM.dry, ROOM.damp)
    const unread = chance.once(2)
    const damper = world.moisture ? humidity - (ROOM.dry + ROOM.damp) / 2 : 0
    const length = commanded * (1 + applied) * gain * (1 + webExpansion * (web - REFERENCE)) * (1 + moisture * damper)
    const shown = length / (1 + STEEL * (room - 20)) + errors[rule] * (limit.a + limit.b * Math.ceil(commanded))
    // Both edges are read to the division.
    const from = chance.part()
    const edges = Math.round(from + shown / division) - Math.round(from)
    return {
      commanded,
      applied,
      measured: edges * division,
      division,
      limitOfError: limit,
      instrument: rule,
      ruleExpansion: STEEL,
      ruleTemperature: room + thermometer.rule,
      webExpansion: WEB,
      ...(forgotten ? { webBetween: FORGOTTEN } : { webTemperature: web + thermometer.web }),
      ...(world.moisture && {
        moistureExpansion: MOISTURE,
        referenceHumidity: (ROOM.dry + ROOM.damp) / 2,
        ...(unread ? { humidityBetween: [ROOM.dry, ROOM.damp] as const } : { humidity: humidity + within(ROOM.known) }),
      }),
    }
  }
}

/** What one law is held to do, and what it does: a two-piece normal of the stated range, times how far the law is off. */
function changeOf({ range, off, shift }: Carries, chance: Chance): { readonly shift: number; readonly stated: FeedCarry } {
  const typical = either(chance) * size(chance, shift)
  const [a, b] = [typical * (1 - range), typical * (1 + range)]
  const told = must(shiftOfRange({ range: { low: Math.min(a, b), typical, high: Math.max(a, b) } }))
  const true_ = typical + ((range * Math.abs(typical)) / Math.sqrt(3)) * chance.normal()
  return { shift: off * true_, stated: { law: 'suction', shift: told.shift, u: told.u } }
}
