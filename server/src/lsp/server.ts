// The language server: wires the protocol to the facade. Handlers convert, ask once, convert back; `reply` alone knows of lookup, loading and errors.
import {
  type CancellationToken,
  type CodeActionKind,
  type Connection,
  type Diagnostic,
  type DocumentSymbol,
  FileChangeType,
  type InitializeParams,
  type InitializeResult,
  type Location,
  LSPErrorCodes,
  ResponseError,
  type SymbolInformation,
  TextDocumentSyncKind,
} from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import { normalUri } from '../base/uri.ts'
import type { Host } from '../host/host.ts'
import type { Finding } from '../rules/rule.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { fillOpen } from '../workspace/starting.ts'
import { Workspace } from '../workspace/workspace.ts'
import { abilitiesOf, type ClientAbilities, encodingOf } from './abilities.ts'
import { OpenTexts, type Positions } from './documents.ts'
import { registerExtras } from './extras.ts'
import {
  flattened,
  type Papers,
  toCodeAction,
  toCompletion,
  toDiagnostic,
  toHint,
  toMarkup,
  toRange,
  toSymbol,
} from './to-proto.ts'

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
  private asksSettings = false
  private refreshesHints = false
  private readonly waiting = new Set<string>()
  /** What was published last, by file. */
  private readonly told = new Map<string, { readonly findings: readonly Finding[]; readonly version: number | undefined }>()
  private scheduled = false
  /** Counts edits and questions, to find the pause between them. */
  private messages = 0
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
    connection.onHover(({ textDocument, position }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }) => {
        const found = this.analysis.hover(file, positions.offset(position))
        return found ? { contents: toMarkup(found.markdown, this.able.markdown), range: toRange(positions, found.span) } : null
      }),
    )
    connection.onCompletion(({ textDocument, position }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }) =>
        this.analysis.completions(file, positions.offset(position)).map((item) => toCompletion(item, positions, this.able)),
      ),
    )
    connection.onCodeAction(async ({ textDocument, range, context }, token) => {
      // The profiles to borrow from have to be read first.
      const filled = await this.reply(textDocument.uri, token, ({ file, positions }) =>
        fillOpen(this.analysis, file, { start: positions.offset(range.start), end: positions.offset(range.end) }),
      )
      return this.reply(textDocument.uri, token, ({ file, positions }) => {
        const span = { start: positions.offset(range.start), end: positions.offset(range.end) }
        return [...this.analysis.actions(file, span), ...(filled ? [filled] : [])]
          .filter((action) => action.refused === undefined || this.able.disabledActions)
          .map((action) => toCodeAction(action, this.papers, context.diagnostics, this.able))
          .filter((action) => wanted(action.kind, context.only))
      })
    })
    connection.onDocumentSymbol(({ textDocument }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }): DocumentSymbol[] | SymbolInformation[] => {
        const symbols = this.analysis.outline(file).map((item) => toSymbol(item, positions))
        return this.able.hierarchicalSymbols ? symbols : flattened(symbols, textDocument.uri)
      }),
    )
    connection.onDefinition(({ textDocument, position }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }) =>
        this.locations(this.analysis.definition(file, positions.offset(position))),
      ),
    )
    connection.onReferences(({ textDocument, position }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }) =>
        this.locations(this.analysis.references(file, positions.offset(position))),
      ),
    )
    connection.languages.inlayHint.on(({ textDocument, range }, token) =>
      this.reply(textDocument.uri, token, ({ file, positions }) => {
        if (!this.hintsOn) return []
        const span = { start: positions.offset(range.start), end: positions.offset(range.end) }
        return this.analysis.hints(file, span).map((hint) => toHint(hint, positions, this.able))
      }),
    )
    registerExtras(connection, {
      analysis: this.analysis,
      load: (uri) => this.load(normalUri(uri)),
      positions: (file) => this.papers.positions(file),
      explanationPage: () => this.able.explanationPage,
    })
    connection.onDidChangeConfiguration(({ settings }) => this.readSettings(settings?.rollbook))
    connection.listen()
  }

  private initialize(params: InitializeParams): InitializeResult {
    this.able = abilitiesOf(params)
    this.texts.encoding = encodingOf(params)
    const { workspace } = params.capabilities
    this.watchesFiles = workspace?.didChangeWatchedFiles?.dynamicRegistration === true
    this.asksSettings = workspace?.configuration === true
    this.refreshesHints = workspace?.inlayHint?.refreshSupport === true
    this.hintsOn = hintsWanted(params.initializationOptions)
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
    await Promise.all(folders.map((folder) => this.workspace.addFolder(folder)))
    this.refreshAll()
  }

  private syncDocuments(): void {
    const { connection } = this
    connection.onDidOpenTextDocument(({ textDocument: { uri, version, text } }) => {
      const file = normalUri(uri)
      this.texts.open(file, uri, version, text)
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
      this.told.delete(file)
      await this.workspace.close(file)
      if (!this.workspace.isOpen(file)) void this.connection.sendDiagnostics({ uri: textDocument.uri, diagnostics: [] })
      this.refreshAll()
    })
    connection.onDidChangeWatchedFiles(async ({ changes }) => {
      for (const { uri, type } of changes) {
        this.host.log('info', `${type === FileChangeType.Deleted ? 'deleted' : 'changed'} on disk: ${uri}`)
        await this.workspace.changedOnDisk(normalUri(uri))
      }
      this.refreshAll()
    })
    connection.onNotification(
      'workspace/didChangeWorkspaceFolders',
      async ({ event }: { event: { added: { uri: string }[]; removed: { uri: string }[] } }) => {
        for (const { uri } of event.removed) this.workspace.removeFolder(normalUri(uri))
        await this.addFolders(event.added.map((f) => normalUri(f.uri)))
      },
    )
  }

  private take(file: string, text: string): void {
    this.messages++
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

  private refresh(file: string): void {
    this.waiting.add(file)
    if (this.scheduled) return
    this.scheduled = true
    this.tellInThePause(undefined, 0)
  }

  /** Findings are told once the messages at hand are taken: edits in a row are answered once, and what is asked right after one is answered first. */
  private tellInThePause(before: number | undefined, rounds: number): void {
    soon(() => {
      if (this.messages !== before && rounds < MOST_ROUNDS) return this.tellInThePause(this.messages, rounds + 1)
      this.scheduled = false
      const files = [...this.waiting]
      this.waiting.clear()
      for (const f of files) void this.publish(f)
    })
  }

  private async publish(file: string): Promise<void> {
    try {
      await this.load(file)
      if (!this.workspace.isOpen(file)) return
      const version = this.texts.version(file)
      const findings = this.analysis.findings(file)
      const told = this.told.get(file)
      // The same findings of the same version are the same array: another document changed, and this one does not depend on it.
      if (told?.findings === findings && told.version === version) return
      const closed = findings.flatMap((f) => f.related?.map((r) => r.file) ?? []).filter((f) => !this.workspace.document(f))
      if (closed.length > 0) {
        // Places in closed documents have lines and columns only once these are read.
        await Promise.all(closed.map((f) => this.workspace.load(f)))
        if (this.texts.version(file) !== version) return
      }
      this.told.set(file, { findings, version })
      const diagnostics: Diagnostic[] = findings.map((f) => toDiagnostic(f, this.papers, this.able))
      await this.connection.sendDiagnostics({ uri: this.texts.uri(file), diagnostics, ...(version !== undefined && { version }) })
    } catch (error) {
      this.host.log('error', `findings of ${file}: ${(error as Error).stack ?? error}`)
    }
  }

  private async load(file: string): Promise<void> {
    const looking = this.workspace.ensureShopOf(file)
    if (looking) {
      await looking
      this.refreshAll()
    }
    const few = this.workspace.fewRead()
    // A slow disk must not keep everything back: after a while what is known is told, and again when the rest is.
    if (few) await Promise.race([few, new Promise((resolve) => setTimeout(resolve, 1500))])
    const ready = this.workspace.prepare(file)
    if (ready) await ready
  }

  /** One wrapper for every request about a document: loads what it needs, and answers null rather than failing. */
  private async reply<T>(
    uri: string,
    token: CancellationToken,
    work: (at: { file: string; positions: Positions }) => T | Promise<T>,
  ): Promise<T | null> {
    const file = normalUri(uri)
    if (!kindOfFile(file)) return null
    this.messages++
    try {
      await this.load(file)
      if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled')
      return this.workspace.document(file) ? await work({ file, positions: this.papers.positions(file) }) : null
    } catch (error) {
      if (error instanceof ResponseError) throw error
      this.host.log('error', (error as Error).stack ?? String(error))
      return null
    }
  }

  private readonly papers: Papers = {
    positions: (file) => this.texts.positions(file, this.workspace.document(file)?.text ?? ''),
    version: (file) => this.texts.version(file),
    uri: (file) => this.texts.uri(file),
  }

  private locations(found: readonly { file: string; span: Span }[]): Location[] {
    return found.map(({ file, span }) => ({ uri: this.texts.uri(file), range: toRange(this.papers.positions(file), span) }))
  }

  /** Takes the settings that the client sends, or asks for them; clients that can do neither keep the defaults. */
  private async readSettings(sent?: unknown): Promise<void> {
    try {
      const settings = this.asksSettings ? await this.connection.workspace.getConfiguration('rollbook') : sent
      const on = hintsWanted(settings)
      if (on === this.hintsOn) return
      this.hintsOn = on
      if (this.refreshesHints) await this.connection.languages.inlayHint.refresh()
    } catch (error) {
      this.host.log('info', `settings: ${(error as Error).message}`)
    }
  }
}

/** Whether hints are wanted: anything but a plain `false` in the right place means yes. */
const hintsWanted = (settings: unknown): boolean =>
  (settings as { hints?: { checks?: unknown } } | null | undefined)?.hints?.checks !== false

const wanted = (kind: CodeActionKind | undefined, only: readonly CodeActionKind[] | undefined): boolean =>
  !only || only.some((o) => kind === o || kind?.startsWith(`${o}.`))

/** How many messages on end the findings wait for. */
const MOST_ROUNDS = 50

/** After the message at hand; a timer, all that a browser has, waits a millisecond longer. */
const soon: (work: () => void) => unknown = typeof setImmediate === 'function' ? setImmediate : (work) => setTimeout(work, 0)
