// The order of what was written down on days.

interface Dated {
  /** Days before today; undefined without a date. */
  readonly age: number | undefined
  /** Where it stands in its list. */
  readonly index: number
}

/** The newest first, and of one day the one that stands later. What has no date may be of today. */
export const newestFirst = <T extends Dated>(records: readonly T[]): readonly T[] =>
  [...records].sort((a, b) => (a.age ?? 0) - (b.age ?? 0) || b.index - a.index)
