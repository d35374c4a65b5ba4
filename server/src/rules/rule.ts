// What a rule is: one file with its code, its words, its check, its fix and its examples. The examples are its tests and part of its page.
import type { Span } from '../base/span.ts'
import type { TextEdit } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import type { Place } from '../model/field.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import type { DocumentKind } from '../schema/schema.ts'

export type Severity = 'error' | 'warning' | 'hint'

/** What a finding may cost: a hand or a machine (heat, clearance, vapour, tension), prints of a wrong length, prints that look wrong. */
export type Risk = 'harm' | 'length' | 'look'

/** One edit to offer. It touches one file: the finding's own, unless `file` says otherwise. */
export interface Fix {
  /** Imperative, with the number it writes: "Set the correction to +0.17 %". */
  readonly title: string
  /** Undefined when the fix cannot keep every other byte: then `refused` says why. */
  readonly edits: readonly TextEdit[]
  readonly refused?: string
  /** The one fix that is right beyond doubt. */
  readonly preferred?: boolean
  /** It mends how the text is written and nothing that it says: no setting, measurement, state or date. It may be made without asking. */
  readonly form?: true
  readonly file?: string
  /** The new text holds snippet stops. */
  readonly snippet?: boolean
}

export interface Related {
  readonly file: string
  readonly span: Span
  readonly message: string
}

export interface ReportOptions {
  /** Made only when someone asks for fixes. */
  readonly fixes?: () => readonly (Fix | undefined)[]
  /** Things to try one at a time, made only when asked for. None mends the finding: it stands until a person has settled it. */
  readonly steps?: () => readonly (Fix | undefined)[]
  readonly related?: readonly Related[]
  /** Greyed out in an editor: text that has no effect. */
  readonly unnecessary?: boolean
  /** Struck through in an editor: a value that was right and is not any more. */
  readonly outdated?: boolean
}

export interface Finding extends ReportOptions {
  readonly code: string
  readonly severity: Severity
  readonly file: string
  readonly span: Span
  readonly message: string
  /** Somebody has looked at it and said why it may stay until a day; it is told as accepted, and counts nowhere. */
  readonly accepted?: { readonly until: string; readonly reason: string }
  /** It was accepted until a day that is over: the days alone have brought it back. */
  readonly lapsed?: true
}

export interface RuleContext<K extends DocumentKind = DocumentKind> {
  readonly document: RollDocument<K>
  /** For a profile: joined with its bases, stock, printer and shop. */
  readonly setup: K extends 'media' ? Setup : Setup | undefined
  readonly shelf: Shelf
  readonly today: string
  /** The codes of all rules there are. */
  readonly codes: readonly string[]
  /** Those of errors about heat, clearance, vapour and tension, which nobody can accept or ignore. */
  readonly dangers: readonly string[]
  /**
   * Reports at a value (or any span of this document). A place in another file is shown at the key of this document that leads there. A message that is
   * costly to word may be given as a function: it is called only where the finding is told.
   */
  report(at: Place | Span, message: string | (() => string), options?: ReportOptions): void
}

/** An example: files with their texts, the first one checked. `$0` or `$0…$0` marks where the finding stands. */
export interface Example {
  readonly name: string
  /** Several files: a header line `#- name.stock.yaml` before each; without one the text is `example.media.yaml`. Keys a profile needs are not added. */
  readonly text: string
  /** Exact message for a bad example; undefined for a good one. */
  readonly message?: string
  /** The checked file's text after the first fix. */
  readonly after?: string
  /** The titles of all fixes in their order, with `[preferred]`, `[form]` or `[refused: why]` behind. None are offered without it. */
  readonly fixes?: readonly string[]
  /** What is told beside the finding: its message, a blank, and the text it points to (the first line of it). Nothing without it. */
  readonly related?: readonly string[]
  readonly unnecessary?: true
  readonly outdated?: true
  /** Shown in no page: an edge case. */
  readonly testOnly?: boolean
}

export interface Rule<K extends DocumentKind = DocumentKind> {
  /** Kebab-case; the file's name. */
  readonly code: string
  readonly severity: Severity
  /** Not given where all that suffers is the record. */
  readonly risk?: Risk
  /**
   * Whether its findings come with the days alone, though nobody touched a document: a test print that has grown old, a delivery. What is due is
   * work to be done and no fault of a change, so a check tells it apart.
   */
  readonly due?: true
  /** The kinds of document it looks at. */
  readonly kinds: readonly K[]
  /** One line that ends in a full stop. */
  readonly summary: string
  /** A short paragraph: why it matters on press, when to ignore it. Markdown. */
  readonly docs: string
  check(context: RuleContext<K>): void
  readonly examples: readonly Example[]
}

/** Declares a rule; gives its check the right context type. */
export const defineRule = <K extends DocumentKind>(rule: Rule<K>): Rule => rule as unknown as Rule
