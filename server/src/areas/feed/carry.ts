// From then to now by physics: what a check made in another state asks for under today's settings. Each law shifts the correction by the difference of
// one quantity under the two states, which share their unknowns: low with low, typical with typical, high with high.
import { type Outcome, ok } from '../../base/outcome.ts'
import { recorded, recordedItem } from '../../base/recorder.ts'
import type { FeedCarry } from '../../calc/feed-check.ts'
import { differenceOf, exactly, mapRange, type Range } from '../../calc/range.ts'
import { shiftOfRange } from '../../calc/two-piece.ts'
import type { Check, State } from '../../model/generated/documents.ts'
import { roomOn } from '../../model/room.ts'
import { settingAt } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { type Difference, differencesOf, settingsOfPrinter, underState } from '../../model/states.ts'
import { advanceOf } from '../advance/advance.ts'
import { heatOf } from '../heat/facts.ts'
import { suctionOf } from '../suction/facts.ts'
import { webOf } from '../web/facts.ts'

export type CarryLaw = 'suction' | 'tension' | 'heat' | 'humidity'

/** One law at work: what changed, and what that adds to the correction. */
export interface Carry extends FeedCarry {
  readonly law: CarryLaw
  readonly range: Range
  /** The quantity that it is the difference of, now and then; undefined for the humidity. */
  readonly ends: { readonly now: Range; readonly before: Range } | undefined
  /** The settings that are others now; none for the humidity, which is no setting. */
  readonly differences: readonly Difference[]
}

/** Why a check cannot be brought to today. */
export interface Stopped {
  readonly why: 'stock' | 'printer' | 'mode' | 'not-known' | 'gone' | 'unreckonable' | 'too-wide'
  /** The setting at fault. */
  readonly difference?: Difference
  /** Of a law: what cannot be reckoned, or the carry that is too wide. */
  readonly reason?: string
  readonly carry?: Carry
}

export type Carried =
  | { readonly ok: true; readonly carries: readonly Carry[] }
  | { readonly ok: false; readonly stopped: Stopped }

interface Law {
  readonly law: CarryLaw
  readonly keys: readonly string[]
  /** What is more of it makes prints shorter by as much, once they lie relaxed and cool. */
  readonly quantity: (setup: Setup) => Outcome<Range>
  /** Whether it does anything in this setup at all. */
  readonly works: (setup: Setup) => boolean
}

/** Apart from all else that suction does: the height of the heads moves the lift that is left for an edge, and no length. */
const stretch = recorded('stretch by suction', (setup: Setup): Outcome<Range> => {
  const { current, window } = suctionOf(setup)
  if (current) return { ok: true, value: current.strain }
  return window.ok
    ? { ok: false, problem: { input: 'suction', reason: 'the printer does not say how hard it holds at that setting' } }
    : window
})

const LAWS: readonly Law[] = [
  { law: 'suction', keys: ['suction'], quantity: stretch, works: () => true },
  { law: 'tension', keys: ['web.tension'], quantity: (setup) => webOf(setup).strain, works: () => true },
  {
    law: 'heat',
    keys: ['heat.before', 'heat.platen', 'web.speed', 'drying.pause', 'drying.run-out', 'mode'],
    quantity: (setup) => heatOf(setup).growth,
    works: ({ profile }) => profile.heat?.before !== undefined || profile.heat?.platen !== undefined,
  },
]

/** What each law does to the length of prints of a setup, as a share of it; nothing where the machine has nothing that works by it. */
export function lengthLaws(setup: Setup): readonly { readonly law: CarryLaw; readonly value: Outcome<Range> }[] {
  const has = new Set(settingsOfPrinter(setup.printer).map(({ key }) => key))
  return LAWS.map(({ law, keys, quantity, works }) => {
    const there = keys.some((key) => has.has(key) || settingAt(setup.profile, key.split('.')) !== undefined)
    return { law, value: there && works(setup) ? quantity(setup) : ok(exactly(0)) }
  })
}

/** Settings that a length check rests on, beside those that decide whose check it is. */
const RESTS_ON: ReadonlySet<string> = new Set(LAWS.flatMap(({ keys }) => keys))

