// The language server: wires the protocol to the facade. Handlers convert, ask once, convert back; `reply` alone knows of lookup, loading and errors.
import {
  type CodeActionKind,
  type Connection,
  type Diagnostic,
  FileChangeType,
  type InitializeParams,
  type InitializeResult,
  MarkupKind,
  TextDocumentSyncKind,
} from 'vscode-languageserver'
import type { PositionEncoding } from '../base/line-index.ts'
import { normalUri } from '../base/uri.ts'
import type { Host } from '../host/host.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { Workspace } from '../workspace/workspace.ts'
import { OpenTexts, type Positions } from './documents.ts'
import { registerExtras } from './extras.ts'
import { type ClientAbilities, toCodeAction, toCompletion, toDiagnostic, toHint, toRange, toSymbol } from './to-proto.ts'

export function serve(connection: Connection, host: Host, version: string): void {
  new Server(connection, host, version).listen()
}

class Server {
  private readonly texts = new OpenTexts()
  private readonly workspace: Workspace
  private readonly analysis: Analysis
  private able: ClientAbilities = abilitiesOf({ capabilities: {} } as InitializeParams)
  private folders: readonly string[] = []
  private watchesFiles = false
  private readonly waiting = new Set<string>()
  private scheduled = false
  private hintsOn = true

  constructor(
    private readonly connection: Connection,
    private readonly host: Host,
    private readonly version: string,
  ) {
    this.workspace = new Workspace(host)
    this.analysis = new Analysis(this.workspace)
  }

  listen(): void {
    const { connection } = this
    connection.onInitialize((params) => this.initialize(params))
    connection.onInitialized(() => this.initialized())
    this.syncDocuments()
    connection.onHover(({ textDocument, position }) =>
      this.reply(textDocument.uri, ({ file, positions }) => {
        const found = this.analysis.hover(file, positions.offset(position))
        const kind = this.able.markdown ? MarkupKind.Markdown : MarkupKind.PlainText
        return found ? { contents: { kind, value: found.markdown }, range: toRange(positions, found.span) } : null
      }),
    )
    connection.onCompletion(({ textDocument, position }) =>
      this.reply(textDocument.uri, ({ file, positions }) =>
        this.analysis.completions(file, positions.offset(position)).map((item) => toCompletion(item, positions, this.able)),
      ),
    )
    connection.onCodeAction(({ textDocument, range, context }) =>
      this.reply(textDocument.uri, ({ file, positions }) => {
        const span = { start: positions.offset(range.start), end: positions.offset(range.end) }
        return this.analysis
          .actions(file, span)
          .filter((action) => action.refused === undefined || this.able.disabledActions)
          .map((action) => toCodeAction(action, this.positionsOf, (f) => this.texts.version(f), context.diagnostics, this.able))
          .filter((action) => wanted(action.kind, context.only))
      }),
    )
    connection.onDocumentSymbol(({ textDocument }) =>
      this.reply(textDocument.uri, ({ file, positions }) => this.analysis.outline(file).map((item) => toSymbol(item, positions))),
    )
    connection.onDefinition(({ textDocument, position }) =>
      this.reply(textDocument.uri, ({ file, positions }) =>
        this.locations(this.analysis.definition(file, positions.offset(position))),
      ),
    )
    connection.onReferences(({ textDocument, position }) =>
      this.reply(textDocument.uri, ({ file, positions }) =>
        this.locations(this.analysis.references(file, positions.offset(position))),
      ),
    )
    connection.languages.inlayHint.on(({ textDocument, range }) =>
      this.reply(textDocument.uri, ({ file, positions }) => {
        if (!this.hintsOn) return []
        const span = { start: positions.offset(range.start), end: positions.offset(range.end) }
        return this.analysis.hints(file, span).map((hint) => toHint(hint, positions))
      }),
    )
    registerExtras(connection, this.analysis, (uri) => this.load(normalUri(uri)))
    connection.onDidChangeConfiguration(() => this.readSettings())
    connection.listen()
  }

