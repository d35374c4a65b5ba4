// What the client told of itself: the position encoding to talk in, and what it can take. Nothing is sent that was not declared.
import type { InitializeParams } from 'vscode-languageserver'
import type { PositionEncoding } from '../base/line-index.ts'
import { InsertTextMode } from './protocol.ts'

/** What the client can take. */
export interface ClientAbilities {
  readonly markdown: boolean
  readonly markdownDocumentation: boolean
  /** The marks on a finding that it knows. */
  readonly tags: readonly number[]
  /** Asks for findings, of one document and of all, and need not be told. */
  readonly pullsFindings: boolean
  /** Shows the whole shop beside the documents. */
  readonly showsShop: boolean
  /** Reads and lists files for us that are on no disk of this machine. */
  readonly readsFiles: boolean
  /** Asks for the findings of what it has open anew when told to. */
  readonly refreshedFindings: boolean
  readonly relatedInformation: boolean
  /** The address of the page that explains a rule or a setting, with `{topic}` in it; undefined where the client has no such pages. */
  readonly explanationPage: string | undefined
  readonly snippetCompletion: boolean
  /** Inserts the lines of a completion as they are, when told to, and indents none of them again. */
  readonly linesAsTheyAre: boolean
  readonly snippetEdits: boolean
  readonly disabledActions: boolean
  /** Asks for the edit of an action when it is chosen. */
  readonly resolvesActions: boolean
  readonly documentChanges: boolean
  readonly hierarchicalSymbols: boolean
  /** Can be asked what a person has set. */
  readonly configuration: boolean
  /** Can be asked to watch files. */
  readonly watchedFiles: boolean
  /** Asks for hints anew when told to. */
  readonly refreshedHints: boolean
  readonly refreshedLenses: boolean
  readonly refreshedTokens: boolean
  /** The client's own command that shows the references of the name at a place; undefined where it has none. */
  readonly referencesCommand: string | undefined
  /** The client's own command that records evidence of a kind in a document; undefined where it has none. */
  readonly recordCommand: string | undefined
  /** The client's own command that reviews what changed, against a version that it is told of; undefined where it has none. */
  readonly reviewCommand: string | undefined
  readonly linkTooltips: boolean
  /** Asks what would be renamed before it asks for the new name. */
  readonly preparesRename: boolean
  /** Renames files as part of an edit. */
  readonly renamesFiles: boolean
  /** Makes files as part of an edit. */
  readonly makesFiles: boolean
  /** Shows an edit before it is done, where that is asked for. */
  readonly confirms: boolean
}

export function encodingOf(params: InitializeParams): PositionEncoding {
  const offered = params.capabilities.general?.positionEncodings ?? []
  const known = offered.find((e): e is PositionEncoding => e === 'utf-16' || e === 'utf-8' || e === 'utf-32')
  return offered.includes('utf-16') ? 'utf-16' : (known ?? 'utf-16')
}

export function abilitiesOf({ capabilities, initializationOptions }: InitializeParams): ClientAbilities {
  const { textDocument: text, workspace } = capabilities
  // Since 3.18 a client says of those that it asks for what it takes in them; before, it said so of those it is told.
  const findings = { ...text?.publishDiagnostics, ...text?.diagnostic }
  return {
    markdown: text?.hover?.contentFormat?.includes('markdown') ?? false,
    markdownDocumentation: text?.completion?.completionItem?.documentationFormat?.includes('markdown') ?? false,
    pullsFindings: text?.diagnostic !== undefined,
    showsShop: isOn(initializationOptions, 'shopView'),
    readsFiles: isOn(initializationOptions, 'files'),
    refreshedFindings: workspace?.diagnostics?.refreshSupport ?? false,
    tags: findings?.tagSupport?.valueSet ?? [],
    relatedInformation: findings?.relatedInformation ?? false,
    explanationPage: findings?.codeDescriptionSupport ? pageOf(initializationOptions) : undefined,
    snippetCompletion: text?.completion?.completionItem?.snippetSupport ?? false,
    linesAsTheyAre: text?.completion?.completionItem?.insertTextModeSupport?.valueSet.includes(InsertTextMode.asIs) ?? false,
    snippetEdits: workspace?.workspaceEdit?.snippetEditSupport ?? false,
    disabledActions: text?.codeAction?.disabledSupport ?? false,
    resolvesActions: (text?.codeAction?.dataSupport && text.codeAction.resolveSupport?.properties.includes('edit')) ?? false,
    documentChanges: workspace?.workspaceEdit?.documentChanges ?? false,
    hierarchicalSymbols: text?.documentSymbol?.hierarchicalDocumentSymbolSupport ?? false,
    configuration: workspace?.configuration ?? false,
    watchedFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration ?? false,
    refreshedHints: workspace?.inlayHint?.refreshSupport ?? false,
    preparesRename: text?.rename?.prepareSupport ?? false,
    renamesFiles: workspace?.workspaceEdit?.resourceOperations?.includes('rename') ?? false,
    makesFiles: workspace?.workspaceEdit?.resourceOperations?.includes('create') ?? false,
    confirms: workspace?.workspaceEdit?.changeAnnotationSupport !== undefined,
    refreshedLenses: workspace?.codeLens?.refreshSupport ?? false,
    refreshedTokens: workspace?.semanticTokens?.refreshSupport ?? false,
    referencesCommand: commandOf(initializationOptions, 'referencesCommand'),
    recordCommand: commandOf(initializationOptions, 'recordCommand'),
    reviewCommand: commandOf(initializationOptions, 'reviewCommand'),
    linkTooltips: text?.documentLink?.tooltipSupport ?? false,
  }
}

/** A link is only worth having where it leads somewhere: the client says where its pages are. */
function pageOf(options: unknown): string | undefined {
  const page = (options as { explanationPage?: unknown } | null | undefined)?.explanationPage
  return typeof page === 'string' && page.includes('{topic}') ? page : undefined
}

const isOn = (options: unknown, name: string): boolean =>
  (options as Readonly<Record<string, unknown>> | null | undefined)?.[name] === true

function commandOf(options: unknown, name: string): string | undefined {
  const command = (options as Readonly<Record<string, unknown>> | null | undefined)?.[name]
  return typeof command === 'string' ? command : undefined
}