const WEIGHED: ReadonlySet<string> = new Set([...RESTS_ON, 'stock', 'printer'])

/** Standard deviations in the half-width of a 95 % interval. */
const K95 = 1.96

/**
 * What brings a check made in a state to today's settings, or why nothing does. A setting that is not known at one of the two times, or that the printer no
 * longer has, stops it; so does a law that cannot be reckoned, and one whose own 95 % interval is wider than the tolerance of length.
 */
export const carriedFrom: (setup: Setup, state: State) => Carried = recordedItem('carry', (setup, state) => carry(setup, state))

function carry(setup: Setup, state: State): Carried {
  const stop = (stopped: Stopped): Carried => ({ ok: false, stopped })
  const differences = differencesOf(setup, state, WEIGHED)
  for (const difference of differences)
    if (difference.key === 'stock' || difference.key === 'printer') return stop({ why: difference.key, difference })
  const relevant = differences.filter(({ key }) => RESTS_ON.has(key))
  for (const difference of relevant)
    if (difference.kind !== 'differs') return stop({ why: difference.kind === 'gone' ? 'gone' : 'not-known', difference })
  if (relevant.length === 0) return { ok: true, carries: [] }
  const then = underState(setup, state)
  const mode = relevant.find(({ key }) => key === 'mode')
  if (mode && !sameAdvance(setup, then)) return stop({ why: 'mode', difference: mode })
  const carries: Carry[] = []
  for (const { law, keys, quantity, works } of LAWS) {
    const changed = relevant.filter(({ key }) => keys.includes(key))
    if (changed.length === 0 || (!works(setup) && !works(then))) continue
    const [now, before] = [quantity(setup), quantity(then)]
    if (!now.ok || !before.ok) {
      const reason = now.ok ? (before as { problem: { reason: string } }).problem.reason : now.problem.reason
      return stop({ why: 'unreckonable', difference: changed[0]!, reason })
    }
    const made = carryOf(law, differenceOf(now.value, before.value), changed, { now: now.value, before: before.value })
    if (!made) continue
    if (made.u * K95 > setup.shop.tolerance.length.value) return stop({ why: 'too-wide', difference: changed[0]!, carry: made })
    carries.push(made)
  }
  return { ok: true, carries }
}

/**
 * What the room's humidity of today does, where it was read today at the machine and on the day of the check: a damper stock is longer while it is
 * printed, and shorter once it lies at the humidity at which lengths count.
 */
export function humidityCarry({ printer, material, today, shop }: Setup, check: Check): Carried {
  const none: Carried = { ok: true, carries: [] }
  const moisture = material.property('moisture-expansion')?.range
  const now = roomOn(printer, today)?.humidity
  const then = check.climate?.humidity ?? (check.date && roomOn(printer, check.date.value)?.humidity)
  if (!moisture || !now || !then) return none
  const damper = now.value.si - then.value.si
  const carry = carryOf(
    'humidity',
    mapRange(moisture, (m) => m * damper),
    [],
  )
  if (!carry) return none
  if (carry.u * K95 > shop.tolerance.length.value) return { ok: false, stopped: { why: 'too-wide', carry } }
  return { ok: true, carries: [carry] }
}

/** A carry by its range; undefined where it shifts nothing. */
function carryOf(law: CarryLaw, range: Range, differences: readonly Difference[], ends?: Carry['ends']): Carry | undefined {
  if (range.low === 0 && range.high === 0) return undefined
  const made = shiftOfRange({ range })
  return made.ok ? { law, range, shift: made.value.shift, u: made.value.u, differences, ends } : undefined
}

/** Whether two modes move the web alike: then a length printed in one is as long in the other. */
function sameAdvance(now: Setup, then: Setup): boolean {
  const [a, b] = [advanceOf(now), advanceOf(then)]
  if (!a.ok || !b.ok || now.mode?.passes?.value !== then.mode?.passes?.value) return false
  return Math.abs(a.value.advance - b.value.advance) <= 1e-9 * a.value.advance
}
