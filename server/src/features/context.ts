// What every feature is given: one document on its newest text, its setup and the shelf. One shape, so that editor and command line ask alike.
import type { Span } from '../base/span.ts'
import type { TextEdit } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import type { Finding } from '../rules/rule.ts'

export interface FeatureContext {
  readonly document: RollDocument
  /** For a profile: joined with its bases, stock, printer and shop. */
  readonly setup: Setup | undefined
  readonly shelf: Shelf
  readonly today: string
  /** The document's findings, as shown. */
  readonly findings: () => readonly Finding[]
}

export interface Hover {
  readonly span: Span
  readonly markdown: string
}

export interface Hint {
  readonly offset: number
  readonly label: string
  /** Markdown. */
  readonly tooltip?: string
}

export interface Completion {
  readonly label: string
  readonly kind: 'key' | 'value' | 'unit' | 'reference' | 'snippet' | 'date'
  readonly detail?: string
  /** Markdown. */
  readonly documentation?: string
  readonly edit: TextEdit
  /** What is written elsewhere in the document with it; never touches `edit`, and holds no stops. */
  readonly also?: readonly TextEdit[]
  /** The new text holds snippet stops: ${1:name}, $0. */
  readonly snippet?: boolean
  /** The new text's further lines are indented as they shall stand. */
  readonly indented?: boolean
  /** Order among the items; the label where not given. */
  readonly sort?: string
  /** What is typed is compared with this; the label where not given. */
  readonly filter?: string
}

export interface Action {
  readonly title: string
  readonly kind: 'quickfix' | 'refactor' | 'extract' | 'record' | 'fix-all'
  /** Of what is recorded, which evidence it is: 'feed.checks'. */
  readonly records?: string
  /** The new text holds snippet stops. */
  readonly snippet?: boolean
  readonly file: string
  readonly edits: readonly TextEdit[]
  /** What is edited in other documents with it, by file; and a file that is made. Shown before it is done, where a client can. */
  readonly others?: ReadonlyMap<string, readonly TextEdit[]>
  readonly makes?: { readonly file: string; readonly text: string }
  readonly preferred?: boolean
  /** Why it cannot be done: shown greyed out, with this reason. */
  readonly refused?: string
  /** The code of the finding it mends. */
  readonly code?: string
  /** Where that finding stands. */
  readonly mends?: { readonly file: string; readonly span: Span }
}

export interface OutlineItem {
  readonly name: string
  readonly detail?: string
  readonly kind: 'document' | 'section' | 'list' | 'item' | 'setting'
  readonly span: Span
  readonly selection: Span
  readonly children: readonly OutlineItem[]
}

export interface Location {
  readonly file: string
  readonly span: Span
}
