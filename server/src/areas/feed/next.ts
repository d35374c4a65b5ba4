// What is to be done about a feed correction, at the machine and in the document: one judgement for the reckoning, hovers, hints, fixes and JSON.
import type { FeedFacts } from './facts.ts'

export interface FeedAdvice {
  /**
   * At the machine: it runs with what is asked for, to its step (`done`); with a number so near that changing it would follow noise (`stay`);
   * something is to be keyed in (`key-in`); or nothing may be (`impossible`).
   */
  readonly machine: 'done' | 'stay' | 'key-in' | 'impossible'
  /** The correction to write in the document; undefined where the one there may stay, or where there is none to write. */
  readonly write: number | undefined
  /** Whether machine and document are known to have different corrections. */
  readonly parted: boolean
}

/** Undefined where nothing is asked for. */
export function feedAdvice(facts: FeedFacts): FeedAdvice | undefined {
  const { reckoning, entry, held, applied } = facts
  const { wanted, keyIn, agreement } = reckoning ?? {}
  if (!wanted || !keyIn) return undefined
  const told = entry === 'measured-length'
  const running = told ? reckoning?.machine : agreement
  const parted = held?.ok === true && applied !== undefined && Math.abs(held.value.correction - applied.value.si) > facts.halfStep
  if (keyIn.value === undefined) return { machine: 'impossible', write: undefined, parted }
  const good = agreement?.asKeyedIn === true || agreement?.mayStay === true
  if (running?.asKeyedIn || running?.mayStay) {
    const machine = running.asKeyedIn ? 'done' : 'stay'
    return { machine, write: good || !held?.ok ? undefined : held.value.correction, parted }
  }
  return { machine: 'key-in', write: agreement?.asKeyedIn ? undefined : keyIn.correction, parted }
}
