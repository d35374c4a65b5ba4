// The numbers and names of the protocol that are used here. They are held to the protocol's own types, so that its library
// need not be loaded for them.
import type * as protocol from 'vscode-languageserver'

export const TextDocumentSyncKind = { Incremental: 2 } as const satisfies Partial<typeof protocol.TextDocumentSyncKind>

export const FileChangeType = { Deleted: 3 } as const satisfies Partial<typeof protocol.FileChangeType>

export const DiagnosticSeverity = { Error: 1, Warning: 2, Information: 3, Hint: 4 } as const satisfies Partial<
  typeof protocol.DiagnosticSeverity
>

export const DiagnosticTag = { Unnecessary: 1, Deprecated: 2 } as const satisfies Partial<typeof protocol.DiagnosticTag>

export const CodeActionKind = {
  QuickFix: 'quickfix',
  RefactorRewrite: 'refactor.rewrite',
  RefactorExtract: 'refactor.extract',
  SourceFixAll: 'source.fixAll.rollbook',
} as const

export const CompletionItemKind = {
  Property: 10,
  Unit: 11,
  Snippet: 15,
  Reference: 18,
  EnumMember: 20,
  Constant: 21,
} as const satisfies Partial<typeof protocol.CompletionItemKind>

export const InsertTextFormat = { PlainText: 1, Snippet: 2 } as const satisfies Partial<typeof protocol.InsertTextFormat>

export const InsertTextMode = { asIs: 1 } as const satisfies Partial<typeof protocol.InsertTextMode>

export const SymbolKind = {
  Module: 2,
  Namespace: 3,
  Package: 4,
  Class: 5,
  Property: 7,
  Array: 18,
  Object: 19,
} as const satisfies Partial<typeof protocol.SymbolKind>

export const DocumentHighlightKind = { Read: 2, Write: 3 } as const satisfies Partial<typeof protocol.DocumentHighlightKind>

export const FoldingRangeKind = { Comment: 'comment' } as const

/** Errors beyond those of JSON-RPC itself. */
export const LSPErrorCodes = {
  RequestCancelled: -32800,
  ContentModified: -32801,
  RequestFailed: -32803,
} as const satisfies Partial<typeof protocol.LSPErrorCodes>

export const MessageType = { Error: 1, Info: 3 } as const satisfies Partial<typeof protocol.MessageType>
