// A client at the other end of a real connection, in memory: what an editor sends and receives, awaited message by message, never by time.
import { PassThrough } from 'node:stream'
import {
  type ClientCapabilities,
  type Diagnostic,
  type InitializeParams,
  type InitializeResult,
  InsertTextMode,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver/node'
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node'
import type { Host } from '../../server/src/host/host.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { Revisions } from '../../server/src/host/revisions.ts'
import { serve } from '../../server/src/lsp/server.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'

/** What a full-grown editor declares, as far as it matters here. */
export const FULL: ClientCapabilities = {
  general: { positionEncodings: ['utf-16'] },
  workspace: {
    configuration: true,
    workspaceFolders: true,
    workspaceEdit: { documentChanges: true, snippetEditSupport: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
    inlayHint: { refreshSupport: true },
  },
  textDocument: {
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: {
      completionItem: {
        snippetSupport: true,
        documentationFormat: ['markdown'],
        insertTextModeSupport: { valueSet: [InsertTextMode.asIs] },
      },
    },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } }, disabledSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    publishDiagnostics: {
      relatedInformation: true,
      codeDescriptionSupport: true,
      versionSupport: true,
      tagSupport: { valueSet: [1] },
    },
  },
}

export interface Start {
  readonly capabilities?: ClientCapabilities
  /** Undefined: none are sent at all. */
  readonly folders?: readonly string[] | undefined
  readonly host?: MemoryHost
  /** What the server works on instead of files in memory; `host` of the client is then empty. */
  readonly disk?: { readonly host: Host; readonly revisions: Pick<Revisions, 'of' | 'whole' | 'unmerged'> }
  readonly settings?: unknown
  readonly initializationOptions?: unknown
}

export class Client {
  readonly published: PublishDiagnosticsParams[] = []
  /** The methods of the requests that the server sent. */
  readonly asked: string[] = []
  settings: unknown
  /** All that the server has written. */
  heard = ''
  /** Is told of all that the server has written, each time it writes. */
  onHeard: (heard: string) => void = () => undefined
  private stopped = false
  private readonly waiting: (() => void)[] = []

  private constructor(
    readonly connection: MessageConnection,
    readonly host: MemoryHost,
    private readonly up: PassThrough,
    private readonly close: () => void,
  ) {}

  /** Starts a server over the files of a fixture and a client that has said hello. */
  static async start(fixture: string, start: Start = {}): Promise<{ client: Client; answer: InitializeResult }> {
    const host = start.host ?? new MemoryHost(parseFixture(fixture).files)
    const [up, down] = [new PassThrough(), new PassThrough()]
    const ends = createMessageConnection(new StreamMessageReader(up), new StreamMessageWriter(down))
    serve(ends, start.disk?.host ?? host, '1.2.3', {}, start.disk?.revisions)
    const connection = createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
    const client = new Client(connection, host, up, () => connection.dispose())
    client.settings = start.settings ?? null
    down.on('data', (chunk: Buffer) => {
      client.heard += chunk
      client.onHeard(client.heard)
    })
    client.listen()
    const folders = 'folders' in start ? start.folders : [ROOT]
    const params: InitializeParams = {
      processId: null,
      rootUri: null,
      capabilities: start.capabilities ?? FULL,
      ...(folders && { workspaceFolders: folders.map((uri) => ({ uri, name: uri })) }),
      ...(start.initializationOptions !== undefined && { initializationOptions: start.initializationOptions }),
    }
    const answer = await connection.sendRequest<InitializeResult>('initialize', params)
    await connection.sendNotification('initialized', {})
    return { client, answer }
  }

  private listen(): void {
    const { connection } = this
    connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      this.published.push(params)
      for (const wake of this.waiting.splice(0)) wake()
    })
    connection.onRequest((method) => {
      this.asked.push(method)
      for (const wake of this.waiting.splice(0)) wake()
      return method === 'workspace/configuration' ? [this.settings] : null
    })
    connection.onNotification(() => undefined)
    connection.listen()
  }

  open(name: string, text: string, version = 1): Promise<void> {
    return this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri: ROOT + name, languageId: 'rollbook', version, text },
    })
  }

  change(name: string, version: number, ...contentChanges: readonly object[]): Promise<void> {
    return this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: ROOT + name, version },
      contentChanges,
    })
  }

  /** Sends messages in one piece, as they come in where somebody is quicker than the server. */
  together(...messages: readonly { method: string; params: object; id?: string }[]): void {
    const bodies = messages.map((message) => Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message })))
    this.up.write(Buffer.concat(bodies.flatMap((body) => [Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body])))
  }

  request<T = unknown>(method: string, params: object): Promise<T> {
    return this.connection.sendRequest<T>(method, params)
  }

  /** The newest diagnostics of a file that satisfy a condition; waits for them as long as the test may run. */
  async diagnostics(
    name: string,
    wanted: (params: PublishDiagnosticsParams) => boolean = () => true,
  ): Promise<readonly Diagnostic[]> {
    for (;;) {
      const found = this.published.findLast((p) => p.uri === ROOT + name)
      if (found && wanted(found)) return found.diagnostics
      await new Promise<void>((wake) => this.waiting.push(wake))
    }
  }

  /** Resolves when the server has sent a request, now or before. */
  async askedFor(method: string): Promise<void> {
    while (!this.asked.includes(method)) await new Promise<void>((wake) => this.waiting.push(wake))
  }

  /** Says goodbye; once is enough. */
  async stop(): Promise<void> {
    if (this.stopped) return
    this.stopped = true
    await this.request('shutdown', {})
    this.close()
  }
}

export const has =
  (code: string) =>
  ({ diagnostics }: PublishDiagnosticsParams): boolean =>
    diagnostics.some((d) => d.code === code)

/** What the server says, in short: `code at line:character`. */
export const shown = (diagnostics: readonly Diagnostic[]): readonly string[] =>
  diagnostics.map((d) => `${d.code} ${d.range.start.line}:${d.range.start.character}`)
