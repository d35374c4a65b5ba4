// What an area's evidence proves of a number today, for whoever compares two versions of a profile: one of the five words, and what to do about it.
import type { EvidenceWord } from '../model/evidence-word.ts'
import type { Setup } from '../model/setup.ts'

export interface Standing {
  /** The evidence, as the format names it: 'feed.checks'. */
  readonly kind: string
  readonly word: EvidenceWord
  /** The word with its probability: "proven, 98 %". */
  readonly text: string
  /** The word, what it rests on, and what to do, each a sentence. */
  readonly sentences: readonly string[]
  /** What is to be keyed in for it, in the panel's unit; undefined where nothing is. */
  readonly keyIn: string | undefined
}

/** Undefined where the setup has nothing to do with it. */
export type AreaStanding = (setup: Setup) => Standing | undefined
