// The language server's life: started on demand, started again after a crash up to a bound, its state told to whoever listens.
import * as vscode from 'vscode'
import type { CodeAction, WorkspaceEdit } from 'vscode-languageclient'
import type { LanguageClient } from './language-client.ts'
import { provideMessages } from './transport.ts'

export type ServerState = 'idle' | 'starting' | 'running' | 'restarting' | 'failed'

/** Restarts allowed within the window; a server that ends more often than that would only end again. */
const RESTARTS = 4
const WINDOW_MS = 3 * 60_000

export class Server implements vscode.Disposable {
  state: ServerState = 'idle'
  private client: LanguageClient | undefined
  private crashes: number[] = []
  private readonly heard = new vscode.EventEmitter<void>()
  /** What the shop's table tells is another. */
  readonly onDidChangeShop = this.heard.event
  private readonly changed = new vscode.EventEmitter<ServerState>()
  readonly onDidChangeState = this.changed.event

  constructor(
    /** The folder of the bundles. */
    private readonly dist: vscode.Uri,
    private readonly log: vscode.LogOutputChannel,
  ) {}

  /** The server's version as it told it, once it runs. */
  get version(): string | undefined {
    return this.client?.initializeResult?.serverInfo?.version
  }

  /** Starts the server, or waits until it runs; returns too when it is stopped meanwhile or ends too often. */
  async start(): Promise<void> {
    if (this.client === undefined && this.state !== 'restarting') this.become('starting')
    await provideMessages(this.dist)
    const { createClient } = await import('./language-client.ts')
    while (this.state !== 'idle' && this.state !== 'failed') {
      this.client ??= this.connect(createClient)
      const client = this.client
      try {
        await client.start()
        return
      } catch (error) {
        this.log.error(error instanceof Error ? error : String(error))
        this.afterCrash(client)
      }
    }
  }

  /** Sees to it that a server runs which is told of documents of this scheme: a client is told once of which it is to be. */
  async startFor(scheme: string): Promise<void> {
    if (this.state === 'idle') await this.start()
    else if (this.state === 'running' && this.client?.schemes.includes(scheme) === false) await this.restart()
  }

  /** Stops what runs and starts afresh; earlier crashes are forgotten, since a person asked for it. */
  async restart(): Promise<void> {
    await this.stop()
    this.crashes = []
    await this.start()
  }

  async stop(): Promise<void> {
    const client = this.client
    this.client = undefined
    this.become('idle')
    if (client !== undefined) await end(client)
  }

  /** Asks the server, starting it when it does not run. Rejects when it cannot run or refuses. */
  async ask<T>(method: string, params: object): Promise<T> {
    return (await this.running()).sendRequest<T>(method, params)
  }

  /**
   * What the server offers on a whole document, of one kind. Asked of the server alone: the editor's own command for it gives an empty
   * answer where any other extension's code actions come or go meanwhile.
   */
  async codeActions(document: vscode.TextDocument, kind: string): Promise<readonly CodeAction[]> {
    const range = { start: { line: 0, character: 0 }, end: { line: document.lineCount, character: 0 } }
    const context = { only: [kind], diagnostics: [] }
    return (
      (await this.ask<CodeAction[] | null>('textDocument/codeAction', {
        textDocument: { uri: document.uri.toString() },
        range,
        context,
      })) ?? []
    )
  }

  /** Does an edit that the server offered. True when it was done. */
  async apply(edit: WorkspaceEdit): Promise<boolean> {
    const client = await this.running()
    return vscode.workspace.applyEdit(await client.protocol2CodeConverter.asWorkspaceEdit(edit))
  }

  private async running(): Promise<LanguageClient> {
    await this.start()
    if (this.client === undefined || this.state !== 'running')
      throw new Error(vscode.l10n.t('the Rollbook language server does not run'))
    return this.client
  }

  showLog(): void {
    this.log.show(true)
  }

  dispose(): void {
    this.changed.dispose()
    this.heard.dispose()
  }

  private connect(createClient: typeof import('./language-client.ts').createClient): LanguageClient {
    const client = createClient(this.dist, this.log, {
      running: () => {
        if (client === this.client) this.become('running')
      },
      ended: () => this.afterCrash(client),
    })
    client.onNotification('rollbook/shopChanged', () => this.heard.fire())
    return client
  }

  /** A client that lost its server is not used again: a server that ends while it starts would leave it between two states. */
  private afterCrash(client: LanguageClient): void {
    if (client !== this.client) return
    this.client = undefined
    void end(client)
    const now = Date.now()
    this.crashes = [...this.crashes.filter((at) => now - at < WINDOW_MS), now]
    if (this.crashes.length > RESTARTS) {
      this.giveUp(
        vscode.l10n.t('The Rollbook language server ended {0} times within three minutes and stays off.', this.crashes.length),
      )
    } else {
      this.become('restarting')
      void this.start()
    }
  }

  private giveUp(message: string): void {
    this.become('failed')
    const [log, restart] = [vscode.l10n.t('Show Log'), vscode.l10n.t('Restart')]
    void vscode.window.showErrorMessage(message, log, restart).then((choice) => {
      if (choice === log) this.showLog()
      if (choice === restart) void this.restart()
    })
  }

  private become(state: ServerState): void {
    if (this.state === state) return
    this.state = state
    this.changed.fire(state)
  }
}

/** A server that never came up, or is gone already, has nothing to stop. */
async function end(client: LanguageClient): Promise<void> {
  await client.stop().catch(() => undefined)
  await client.dispose().catch(() => undefined)
}
