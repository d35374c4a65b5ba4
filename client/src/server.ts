// The language server's life: started on demand, restarted after a crash up to a bound, its state told to whoever listens.
import * as vscode from 'vscode'
import {
  CloseAction,
  type CloseHandlerResult,
  ErrorAction,
  type ErrorHandlerResult,
  LanguageClient,
  RevealOutputChannelOn,
  State,
  TransportKind,
} from 'vscode-languageclient/node'

export const LANGUAGE = 'rollbook'

export type ServerState = 'idle' | 'starting' | 'running' | 'restarting' | 'failed'

/** Restarts allowed within the window; a server that crashes more often than that would only crash again. */
const RESTARTS = 4
const WINDOW_MS = 3 * 60_000
/** Damaged messages in a row that are put up with before the connection counts as lost. */
const DAMAGED_MESSAGES = 3

/** Writes its troubles into the log only: what a person must know of them, `Server` says in their words. */
class QuietClient extends LanguageClient {
  override error(message: string, data?: unknown): void {
    super.error(message, data, false)
  }
}

export class Server implements vscode.Disposable {
  state: ServerState = 'idle'
  private client: LanguageClient | undefined
  private crashes: number[] = []
  private readonly changed = new vscode.EventEmitter<ServerState>()
  readonly onDidChangeState = this.changed.event

  constructor(
    private readonly module: string,
    private readonly log: vscode.LogOutputChannel,
  ) {}

  /** The server's name and version as it told them, once it runs. */
  get version(): string | undefined {
    return this.client?.initializeResult?.serverInfo?.version
  }

  /** Starts the server, or waits until it runs; returns too when it is stopped meanwhile or ends too often. */
  async start(): Promise<void> {
    if (this.client === undefined) this.become(this.state === 'restarting' ? 'restarting' : 'starting')
    do {
      this.client ??= this.createClient()
      const client = this.client
      try {
        await client.start()
        return
      } catch (error) {
        this.log.error(error instanceof Error ? error : String(error))
        this.afterCrash(client)
      }
    } while (this.state === 'starting' || this.state === 'restarting')
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
    await this.start()
    if (this.client === undefined || this.state !== 'running') throw new Error('the Rollbook language server does not run')
    return this.client.sendRequest<T>(method, params)
  }

  showLog(): void {
    this.log.show(true)
  }

  dispose(): void {
    this.changed.dispose()
  }

  private createClient(): LanguageClient {
    const run = { module: this.module, transport: TransportKind.ipc }
    const client: QuietClient = new QuietClient(
      LANGUAGE,
      'Rollbook',
      { run, debug: { ...run, options: { execArgv: ['--nolazy', '--inspect=6017'] } } },
      {
        // The left side of a comparison and other documents without a home are not judged.
        documentSelector: ['file', 'untitled', 'vscode-vfs'].map((scheme) => ({ language: LANGUAGE, scheme })),
        synchronize: { configurationSection: LANGUAGE },
        diagnosticCollectionName: LANGUAGE,
        outputChannel: this.log,
        revealOutputChannelOn: RevealOutputChannelOn.Never,
        // Texts of a document reach the hover: they may name no command and bring no HTML.
        markdown: { isTrusted: false, supportHtml: false },
        initializationFailedHandler: () => false,
        errorHandler: {
          error: (error, _message, count) => this.afterDamage(error, count),
          closed: () => this.afterCrash(client),
        },
      },
    )
    client.onDidChangeState(({ newState }) => {
      if (client !== this.client) return
      if (newState === State.Running) this.become('running')
    })
    return client
  }

  private afterDamage(error: Error, count: number | undefined): ErrorHandlerResult {
    this.log.error(error)
    return { action: (count ?? 0) <= DAMAGED_MESSAGES ? ErrorAction.Continue : ErrorAction.Shutdown, handled: true }
  }

  /** A client that lost its server is not used again: a server that ends while it starts would leave it between two states. */
  private afterCrash(client: LanguageClient): CloseHandlerResult {
    const message = 'The language server ended unexpectedly.'
    if (client === this.client) {
      this.client = undefined
      void end(client)
      const now = Date.now()
      this.crashes = [...this.crashes.filter((at) => now - at < WINDOW_MS), now]
      if (this.crashes.length > RESTARTS) {
        this.giveUp(`The Rollbook language server ended ${this.crashes.length} times within three minutes and stays off.`)
      } else {
        this.become('restarting')
        void this.start()
      }
    }
    return { action: CloseAction.DoNotRestart, handled: true, message }
  }

  private giveUp(message: string): void {
    this.become('failed')
    void vscode.window.showErrorMessage(message, 'Show Log', 'Restart').then((choice) => {
      if (choice === 'Show Log') this.showLog()
      if (choice === 'Restart') void this.restart()
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
