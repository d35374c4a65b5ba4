// One setting of a profile that is being started: its text, and why it is so and how sure that is, as a comment tells it.

export interface Chosen {
  /** `heat.platen` is ['heat', 'platen']. */
  readonly path: readonly string[]
  /** As it is written. */
  readonly text: string
  /** The comment: how sure first, then why. */
  readonly why: string
}

/** Follows from the documents by a formula or a rule of the trade. */
export const computed = (why: string): string => `Computed: ${why}`
/** Runs on another profile of this printer. */
export const taken = (from: string, why: string): string => `Taken from ${from}: ${why}`
/** Usual in the trade, or a documented default. */
export const typical = (why: string): string => `Typical: ${why}`
/** A place to begin, no more. */
export const toMeasure = (why: string): string => `To be measured: ${why}`

export const chosen = (path: string, text: string, why: string): Chosen => ({ path: path.split('.'), text, why })
