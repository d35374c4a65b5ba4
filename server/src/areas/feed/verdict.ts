// What the checks prove of the correction that is set, in one of five words with a probability: one judgement for the reckoning, hovers, rules, hints and JSON.
import { ok } from '../../base/outcome.ts'
import { type Chance, reckonFeed } from '../../calc/feed.ts'
import { normalBeyond } from '../../calc/normal.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import { readBacksOf } from '../../model/read-backs.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import type { Doubt } from './evidence.ts'
import type { FeedFacts } from './facts.ts'

/** Why a number is doubtful, the first that holds. */
export type Doubtful =
  /** A merge of a document that the reckoning rests on is not settled. */
  | 'unsettled'
  /** A document that the reckoning rests on is not there. */
  | 'not-read'
  /** All that was measured was measured under other conditions, and nothing brings it here. */
  | 'not-comparable'
  /** Nobody knows which correction the machine runs with. */
  | 'not-set'
  /** What was read back from the machine is not the correction in the profile. */
  | 'read-back'
  /** Ruler and fine picks disagree: the cause is elsewhere. */
  | 'disagree'
  /** The newest check is older than the shop trusts it. */
  | 'stale'
  /** A check is far from what the others predict. */
  | 'suspect'
  /** Too few prints to know how far the feed scatters, and the printer does not state it. */
  | 'few'
  /** The probability lies between the risk and what is asked for. */
  | 'between'

export interface FeedVerdict {
  readonly word: EvidenceWord
  readonly doubtful: Doubtful | undefined
  /** Of a print made now with what is set; undefined where there is none to tell. */
  readonly chance: Chance | undefined
  /** Of a print made after the number asked for is keyed in. */
  readonly keyedIn: Chance | undefined
  /** The probability asked for. */
  readonly goal: number
}

/** Prints below which a scatter that nobody stated is not known well enough for "proven", whatever the probability says. */
export const LEAST_PRINTS = 3

/**
 * Asked in this order: unknown, doubtful, off, carried, proven. What was read back from the machine and is not what the profile sets `counts`, or is put
 * `aside` by whoever asks how prints come out once the profile's number is keyed in.
 */
export function verdictOf(facts: FeedFacts, readBack: 'counts' | 'aside' = 'counts'): FeedVerdict {
  const { reckoning, setup } = facts
  const proof = reckoning?.proof
  const chance = proof?.set
  const goal = proof?.goal ?? 1 - setup.shop.tolerance.risk.value
  const said = (word: EvidenceWord, doubtful?: Doubtful): FeedVerdict => ({
    word,
    doubtful,
    chance,
    keyedIn: proof?.keyedIn,
    goal,
  })
  if (!reckoning?.combined) return said('unknown')
  const doubtful = doubtfulOf(facts, readBack)
  if (doubtful) return said('doubtful', doubtful)
  const { print } = chance!
  // What is off is off on little evidence too: the number to key in is known as well as that.
  if (print <= 1 - goal) return said('off')
  if (reckoning.combined.prints < LEAST_PRINTS && !facts.stated) return said('doubtful', 'few')
  if (print < goal) return said('doubtful', 'between')
  return said(facts.counted.some(({ carries }) => carries.length > 0) || facts.otherLots ? 'carried' : 'proven')
}

function doubtfulOf(facts: FeedFacts, readBack: 'counts' | 'aside'): Doubtful | undefined {
  const { reckoning, setup } = facts
  if (setup.unsettled.length > 0) return 'unsettled'
  if (!setup.stock || !setup.printer || setup.baseProblem || !setup.mode) return 'not-read'
  if (facts.expected) return 'not-comparable'
  if (reckoning?.fine?.use === 'disagrees') return 'disagree'
  if (!reckoning?.proof?.set) return 'not-set'
  if (readBack === 'counts' && readBackApart(facts)) return 'read-back'
  if (facts.stale) return 'stale'
  if (reckoning.suspects.length > 0) return 'suspect'
  return undefined
}

/**
 * Whether what the checks say is to be expected, and no more: none of them speaks for today, or something that the number rests on is not there or not
 * settled. Then nobody is told to key a number in, nor that one may stay.
 */
export function isExpectation(facts: FeedFacts): boolean {
  const { doubtful } = verdictOf(facts)
  return facts.expected || doubtful === 'not-read' || doubtful === 'unsettled'
}

/** Doubts under which the probability is one of other conditions, or of a number that does not run. */
const OF_ANOTHER: ReadonlySet<Doubtful | undefined> = new Set([
  'unsettled',
  'read-back',
  'not-read',
  'not-comparable',
  'disagree',
] as const)

/** The probability that is told beside the word; undefined where there is none, or where it is not that of a print made now. */
export const toldChance = ({ chance, doubtful }: FeedVerdict): number | undefined =>
  OF_ANOTHER.has(doubtful) ? undefined : chance?.print

/** The facts as they are once the profile's number is keyed in, whatever a machine that is told a length holds now. */
export function asInFile(facts: FeedFacts): FeedFacts {
  const { applied, input, entry } = facts
  if (entry === 'percent' || !applied || !input) return facts
  const outcome = reckonFeed({ ...input, held: ok(applied.value.si) })
  return outcome.ok ? { ...facts, reckoning: outcome.value } : facts
}

/**
 * What a machine that is told a percentage had when it was read back last, where that is not what the profile sets: what is proven of the profile's number
 * says nothing of how it runs. A check printed after that day tells what it has. For a measured length `held` says it.
 */
export function readBackApart({
  setup,
  entry,
  applied,
  newest,
  halfStep,
}: FeedFacts): { readonly correction: Quantity; readonly date: string } | undefined {
  if (entry !== 'percent' || !applied) return undefined
  const [last] = readBacksOf(setup.own.keyed, 'correction', setup.today)
  const correction = last?.correction?.value
  if (!last?.date || correction?.dimension !== 'relative') return undefined
  const printed = newest?.check.date?.value
  if (printed !== undefined && printed > last.date.value) return undefined
  return Math.abs(correction.si - applied.value.si) > halfStep ? { correction, date: last.date.value } : undefined
}

/** What is told by rules of its own, each with what mends it. */
const OF_THE_STATE: ReadonlySet<Doubt['why']> = new Set(['no-state', 'no-such-state', 'state-differs', 'no-such-instrument'])

/** Whether all that was measured is known to have been measured under other conditions than today's, so that its number is not to be keyed in. */
export function measuredElsewhere(facts: FeedFacts): boolean {
  const doubt = facts.counted.at(-1)?.doubt
  return verdictOf(facts).doubtful === 'not-comparable' && doubt !== undefined && !OF_THE_STATE.has(doubt.why)
}

/**
 * Whether the machine scatters too much for the tolerance, even if it scatters as little as the checks leave possible: then no print proves it, and none is
 * asked for. As long as it may scatter less, a print may still tell.
 */
export const scattersTooMuch = ({ reckoning, tolerance }: FeedFacts): boolean =>
  reckoning?.combined !== undefined &&
  reckoning.proof !== undefined &&
  1 - normalBeyond(tolerance / reckoning.combined.scatter.low) < reckoning.proof.goal
