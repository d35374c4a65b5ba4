// One client and what it has open: the facade behind it, its texts and abilities, and the wrapper for every request about a document.
import { type CancellationToken, type MessageConnection, ResponseError } from 'vscode-jsonrpc'
import type { InitializeParams, Location } from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import { normalUri } from '../base/uri.ts'
import type { Host } from '../host/host.ts'
import type { Revisions } from '../host/revisions.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { Workspace } from '../workspace/workspace.ts'
import { abilitiesOf, encodingOf } from './abilities.ts'
import { ClientFiles, type OwnHost } from './client-files.ts'
import { OpenTexts, type Positions } from './documents.ts'
import { EarlierTexts } from './earlier.ts'
import type { Asked } from './feature.ts'
import { Watching } from './folders.ts'
import { LSPErrorCodes } from './protocol.ts'
import { Publisher } from './publisher.ts'
import { Refreshing } from './refreshing.ts'
import { Resting } from './resting.ts'
import { settingsOf } from './settings.ts'
import { ShopFindings } from './shop-findings.ts'
import { SinceCommit } from './since-commit.ts'
import { type Papers, toRange } from './to-proto.ts'
import { UnsavedDocuments } from './unsaved.ts'

/** For how many milliseconds a request waits for the folders: a slow disk must not keep everything back. */
const FOLDERS_PATIENCE = 1500

export class Session {
  readonly texts = new OpenTexts()
  readonly host: Host
  readonly workspace: Workspace
  readonly analysis: Analysis
  readonly unsaved = new UnsavedDocuments(() => this.folders[0])
  readonly publisher = new Publisher(this)
  readonly shopFindings = new ShopFindings(this)
  readonly resting = new Resting(this)
  readonly watching = new Watching(this)
  readonly refreshing = new Refreshing(this)
  readonly earlier = new EarlierTexts(this)
  readonly sinceCommit = new SinceCommit(this)
  able = abilitiesOf({ capabilities: {} } as InitializeParams)
  settings = settingsOf(undefined)
  /** As they were when the client said hello. */
  folders: readonly string[] = []

  constructor(
    readonly client: MessageConnection,
    host: OwnHost,
    /** Undefined where there is no git, as in a browser. */
    readonly revisions?: Pick<Revisions, 'of' | 'whole' | 'unmerged'>,
  ) {
    this.host = new ClientFiles(client, host, () => this.able.readsFiles)
    this.workspace = new Workspace(this.host)
    this.analysis = new Analysis(this.workspace)
  }

  /** What the client tells of itself. */
  greet(params: InitializeParams): void {
    this.able = abilitiesOf(params)
    this.texts.encoding = encodingOf(params)
    this.settings = settingsOf(params.initializationOptions)
    if (this.able.showsShop) this.shopFindings.keepCells()
    const folders = params.workspaceFolders?.map((f) => f.uri) ?? (params.rootUri ? [params.rootUri] : [])
    this.folders = folders.map(normalUri)
  }

  /** Nobody waits for it; where it cannot be sent, whoever runs the server hears so from the connection. */
  tell(method: string, params: object): void {
    this.client.sendNotification(method, params).catch(() => undefined)
  }

  async addFolders(folders: readonly string[]): Promise<void> {
    await Promise.all(folders.map((folder) => this.workspace.addFolder(folder)))
    this.publisher.soon()
  }

  /** Keeps a text: it is read when something is asked, or when its findings are told. */
  take(file: string, text: string): void {
    this.publisher.wait()
    if (!this.workspace.update(file, text)) return
    this.publisher.touch(file)
    this.publisher.soon()
  }

  /** Lets go of what is kept of an open document. */
  async leave(file: string): Promise<void> {
    this.texts.close(file)
    this.earlier.forget(file)
    this.publisher.forget(file)
    this.resting.forget(file)
    await this.workspace.close(file)
    this.shopFindings.forget(file)
  }

  readonly papers: Papers = {
    positions: (file): Positions => this.texts.positions(file, this.workspace.document(file)?.text ?? ''),
    version: (file) => this.texts.version(file),
    uri: (file) => this.texts.uri(file),
  }

  /** Reads what a document needs; undefined when all of it is at hand. */
  load(file: string): Promise<unknown> | undefined {
    const looking = this.workspace.ensureShopOf(file)
    return looking || this.workspace.fewRead() ? this.loadWithShop(file, looking) : this.workspace.prepare(file)
  }

  private async loadWithShop(file: string, looking: Promise<void> | undefined): Promise<void> {
    await looking
    const few = this.workspace.fewRead()
    // After a while what is known is told, and again when the rest is.
    if (few) await Promise.race([few, new Promise((resolve) => setTimeout(resolve, FOLDERS_PATIENCE))])
    await this.workspace.prepare(file)
    if (looking) this.publisher.soon()
  }

  /** One wrapper for every request about a document: loads what it needs, and answers null rather than failing. */
  async reply<T>(
    uri: string,
    token: CancellationToken,
    work: (at: { file: string; positions: Positions }) => T | Promise<T>,
  ): Promise<T | null> {
    const file = this.unsaved.fileOf(uri)
    if (!kindOfFile(file)) return null
    this.publisher.wait()
    this.publisher.asked(file)
    this.resting.use(file)
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

  /** The same for what is only read, of an earlier text too. */
  async read<T>(uri: string, token: CancellationToken, work: (at: Asked) => T | Promise<T>): Promise<T | null> {
    try {
      const earlier = await this.earlier.at(uri)
      if (earlier) return await work(earlier)
    } catch (error) {
      this.host.log('error', (error as Error).stack ?? String(error))
      return null
    }
    return this.reply(uri, token, (at) => work({ ...at, session: this }))
  }

  /** Places with their lines and columns, for which closed documents have to be read; what cannot be read is left out. */
  async locations(found: readonly { file: string; span: Span }[]): Promise<Location[]> {
    const texts = await this.workspace.texts(found.map(({ file }) => file))
    return found.flatMap(({ file, span }) => {
      const text = texts.get(file)
      return text === undefined ? [] : [{ uri: this.texts.uri(file), range: toRange(this.texts.positions(file, text), span) }]
    })
  }
}
