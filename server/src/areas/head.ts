// What stands above a section of a profile: the thing to do at the machine, in one line, and what more evidence would gain.
import type { Setup } from '../model/setup.ts'

export interface SectionHead {
  /** The section's key at the document's root. */
  readonly section: string
  /** What its evidence is worth and what to do, with the panel's own words for where; undefined where there is nothing to say. */
  words(setup: Setup): string | undefined
  /** Whether more evidence may gain anything: quick to tell. */
  mayGain(setup: Setup): boolean
  /** What it gains. Costly: asked for where somebody looks. */
  gain(setup: Setup): Gain
}

/** In so few words that it is seen beside others on a narrow screen, and in full. */
export interface Gain {
  readonly title: string
  readonly why: string
}
