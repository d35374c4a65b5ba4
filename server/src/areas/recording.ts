// What an area knows of evidence that is written down: what stands on the machine then, to be proposed and changed where another was keyed in, and what
// is left to be read.
import type { Setup } from '../model/setup.ts'

export interface Recording {
  /** The evidence, as the format names it: 'feed.checks'. */
  readonly kind: string
  /** What is recorded, for a title: 'fine picks'. */
  readonly words: string
  /** Each way to write down a reading of today; none where this printer has nothing to read. */
  entries(setup: Setup): readonly NewReading[]
}

export interface NewReading {
  /** Which one it is, behind the words: 'at the platen, set to 42 °C'. */
  readonly which?: string
  /** By the keys of an entry, in the order in which they stand, without its day and its state. */
  readonly parts: Readonly<Record<string, Part | undefined>>
}

/**
 * A value that is known as it is written (`known`, with what else it may be), or one that is read: a number before its unit, one of some words, a pick for
 * each of several names, or so many picks. Nothing that is measured is ever known.
 */
export type Part =
  | { readonly known: string; readonly others?: readonly string[] }
  | { readonly unit: string }
  | { readonly word: true; readonly of?: readonly string[] }
  | { readonly names: readonly string[] }
  | { readonly count: number }

/** A value as far as it is known, and with its unit alone where it is not. */
export const knownOr = (known: string | undefined, unit: string): Part => (known === undefined ? { unit } : { known })
