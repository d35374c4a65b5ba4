// The core's plain values as messages of the protocol. No decisions are made here.

import type * as protocol from 'vscode-languageserver'
import type {
  CodeAction,
  CompletionItem,
  Diagnostic,
  DocumentSymbol,
  InlayHint,
  MarkupContent,
  TextEdit as ProtocolEdit,
  Range,
  SymbolInformation,
  WorkspaceEdit,
} from 'vscode-languageserver'
import { plainText } from '../base/plain-text.ts'
import type { Span } from '../base/span.ts'
import { type TextEdit, withoutStops } from '../base/text-edit.ts'
import type { Action, Completion, Hint, OutlineItem } from '../features/context.ts'
import type { Finding, Severity } from '../rules/rule.ts'
import type { ClientAbilities } from './abilities.ts'
import type { Positions } from './documents.ts'
import {
  CodeActionKind,
  CompletionItemKind,
  DiagnosticSeverity,
  DiagnosticTag,
  InsertTextFormat,
  InsertTextMode,
  SymbolKind,
} from './protocol.ts'

/** Of each file: its positions, the version the client knows, and how the client spells its name. */
export interface Papers {
  positions(file: string): Positions
  version(file: string): number | undefined
  uri(file: string): string
}

export const toRange = (positions: Positions, span: Span): Range => ({
  start: positions.position(span.start),
  end: positions.position(span.end),
})

export const toSpan = (positions: Positions, range: Range): Span => ({
  start: positions.offset(range.start),
  end: positions.offset(range.end),
})

const SEVERITY: Readonly<Record<Severity, protocol.DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  hint: DiagnosticSeverity.Information,
}

export const toMarkup = (markdown: string, able: boolean): MarkupContent =>
  able ? { kind: 'markdown', value: markdown } : { kind: 'plaintext', value: plainText(markdown) }

export function toDiagnostic(finding: Finding, papers: Papers, able: ClientAbilities): Diagnostic {
  const related = able.relatedInformation ? finding.related : undefined
  return {
    range: toRange(papers.positions(finding.file), finding.span),
    severity: finding.accepted ? DiagnosticSeverity.Hint : SEVERITY[finding.severity],
    source: 'rollbook',
    code: finding.code,
    ...(able.explanationPage !== undefined && {
      codeDescription: { href: able.explanationPage.replace('{topic}', finding.code) },
    }),
    message: finding.accepted
      ? `Accepted until ${finding.accepted.until}: ${finding.accepted.reason} (${finding.message})`
      : finding.message,
    ...tagged(finding, able),
    ...(related?.length && {
      relatedInformation: related.map((r) => ({
        location: { uri: papers.uri(r.file), range: toRange(papers.positions(r.file), r.span) },
        message: r.message,
      })),
    }),
  }
}

function tagged({ unnecessary, outdated }: Finding, { tags }: ClientAbilities): Pick<Diagnostic, 'tags'> {
  const all = [...(unnecessary ? [DiagnosticTag.Unnecessary] : []), ...(outdated ? [DiagnosticTag.Deprecated] : [])]
  const taken = all.filter((tag) => tags.includes(tag))
  return taken.length > 0 ? { tags: taken } : {}
}

export const toEdit = (edit: TextEdit, positions: Positions): ProtocolEdit => ({
  range: toRange(positions, edit),
  newText: edit.newText,
})

const ACTION_KIND: Readonly<Record<Action['kind'], string>> = {
  quickfix: CodeActionKind.QuickFix,
  refactor: CodeActionKind.RefactorRewrite,
  extract: CodeActionKind.RefactorExtract,
  'fix-all': CodeActionKind.SourceFixAll,
  record: 'refactor.record',
}

export function toCodeAction(
  action: Action,
  papers: Papers,
  diagnostics: readonly Diagnostic[],
  able: ClientAbilities,
): CodeAction {
  const mends = diagnostics.filter((d) => mendedBy(action, d, papers))
  return {
    title: action.title,
    kind: action.records === undefined ? ACTION_KIND[action.kind] : `${ACTION_KIND[action.kind]}.${action.records}`,
    ...(mends.length && { diagnostics: mends }),
    ...(action.preferred && { isPreferred: true }),
    ...(action.refused !== undefined
      ? { disabled: { reason: action.refused } }
      : { edit: toWorkspaceEdit(action, papers, able) }),
  }
}

function mendedBy(action: Action, diagnostic: Diagnostic, papers: Papers): boolean {
  if (diagnostic.code !== action.code || !action.mends) return false
  const { start } = toRange(papers.positions(action.mends.file), action.mends.span)
  return diagnostic.range.start.line === start.line && diagnostic.range.start.character === start.character
}

