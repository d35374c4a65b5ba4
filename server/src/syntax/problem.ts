// What can be wrong with a document's text before anything is known of its meaning.

export type SyntaxCode =
  | 'syntax' // not YAML
  | 'tab-indent' // a tab where spaces must indent
  | 'no-colon' // a line of bare words where `key: value` is due
  | 'duplicate-key'
  | 'conflict-markers'
  | 'several-documents'
  | 'too-large'
  | 'too-deep'
  | 'unread' // so many mistakes that the rest was left
  | 'unknown-alias'
  | 'alias-limit'

export interface SyntaxProblem {
  readonly code: SyntaxCode
  readonly start: number
  readonly end: number
  /** The key for 'duplicate-key', a plain sentence for 'syntax' and 'unread', the reason for 'too-large', the name for 'unknown-alias'. */
  readonly detail: string
}
