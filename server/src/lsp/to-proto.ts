// The core's plain values as messages of the protocol. No decisions are made here.
import {
  type CodeAction,
  CodeActionKind,
  type CompletionItem,
  CompletionItemKind,
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type DocumentSymbol,
  type InlayHint,
  InsertTextFormat,
  type TextEdit as ProtocolEdit,
  type Range,
  SymbolKind,
  type WorkspaceEdit,
} from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import type { TextEdit } from '../base/text-edit.ts'
import type { Action, Completion, Hint, OutlineItem } from '../features/context.ts'
import type { Finding, Severity } from '../rules/rule.ts'
import type { Positions } from './documents.ts'

/** What the client can take. */
export interface ClientAbilities {
  readonly markdown: boolean
  readonly relatedInformation: boolean
  readonly codeDescription: boolean
  readonly snippetCompletion: boolean
  readonly snippetEdits: boolean
  readonly disabledActions: boolean
  readonly documentChanges: boolean
  readonly hierarchicalSymbols: boolean
}

export type PositionsOf = (file: string) => Positions

export const toRange = (positions: Positions, span: Span): Range => ({
  start: positions.position(span.start),
  end: positions.position(span.end),
})

const SEVERITY: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  hint: DiagnosticSeverity.Information,
}

export function toDiagnostic(finding: Finding, positionsOf: PositionsOf, able: ClientAbilities): Diagnostic {
  const related = able.relatedInformation ? finding.related : undefined
  return {
    range: toRange(positionsOf(finding.file), finding.span),
    severity: SEVERITY[finding.severity],
    source: 'rollbook',
    code: finding.code,
    ...(able.codeDescription && { codeDescription: { href: `rollbook:explain/${finding.code}` } }),
    message: finding.message,
    ...(finding.unnecessary && { tags: [DiagnosticTag.Unnecessary] }),
    ...(related?.length && {
      relatedInformation: related.map((r) => ({
        location: { uri: r.file, range: toRange(positionsOf(r.file), r.span) },
        message: r.message,
      })),
    }),
  }
}

export const toEdit = (edit: TextEdit, positions: Positions): ProtocolEdit => ({
  range: toRange(positions, edit),
  newText: edit.newText,
})

const ACTION_KIND: Readonly<Record<Action['kind'], string>> = {
  quickfix: CodeActionKind.QuickFix,
  refactor: CodeActionKind.RefactorRewrite,
  'add-check': 'refactor.add.feed-check',
}

export function toCodeAction(
  action: Action,
  positionsOf: PositionsOf,
  versionOf: (file: string) => number | undefined,
  diagnostics: readonly Diagnostic[],
  able: ClientAbilities,
): CodeAction {
  const mends = diagnostics.filter((d) => d.code === action.code)
  return {
    title: action.title,
    kind: ACTION_KIND[action.kind],
    ...(mends.length && { diagnostics: mends }),
    ...(action.preferred && { isPreferred: true }),
    ...(action.refused !== undefined
      ? { disabled: { reason: action.refused } }
      : { edit: toWorkspaceEdit(action, positionsOf, versionOf, able) }),
  }
}

function toWorkspaceEdit(
  action: Action,
  positionsOf: PositionsOf,
  versionOf: (file: string) => number | undefined,
  able: ClientAbilities,
): WorkspaceEdit {
  const positions = positionsOf(action.file)
  if (action.snippet && able.snippetEdits) {
    const edits = action.edits.map((e) => ({
      range: toRange(positions, e),
      snippet: { kind: 'snippet' as const, value: e.newText },
    }))
    return { documentChanges: [{ textDocument: { uri: action.file, version: versionOf(action.file) ?? null }, edits }] }
  }
  const edits = action.edits.map((e) => toEdit(action.snippet ? { ...e, newText: withoutStops(e.newText) } : e, positions))
  if (!able.documentChanges) return { changes: { [action.file]: edits } }
  return { documentChanges: [{ textDocument: { uri: action.file, version: versionOf(action.file) ?? null }, edits }] }
}

const COMPLETION_KIND: Readonly<Record<Completion['kind'], CompletionItemKind>> = {
  key: CompletionItemKind.Property,
  value: CompletionItemKind.EnumMember,
  unit: CompletionItemKind.Unit,
  reference: CompletionItemKind.Reference,
  snippet: CompletionItemKind.Snippet,
  date: CompletionItemKind.Constant,
}

export function toCompletion(item: Completion, positions: Positions, able: ClientAbilities): CompletionItem {
  const snippet = item.snippet && able.snippetCompletion
  const newText = item.snippet && !snippet ? withoutStops(item.edit.newText) : item.edit.newText
  return {
    label: item.label,
    kind: COMPLETION_KIND[item.kind],
    ...(item.detail !== undefined && { detail: item.detail }),
    ...(item.documentation !== undefined && {
      documentation: { kind: able.markdown ? 'markdown' : 'plaintext', value: item.documentation },
    }),
    sortText: item.sort ?? item.label,
    filterText: item.filter ?? item.label,
    insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: { range: toRange(positions, item.edit), newText },
  }
}

/** A snippet for clients that know none: its placeholders' text stays. */
const withoutStops = (text: string): string => text.replace(/\$\{\d+(?::([^{}]*))?\}|\$\d+/g, '$1')

export function toHint(hint: Hint, positions: Positions): InlayHint {
  return {
    position: positions.position(hint.offset),
    label: hint.label,
    paddingLeft: true,
    ...(hint.tooltip !== undefined && { tooltip: { kind: 'markdown', value: hint.tooltip } }),
  }
}

const SYMBOL_KIND: Readonly<Record<OutlineItem['kind'], SymbolKind>> = {
  document: SymbolKind.Module,
  section: SymbolKind.Namespace,
  list: SymbolKind.Array,
  item: SymbolKind.Object,
  setting: SymbolKind.Property,
}

export function toSymbol(item: OutlineItem, positions: Positions): DocumentSymbol {
  return {
    name: item.name || '…',
    ...(item.detail !== undefined && { detail: item.detail }),
    kind: SYMBOL_KIND[item.kind],
    range: toRange(positions, item.span),
    selectionRange: toRange(positions, item.selection),
    children: item.children.map((child) => toSymbol(child, positions)),
  }
}