  private initialize(params: InitializeParams): InitializeResult {
    this.able = abilitiesOf(params)
    this.texts.encoding = encodingOf(params)
    this.watchesFiles = params.capabilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true
    this.hintsOn = params.initializationOptions?.hints?.checks !== false
    const folders = params.workspaceFolders?.map((f) => f.uri) ?? (params.rootUri ? [params.rootUri] : [])
    this.folders = folders.map(normalUri)
    return {
      capabilities: {
        positionEncoding: this.texts.encoding,
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: false },
        hoverProvider: true,
        completionProvider: { triggerCharacters: [' ', '{', ',', ':', '-', '±'] },
        codeActionProvider: { codeActionKinds: ['quickfix', 'refactor'] },
        documentSymbolProvider: true,
        definitionProvider: true,
        referencesProvider: true,
        inlayHintProvider: true,
        workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
      },
      serverInfo: { name: 'rollbook', version: this.version },
    }
  }

  private initialized(): void {
    if (this.watchesFiles) {
      const watchers = ['**/*.media.yaml', '**/*.stock.yaml', '**/*.printer.yaml', '**/rollbook.yaml'].map((globPattern) => ({
        globPattern,
      }))
      this.connection.client
        .register('workspace/didChangeWatchedFiles' as never, { watchers } as never)
        .catch((error) => this.host.log('info', `file watching: ${error}`))
    }
    void this.readSettings()
    void this.addFolders(this.folders)
  }

  private async addFolders(folders: readonly string[]): Promise<void> {
    for (const folder of folders) await this.workspace.addFolder(folder)
    this.refreshAll()
  }

  private syncDocuments(): void {
    const { connection } = this
    connection.onDidOpenTextDocument(({ textDocument: { uri, version, text } }) => {
      const file = normalUri(uri)
      this.texts.open(file, version, text)
      this.take(file, text)
    })
    connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
      const file = normalUri(uri)
      const text = this.texts.change(file, version, contentChanges)
      if (text !== undefined) this.take(file, text)
    })
    connection.onDidCloseTextDocument(async ({ textDocument }) => {
      const file = normalUri(textDocument.uri)
      this.texts.close(file)
      await this.workspace.close(file)
      void this.connection.sendDiagnostics({ uri: file, diagnostics: [] })
      this.refreshAll()
    })
    connection.onDidChangeWatchedFiles(async ({ changes }) => {
      for (const { uri, type } of changes) {
        this.host.log('info', `${type === FileChangeType.Deleted ? 'deleted' : 'changed'} on disk: ${uri}`)
        await this.workspace.changedOnDisk(normalUri(uri))
      }
      this.refreshAll()
    })
    connection.onRequest('workspace/willDeleteFiles', () => null)
    connection.onNotification(
      'workspace/didChangeWorkspaceFolders',
      async ({ event }: { event: { added: { uri: string }[]; removed: { uri: string }[] } }) => {
        for (const { uri } of event.removed) this.workspace.removeFolder(normalUri(uri))
        await this.addFolders(event.added.map((f) => normalUri(f.uri)))
      },
    )
  }

  private take(file: string, text: string): void {
    const links = this.workspace.linksRevision
    const document = this.workspace.update(file, text)
    if (!document) return
    if (this.workspace.linksRevision !== links) this.refreshAll()
    else {
      this.refresh(file)
      if (document.kind !== 'media') this.refreshAll()
      else
        for (const other of this.workspace.openDocuments())
          if (other !== document && this.workspace.partsOf(other).includes(document)) this.refresh(other.file)
    }
  }

  private refreshAll(): void {
    for (const { file } of this.workspace.openDocuments()) this.refresh(file)
  }

  /** Findings are told as soon as the messages at hand are taken: several edits in a row are answered once. */
  private refresh(file: string): void {
    this.waiting.add(file)
    if (this.scheduled) return
    this.scheduled = true
    setTimeout(() => {
      this.scheduled = false
      const files = [...this.waiting]
      this.waiting.clear()
      for (const f of files) void this.publish(f)
    }, 0)
  }

  private async publish(file: string): Promise<void> {
    try {
      await this.load(file)
      if (!this.workspace.isOpen(file)) return
      const version = this.texts.version(file)
      const diagnostics: Diagnostic[] = this.analysis.findings(file).map((f) => toDiagnostic(f, this.positionsOf, this.able))
      await this.connection.sendDiagnostics({ uri: file, diagnostics, ...(version !== undefined && { version }) })
    } catch (error) {
      this.host.log('error', `findings of ${file}: ${(error as Error).stack ?? error}`)
    }
  }

  private async load(file: string): Promise<void> {
    const ready = this.workspace.prepare(file)
    if (ready) await ready
  }

  /** One wrapper for every request about a document: loads what it needs, and answers null rather than failing. */
  private async reply<T>(uri: string, work: (at: { file: string; positions: Positions }) => T): Promise<T | null> {
    const file = normalUri(uri)
    if (!kindOfFile(file)) return null
    try {
      await this.load(file)
      return this.workspace.document(file) ? work({ file, positions: this.positionsOf(file) }) : null
    } catch (error) {
      this.host.log('error', (error as Error).stack ?? String(error))
      return null
    }
  }

  private readonly positionsOf = (file: string): Positions =>
    this.texts.positions(file, this.workspace.document(file)?.text ?? '')

  private locations(found: readonly { file: string; span: { start: number; end: number } }[]) {
    return found.map(({ file, span }) => ({ uri: file, range: toRange(this.positionsOf(file), span) }))
  }

  private async readSettings(): Promise<void> {
    try {
      const settings = (await this.connection.workspace.getConfiguration('rollbook')) as { hints?: { checks?: unknown } } | null
      const on = settings?.hints?.checks !== false
      if (on !== this.hintsOn) {
        this.hintsOn = on
        void this.connection.languages.inlayHint.refresh().catch(() => undefined)
      }
    } catch {
      // Clients without workspace/configuration keep the defaults.
    }
  }
}

function encodingOf(params: InitializeParams): PositionEncoding {
  const offered = params.capabilities.general?.positionEncodings ?? []
  const known = offered.find((e): e is PositionEncoding => e === 'utf-16' || e === 'utf-8' || e === 'utf-32')
  return offered.includes('utf-16') ? 'utf-16' : (known ?? 'utf-16')
}

function abilitiesOf({ capabilities }: InitializeParams): ClientAbilities {
  const text = capabilities.textDocument
  return {
    markdown: text?.hover?.contentFormat?.includes('markdown') ?? false,
    relatedInformation: text?.publishDiagnostics?.relatedInformation ?? false,
    codeDescription: text?.publishDiagnostics?.codeDescriptionSupport ?? false,
    snippetCompletion: text?.completion?.completionItem?.snippetSupport ?? false,
    snippetEdits: capabilities.workspace?.workspaceEdit?.snippetEditSupport ?? false,
    disabledActions: text?.codeAction?.disabledSupport ?? false,
    documentChanges: capabilities.workspace?.workspaceEdit?.documentChanges ?? false,
    hierarchicalSymbols: text?.documentSymbol?.hierarchicalDocumentSymbolSupport ?? false,
  }
}

const wanted = (kind: CodeActionKind | undefined, only: readonly CodeActionKind[] | undefined): boolean =>
  !only || only.some((o) => kind === o || kind?.startsWith(`${o}.`))
