// What a change does, as plain values: computed once by review.ts, and told by every face (terminal, Markdown, HTML, JSON) in the same words. Amounts
// are SI where they are numbers; texts beside them are for people.
import type { Range } from '../calc/range.ts'
import type { EvidenceWord } from '../model/evidence-word.ts'
import type { ReckonedInput, ReckonedStep } from '../model/reckoned.ts'
import type { Risk, Severity } from '../rules/rule.ts'
import type { DocumentKind } from '../schema/schema.ts'

/** What a difference may cost; `record` where no print is another one by it. */
export type Level = Risk | 'record'

/** A document by its kind and id: 'media banner-510-bay-1', 'shop rollbook.yaml'. */
export interface DocumentRef {
  readonly kind: DocumentKind
  readonly id: string
}

/** One end of a change: as it is written, in real units where that says more, and where it stands. */
export interface Written {
  readonly text: string
  /** What a level or a mode stands for at the printer: "320 Pa". */
  readonly real?: string
  /** SI; undefined for what is no number. */
  readonly si?: number
  /** From 1. */
  readonly line: number
  /** The document that it stands in, where it is another one than the one told of: a base. */
  readonly from?: DocumentRef
}

export interface Change {
  readonly what: 'setting' | 'evidence' | 'state' | 'words'
  /** The keys that lead to it; an entry of a list by its day or name. */
  readonly path: string
  readonly before?: Written
  readonly after?: Written
  /** How far it moved, with its sign: "+4 K". */
  readonly size?: string
  readonly level: Level
}

/** One value written another way, and still the same. */
export interface Rewritten {
  readonly path: string
  readonly before: string
  readonly after: string
}

/** What of a text is another and says the same. */
export interface Form {
  readonly rewritten: readonly Rewritten[]
  readonly order: boolean
  readonly comments: boolean
  readonly layout: boolean
}

export interface DocumentChange {
  readonly document: DocumentRef
  readonly how: 'added' | 'removed' | 'changed' | 'same'
  /** Paths from the folder compared; `fileBefore` where it was another. */
  readonly file: string
  readonly fileBefore?: string
  readonly changes: readonly Change[]
  readonly form: Form
  /** The profiles that rest on it and were compared because of it; none of a profile that nothing is based on. */
  readonly reaches: readonly string[]
}

/** What a difference comes from: a key of a document, or all of it. */
export interface Cause {
  readonly document: DocumentRef
  readonly path?: string
}

/** A setting of a profile that moved though its own text did not say so. */
export interface Inherited extends Change {
  readonly cause: Cause
}

/** One side of a witness: the value and all that it is reckoned from. SI. */
export interface Reckoning {
  readonly value: number | Range | undefined
  readonly text: string
  readonly formula: string
  readonly inputs: readonly ReckonedInput[]
  readonly steps?: readonly ReckonedStep[]
  readonly source: string
  readonly validity?: string
  readonly problem?: string
}

/** A computed quantity that moved, with what it takes to reckon it again. */
export interface Consequence {
  readonly key: string
  readonly title: string
  /** SI symbol; '1' for a share or a count, '°C' for a temperature. */
  readonly unit: string
  /** Undefined on a side where the profile has nothing to do with it. */
  readonly before: Reckoning | undefined
  readonly after: Reckoning | undefined
  /**
   * after − before: low with low and high with high where both rest on the same unknowns, and range against range where another material's do. Undefined
   * where one of them is not known.
   */
  readonly difference: (Range & { readonly text: string; readonly shared: boolean }) | undefined
  /** Whether it moved by less than is shown of it. */
  readonly slight: boolean
  readonly causes: readonly Cause[]
  readonly level: Level
  /** The same for the same move of the same quantity, whatever it is called. */
  readonly fingerprint: string
}

/** What evidence proves of a number. */
export interface Word {
  readonly word: EvidenceWord
  /** The word with its probability: "proven, 98 %". */
  readonly text: string
  readonly sentences: readonly string[]
}

export interface Standing {
  /** The evidence, as the format names it: 'feed.checks'. */
  readonly kind: string
  readonly before: Word | undefined
  readonly after: Word | undefined
  /** Whether something that was good enough is not known to be so any more. */
  readonly opens: boolean
  /** What to do about it: print, measure, key in. */
  readonly todo: readonly string[]
}

/** A state under which evidence stands and that means something else now, though no event says that the machine was changed. */
export interface StateMoved {
  readonly state: string
  readonly text: string
}

export interface ToldFinding {
  readonly document: DocumentRef
  readonly file: string
  readonly line: number
  readonly code: string
  readonly severity: Severity
  readonly level: Level
  /** Of a rule whose findings the days bring: work to be done, and no fault of a change. */
  readonly due: boolean
  readonly message: string
  /** A comment in the document accepts it until a day: it fails nothing, and is told all the same. */
  readonly accepted?: { readonly until: string; readonly reason: string }
  readonly fingerprint: string
  /** One that is no longer accepted begins, since it counts from now on. */
  readonly course: 'begins' | 'ends' | 'stays'
}

/** What somebody has to do at a panel. */
export interface KeyIn {
  readonly profile: string
  readonly printer: string
  readonly slot?: string
  readonly path: string
  readonly from?: string
  readonly to: string
  /** Where it is found, in the shop's words. */
  readonly where?: string
  /** Whether the newest reading of the machine has it already. */
  readonly there: boolean
  readonly level: Level
}

/** What follows for one profile. */
export interface ProfileReview {
  readonly profile: string
  readonly file: string
  readonly how: 'added' | 'removed' | 'both'
  readonly causes: readonly Cause[]
  readonly inherited: readonly Inherited[]
  readonly consequences: readonly Consequence[]
  readonly standings: readonly Standing[]
  readonly states: readonly StateMoved[]
}

export interface ChangeSet {
  readonly before: string
  readonly after: string
  /** The day that both are judged on, YYYY-MM-DD. */
  readonly date: string
  readonly totals: {
    /** Documents compared: changed, or resting on what changed. */
    readonly compared: number
    readonly changed: number
    readonly untouched: number
    /** Documents or parts of them that could not be compared. */
    readonly notCompared: number
  }
  readonly documents: readonly DocumentChange[]
  readonly profiles: readonly ProfileReview[]
  readonly findings: readonly ToldFinding[]
  readonly keyIn: readonly KeyIn[]
  /** Why something could not be compared or judged, a sentence each. */
  readonly notCompared: readonly string[]
}
