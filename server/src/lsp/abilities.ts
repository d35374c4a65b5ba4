// What the client told of itself: the position encoding to talk in, and what it can take. Nothing is sent that was not declared.
import type { InitializeParams } from 'vscode-languageserver'
import type { PositionEncoding } from '../base/line-index.ts'

/** What the client can take. */
export interface ClientAbilities {
  readonly markdown: boolean
  readonly markdownDocumentation: boolean
  readonly tags: boolean
  readonly relatedInformation: boolean
  readonly codeDescription: boolean
  readonly snippetCompletion: boolean
  readonly snippetEdits: boolean
  readonly disabledActions: boolean
  readonly documentChanges: boolean
  readonly hierarchicalSymbols: boolean
}

export function encodingOf(params: InitializeParams): PositionEncoding {
  const offered = params.capabilities.general?.positionEncodings ?? []
  const known = offered.find((e): e is PositionEncoding => e === 'utf-16' || e === 'utf-8' || e === 'utf-32')
  return offered.includes('utf-16') ? 'utf-16' : (known ?? 'utf-16')
}

export function abilitiesOf({ capabilities }: InitializeParams): ClientAbilities {
  const text = capabilities.textDocument
  return {
    markdown: text?.hover?.contentFormat?.includes('markdown') ?? false,
    markdownDocumentation: text?.completion?.completionItem?.documentationFormat?.includes('markdown') ?? false,
    tags: Boolean(text?.publishDiagnostics?.tagSupport),
    relatedInformation: text?.publishDiagnostics?.relatedInformation ?? false,
    codeDescription: text?.publishDiagnostics?.codeDescriptionSupport ?? false,
    snippetCompletion: text?.completion?.completionItem?.snippetSupport ?? false,
    snippetEdits: capabilities.workspace?.workspaceEdit?.snippetEditSupport ?? false,
    disabledActions: text?.codeAction?.disabledSupport ?? false,
    documentChanges: capabilities.workspace?.workspaceEdit?.documentChanges ?? false,
    hierarchicalSymbols: text?.documentSymbol?.hierarchicalDocumentSymbolSupport ?? false,
  }
}
