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
import { lastPart, normalUri } from '../base/uri.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Host } from '../host/host.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { fillOpen } from '../workspace/starting.ts'
import { Workspace } from '../workspace/workspace.ts'
import { abilitiesOf, type ClientAbilities, encodingOf } from './abilities.ts'
import { OpenTexts, type Positions } from './documents.ts'
import { registerExtras } from './extras.ts'
import { withManners } from './manners.ts'
import {
  flattened,
  type Papers,
  takesCompletion,
  toCodeAction,
  toCompletion,
  toDiagnostic,
  toHint,
  toMarkup,
  toRange,
  toSymbol,
} from './to-proto.ts'
import { UnsavedDocuments } from './unsaved.ts'

/** Serves a connection. `onShut` hears when the client has said that it will go. */
export function serve(connection: Connection, host: Host, version: string, onShut: () => void = () => undefined): void {
  const polite = withManners(connection, (message) => host.log('error', message), onShut)
  new Server(polite, host, version).listen()
}

class Server {
  private readonly texts = new OpenTexts()
  private readonly workspace: Workspace
  private readonly analysis: Analysis
  private readonly unsaved = new UnsavedDocuments(() => this.folders[0])
  private able: ClientAbilities = abilitiesOf({ capabilities: {} } as InitializeParams)
  private folders: readonly string[] = []
  private watchesFiles = false
  private asksSettings = false
  private refreshesHints = false
  /** The open documents, the one touched last at the end. */
  private readonly touched = new Set<string>()
  /** Names of files, no documents, that the client was asked to watch. */
  private readonly watched = new Set<string>()
  /** What was published last, by file. */
  private readonly told = new Map<string, Told>()
  /** Files that are being read for, or told of. */
  private readonly busy = new Set<string>()
  private telling = false
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
      this.reply(textDocument.uri, token, ({ file, positions }) => {
        const items = this.analysis
          .completions(file, positions.offset(position))
          .filter((item) => takesCompletion(item, this.able))
        // Always to be asked again: an editor that goes on with an old list keeps it open where nothing matches what is typed, and Enter
        // then writes an item of it over that.
        return { isIncomplete: true, items: items.map((item) => toCompletion(item, positions, this.able)) }
      }),
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
      fileOf: (uri) => this.unsaved.fileOf(uri),
      load: async (file) => void (await this.load(file)),
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
        // Not ':', ',' or '{': what follows them may be a new line, and a list must not stand between a person and Enter.
        completionProvider: { triggerCharacters: [' '] },
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
    this.watch(['**/*.media.yaml', '**/*.stock.yaml', '**/*.printer.yaml', '**/rollbook.yaml'])
    void this.readSettings()
    void this.addFolders(this.folders)
  }

  private watch(patterns: readonly string[]): void {
    if (!this.watchesFiles || patterns.length === 0) return
    const watchers = patterns.map((globPattern) => ({ globPattern }))
    this.connection.client
      .register('workspace/didChangeWatchedFiles' as never, { watchers } as never)
      .catch((error) => this.host.log('info', `file watching: ${error}`))
  }

  /** Files that profiles name have any name: each is watched once it was looked for, so that one that is missing is seen when it comes. */
  private watchAttached(): void {
    const names = [...this.workspace.attachedFiles()].map(lastPart).filter((name) => !this.watched.has(name))
    for (const name of names) this.watched.add(name)
    this.watch([...new Set(names)].map((name) => `**/${asPattern(name)}`))
  }

  private async addFolders(folders: readonly string[]): Promise<void> {
    await Promise.all(folders.map((folder) => this.workspace.addFolder(folder)))
    this.tellSoon()
  }

  private syncDocuments(): void {
    const { connection } = this
    connection.onDidOpenTextDocument(({ textDocument: { uri, version, text, languageId } }) => {
      const { file } = this.unsaved.place(uri, text, languageId)
      this.texts.open(file, uri, version, text)
      this.take(file, text)
    })
    connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) => {
      const before = this.unsaved.fileOf(uri)
      const text = this.texts.change(before, version, contentChanges)
      if (text === undefined) {
        this.host.log('error', `a change to ${before} is left out: it is not open, or the change is older than its text`)
        return
      }
      const { file, left } = this.unsaved.place(uri, text)
      if (left !== undefined) {
        void this.leave(left)
        this.texts.open(file, uri, version, text)
      }
      this.take(file, text)
    })
    connection.onDidCloseTextDocument(async ({ textDocument }) => {
      const file = this.unsaved.fileOf(textDocument.uri)
      this.messages++
      this.unsaved.forget(textDocument.uri)
      await this.leave(file)
      if (!this.workspace.isOpen(file)) void this.connection.sendDiagnostics({ uri: textDocument.uri, diagnostics: [] })
      this.tellSoon()
    })
    connection.onDidChangeWatchedFiles(async ({ changes }) => {
      for (const { uri, type } of changes) {
        this.host.log('info', `${type === FileChangeType.Deleted ? 'deleted' : 'changed'} on disk: ${uri}`)
        await this.workspace.changedOnDisk(normalUri(uri))
      }
      this.tellSoon()
    })
    connection.onNotification(
      'workspace/didChangeWorkspaceFolders',
      async ({ event }: { event: { added: { uri: string }[]; removed: { uri: string }[] } }) => {
        for (const { uri } of event.removed) this.workspace.removeFolder(normalUri(uri))
        await this.addFolders(event.added.map((f) => normalUri(f.uri)))
      },
    )
  }

  /** Lets go of what is kept of an open document. */
  private async leave(file: string): Promise<void> {
    this.texts.close(file)
    this.told.delete(file)
    this.touched.delete(file)
    await this.workspace.close(file)
  }

  /** Keeps a text: it is read when something is asked, or when its findings are told. */
  private take(file: string, text: string): void {
    this.messages++
    if (!this.workspace.update(file, text)) return
    this.touch(file)
    this.tellSoon()
  }

  private touch(file: string): void {
    this.touched.delete(file)
    this.touched.add(file)
  }

  /** Tells what is not told yet, once the messages at hand are taken. */
  private tellSoon(): void {
    if (this.telling) return
    this.telling = true
    void this.tell()
  }

  /**
   * Findings are told in the pauses between messages: edits in a row are answered once, and what is asked right after one is answered first.
   * However many documents wait, others get their turn every few milliseconds; the document touched last is told of first.
   */
  private async tell(): Promise<void> {
    for (;;) {
      await this.pause()
      const until = performance.now() + SLICE
      const files = [...this.touched].reverse().filter((file) => !this.busy.has(file) && !this.isTold(file))
      // Whoever is through with reading calls again.
      if (files.length === 0 || this.busy.size >= MOST_READING) break
      for (const file of files) {
        void this.publish(file)
        if (performance.now() > until || this.busy.size >= MOST_READING) break
      }
    }
    this.telling = false
  }

  /** Resolves when a turn went by without a message, or when they have come on end for long enough. */
  private async pause(): Promise<void> {
    const until = performance.now() + PATIENCE
    await turn()
    for (let before = -1; this.messages !== before && performance.now() < until; ) {
      before = this.messages
      await turn()
    }
  }

  private isTold(file: string): boolean {
    const told = this.told.get(file)
    if (told === undefined || told.version !== this.texts.version(file)) return false
    return told.of === undefined || told.of === this.analysis.current(file)
  }

  /** Reads what a document's findings need and tells them; at once where all is at hand. */
  private async publish(file: string): Promise<void> {
    this.busy.add(file)
    const version = this.texts.version(file)
    try {
      const loading = this.load(file)
      if (loading) await loading
      this.watchAttached()
      if (!this.workspace.isOpen(file) || this.texts.version(file) !== version) return
      const of = this.analysis.context(file)
      const findings = of?.findings() ?? []
      const closed = findings.flatMap((f) => f.related?.map((r) => r.file) ?? []).filter((f) => !this.workspace.document(f))
      if (closed.length > 0) {
        // Places in closed documents have lines and columns only once these are read.
        await Promise.all(closed.map((f) => this.workspace.load(f)))
        if (this.texts.version(file) !== version) return
      }
      const diagnostics: Diagnostic[] = findings.map((f) => toDiagnostic(f, this.papers, this.able))
      const content = JSON.stringify(diagnostics)
      const told = this.told.get(file)
      this.told.set(file, { version, of, content })
      // Another document changed, and what is told of this one is the same.
      if (told && told.version === version && told.content === content) return
      void this.connection.sendDiagnostics({ uri: this.texts.uri(file), diagnostics, ...(version !== undefined && { version }) })
    } catch (error) {
      this.told.set(file, { version, of: undefined, content: undefined })
      this.host.log('error', `findings of ${file}: ${(error as Error).stack ?? error}`)
    } finally {
      this.busy.delete(file)
      this.tellSoon()
    }
  }

  /** Reads what a document needs; undefined when all of it is at hand. */
  private load(file: string): Promise<unknown> | undefined {
    const looking = this.workspace.ensureShopOf(file)
    return looking || this.workspace.fewRead() ? this.loadWithShop(file, looking) : this.workspace.prepare(file)
  }

  private async loadWithShop(file: string, looking: Promise<void> | undefined): Promise<void> {
    await looking
    const few = this.workspace.fewRead()
    // A slow disk must not keep everything back: after a while what is known is told, and again when the rest is.
    if (few) await Promise.race([few, new Promise((resolve) => setTimeout(resolve, 1500))])
    await this.workspace.prepare(file)
    if (looking) this.tellSoon()
  }

  /** One wrapper for every request about a document: loads what it needs, and answers null rather than failing. */
  private async reply<T>(
    uri: string,
    token: CancellationToken,
    work: (at: { file: string; positions: Positions }) => T | Promise<T>,
  ): Promise<T | null> {
    const file = this.unsaved.fileOf(uri)
    if (!kindOfFile(file)) return null
    this.messages++
    // What is asked about is what is looked at.
    if (this.touched.has(file)) this.touch(file)
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

  /** Places with their lines and columns, for which closed documents have to be read; what cannot be read is left out. */
  private async locations(found: readonly { file: string; span: Span }[]): Promise<Location[]> {
    const texts = await this.workspace.texts(found.map(({ file }) => file))
    return found.flatMap(({ file, span }) => {
      const text = texts.get(file)
      return text === undefined ? [] : [{ uri: this.texts.uri(file), range: toRange(this.texts.positions(file, text), span) }]
    })
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

/** The name of a file, as it stands in its URI, as a pattern: what a pattern would take for more than a letter stands for any one. */
function asPattern(name: string): string {
  try {
    return decodeURIComponent(name).replace(/[*?[\]{}!\\,]/g, '?')
  } catch {
    return name
  }
}

interface Told {
  readonly version: number | undefined
  /** What was told of; undefined where that failed: an error of ours is not to be met again and again, and the next text is another try. */
  readonly of: FeatureContext | undefined
  /** The diagnostics as they were sent. */
  readonly content: string | undefined
}

/** For how many milliseconds the findings wait while messages come on end: a burst of changes is told of once, and typing never waits so long. */
const PATIENCE = 100

/** Milliseconds for which findings are told before whatever came in meanwhile is taken. */
const SLICE = 6

/** For how many documents files are read at a time. */
const MOST_READING = 16

/** After the message at hand; a timer, all that a browser has, waits a millisecond longer. */
const soon: (work: () => void) => unknown = typeof setImmediate === 'function' ? setImmediate : (work) => setTimeout(work, 0)

const turn = (): Promise<void> => new Promise((resolve) => void soon(resolve))