function toWorkspaceEdit(action: Action, papers: Papers, able: ClientAbilities): WorkspaceEdit {
  if (action.makes) return toManyEdits(action, action.makes, papers, able)
  const positions = papers.positions(action.file)
  const uri = papers.uri(action.file)
  const textDocument = { uri, version: papers.version(action.file) ?? null }
  if (action.snippet && able.snippetEdits && able.documentChanges) {
    const edits = action.edits.map((e) => ({
      range: toRange(positions, e),
      snippet: { kind: 'snippet' as const, value: e.newText },
    }))
    return { documentChanges: [{ textDocument, edits }] }
  }
  const edits = action.edits.map((e) => toEdit(action.snippet ? { ...e, newText: withoutStops(e.newText) } : e, positions))
  return able.documentChanges ? { documentChanges: [{ textDocument, edits }] } : { changes: { [uri]: edits } }
}

/** A new file, what is written into it, and what is edited elsewhere with it: seen by a person before it is done. */
function toManyEdits(
  { title, file, edits, others }: Action,
  makes: NonNullable<Action['makes']>,
  papers: Papers,
  { confirms }: ClientAbilities,
): WorkspaceEdit {
  const noted = confirms ? { annotationId: title } : {}
  const start = { line: 0, character: 0 }
  const changes = [...new Map(others).set(file, edits)].map(([at, own]) => ({
    textDocument: { uri: papers.uri(at), version: papers.version(at) ?? null },
    edits: own.map((edit) => ({ ...toEdit(edit, papers.positions(at)), ...noted })),
  }))
  return {
    documentChanges: [
      { kind: 'create', uri: makes.file, ...noted },
      {
        textDocument: { uri: makes.file, version: null },
        edits: [{ range: { start, end: start }, newText: makes.text, ...noted }],
      },
      ...changes,
    ],
    ...(confirms && { changeAnnotations: { [title]: { label: title, needsConfirmation: true } } }),
  }
}

const COMPLETION_KIND: Readonly<Record<Completion['kind'], protocol.CompletionItemKind>> = {
  key: CompletionItemKind.Property,
  value: CompletionItemKind.EnumMember,
  unit: CompletionItemKind.Unit,
  reference: CompletionItemKind.Reference,
  snippet: CompletionItemKind.Snippet,
  date: CompletionItemKind.Constant,
}

/** Ready-made text of several indented lines is for editors that know its stops and insert its lines as they are. */
export const takesCompletion = (item: Completion, able: ClientAbilities): boolean =>
  !(item.snippet && item.indented) || (able.snippetCompletion && able.linesAsTheyAre)

export function toCompletion(item: Completion, positions: Positions, able: ClientAbilities): CompletionItem {
  const snippet = item.snippet && able.snippetCompletion
  const whole = item.snippet && !snippet ? withoutStops(item.edit.newText) : item.edit.newText
  // Some editors indent further lines once more and some do not: without a word on it a section is opened by its key alone.
  const newText = item.indented && !able.linesAsTheyAre ? whole.replace(/\n.*/s, '') : whole
  return {
    label: item.label,
    kind: COMPLETION_KIND[item.kind],
    ...(item.detail !== undefined && { detail: item.detail }),
    ...(item.documentation !== undefined && {
      documentation: toMarkup(item.documentation, able.markdownDocumentation),
    }),
    sortText: item.sort ?? item.label,
    filterText: item.filter ?? item.label,
    insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    ...(able.linesAsTheyAre && { insertTextMode: InsertTextMode.asIs }),
    textEdit: { range: toRange(positions, item.edit), newText },
    ...(item.also?.length && { additionalTextEdits: item.also.map((edit) => toEdit(edit, positions)) }),
  }
}

export function toHint(hint: Hint, positions: Positions, able: ClientAbilities): InlayHint {
  return {
    position: positions.position(hint.offset),
    label: hint.label,
    paddingLeft: true,
    ...(hint.tooltip !== undefined && { tooltip: toMarkup(hint.tooltip, able.markdown) }),
  }
}

const SYMBOL_KIND: Readonly<Record<OutlineItem['kind'], protocol.SymbolKind>> = {
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

/** Symbols for clients that know no hierarchy: one list, each with the name of what holds it. */
export function flattened(symbols: readonly DocumentSymbol[], uri: string, containerName?: string): SymbolInformation[] {
  return symbols.flatMap(({ name, kind, range, children }) => [
    { name, kind, location: { uri, range }, ...(containerName !== undefined && { containerName }) },
    ...flattened(children ?? [], uri, name),
  ])
}
