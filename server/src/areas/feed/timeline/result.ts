// What a profile's history is, as plain values: for the table, for JSON, and for whoever draws it. Lengths and corrections are fractions, temperatures degC,
// days YYYY-MM-DD, `null` where a thing is not known; oldest first.
import type { EvidenceWord } from '../../../model/evidence-word.ts'

export interface ProfileHistory {
  readonly profile: string
  readonly from: string
  readonly to: string
  /** The shop's length tolerance as it is now, a fraction either way. */
  readonly tolerance: number
  readonly moments: readonly HistoryMoment[]
  readonly checks: readonly HistoryCheck[]
  readonly readings: readonly HistoryReading[]
  readonly alignments: readonly HistoryAlignment[]
  readonly marks: readonly HistoryMark[]
}

/** From its day on, until the next one. */
export interface HistoryMoment {
  readonly date: string
  /** What brought it: a commit, or the days alone. */
  readonly by: 'commit' | 'days'
  /** The commit whose documents it is of, as git shortens it, and its subject. */
  readonly commit: string
  readonly subject: string
  /** The correction in the file. */
  readonly set: number | null
  /** The correction that the machine ran with: what was read back, else the file's. */
  readonly held: number | null
  readonly heldBy: 'machine' | 'file' | null
  /** What the evidence of the day asked for, ± its 95 % interval. */
  readonly wanted: number | null
  readonly wantedU: number | null
  readonly feed: EvidenceWord
  /** Probability that a print with `held` kept the tolerance of then; null where what was measured proves nothing of that day. */
  readonly chance: number | null
  readonly alignment: EvidenceWord
  /** By zone; none where the printer has none. */
  readonly heat: Readonly<Record<string, EvidenceWord>>
}

export interface HistoryCheck {
  readonly date: string
  /** What it asks for under the conditions it was made in, ± its own 95 % interval. */
  readonly asks: number | null
  readonly asksU: number | null
  readonly applied: number | null
  readonly lot: string | null
  readonly instrument: string | null
  readonly under: string | null
  /** Whether it counts at all; a reason where it does not. */
  readonly leftOut: string | null
}

export interface HistoryReading {
  readonly date: string
  readonly zone: string
  readonly set: number | null
  readonly web: number | null
}

/** One alignment, as it stood in the file from the commit on. */
export interface HistoryAlignment {
  readonly date: string
  readonly commit: string
  readonly picks: Readonly<Record<string, Readonly<Record<string, number>>>>
}

export const MARKS = ['setting', 'lot', 'head', 'event', 'instrument', 'season'] as const
export type MarkKind = (typeof MARKS)[number]

/** Something that may have moved the numbers. `head` is an event of the heads; `season` is the air at the machine, by what was read of it. */
export interface HistoryMark {
  readonly date: string
  readonly kind: MarkKind
  readonly text: string
}
