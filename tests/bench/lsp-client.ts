// A language client of the smallest kind: frames JSON-RPC over a process's stdio, so that nothing but the server is measured.
import type { Probe } from './probe.ts'

export interface Published {
  readonly uri: string
  readonly version?: number
  readonly diagnostics: readonly { readonly message: string; readonly code?: unknown; readonly severity?: number }[]
}

type Message = { id?: number | string; method?: string; params?: unknown; result?: unknown; error?: { message: string } }

export class LspClient {
  private buffer: Buffer = Buffer.alloc(0)
  /** What came since, put to it as soon as the message may be whole: an answer of many megabytes comes in hundreds of chunks. */
  private chunks: Buffer[] = []
  private missing = 0
  private nextId = 1
  private readonly replies = new Map<number | string, { done: (result: unknown) => void; fail: (error: Error) => void }>()
  private readonly progress = new Set<(value: { readonly items: readonly unknown[] }) => void>()
  private readonly listeners = new Set<(published: Published) => void>()

  constructor(
    readonly probe: Probe,
    /** The answer to workspace/configuration, one per item asked for. */
    private readonly configuration: (section: string) => unknown = () => null,
  ) {
    probe.child.stdout!.on('data', (chunk: Buffer) => this.take(chunk))
    probe.child.on('exit', () => {
      for (const { fail } of this.replies.values()) fail(new Error(`the server ended: ${probe.stderr}`))
    })
  }

  async initialize(folder: string, textDocument: object = {}): Promise<void> {
    await this.request('initialize', {
      processId: process.pid,
      rootUri: folder,
      workspaceFolders: [{ uri: folder, name: 'shop' }],
      capabilities: { ...CAPABILITIES, textDocument: { ...CAPABILITIES.textDocument, ...textDocument } },
    })
    this.notify('initialized', {})
  }

  open(uri: string, text: string, languageId = 'yaml'): void {
    this.notify('textDocument/didOpen', { textDocument: { uri, languageId, version: 1, text } })
  }

  request(method: string, params: unknown): Promise<unknown> {
    const id = this.nextId++
    return new Promise((done, fail) => {
      this.replies.set(id, { done, fail })
      this.send({ id, method, params })
    })
  }

  notify(method: string, params: unknown): void {
    this.send({ method, params })
  }

  onPublished(listener: (published: Published) => void): () => void {
    this.listeners.add(listener)
    return () => this.listeners.delete(listener)
  }

  /** The next diagnostics of a file, of a given version where the server tells versions. */
  published(uri: string, version?: number, patience = 60_000): Promise<Published> {
    return new Promise((done, fail) => {
      const timer = setTimeout(() => fail(new Error(`no diagnostics of version ${version}: ${this.probe.stderr}`)), patience)
      const stop = this.onPublished((published) => {
        if (published.uri !== uri || (version !== undefined && published.version !== undefined && published.version !== version))
          return
        clearTimeout(timer)
        stop()
        done(published)
      })
    })
  }

  /** Parts of an answer, as they come. */
  onProgress(listener: (value: { readonly items: readonly unknown[] }) => void): () => void {
    this.progress.add(listener)
    return () => this.progress.delete(listener)
  }

  private send(message: object): void {
    const body = JSON.stringify({ jsonrpc: '2.0', ...message })
    this.probe.child.stdin!.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)
  }

  private take(chunk: Buffer): void {
    this.chunks.push(chunk)
    this.missing -= chunk.length
    if (this.missing > 0) return
    this.buffer = Buffer.concat([this.buffer, ...this.chunks])
    this.chunks = []
    for (;;) {
      const head = this.buffer.indexOf('\r\n\r\n')
      if (head < 0) return
      const length = Number(/Content-Length: (\d+)/i.exec(this.buffer.toString('latin1', 0, head))?.[1])
      this.missing = head + 4 + length - this.buffer.length
      if (this.missing > 0) return
      const body = this.buffer.toString('utf8', head + 4, head + 4 + length)
      this.buffer = this.buffer.subarray(head + 4 + length)
      this.handle(JSON.parse(body))
    }
  }

  private handle(message: Message): void {
    if (message.method === undefined) {
      const reply = this.replies.get(message.id!)
      this.replies.delete(message.id!)
      if (message.error) reply?.fail(new Error(message.error.message))
      else reply?.done(message.result)
      return
    }
    if (message.id !== undefined) {
      const items = (message.params as { items?: { section: string }[] } | undefined)?.items ?? []
      const result = message.method === 'workspace/configuration' ? items.map((i) => this.configuration(i.section)) : null
      this.send({ id: message.id, result })
    } else if (message.method === 'textDocument/publishDiagnostics') {
      for (const listener of [...this.listeners]) listener(message.params as Published)
    } else if (message.method === '$/progress') {
      const { value } = message.params as { value: { items: readonly unknown[] } }
      for (const listener of [...this.progress]) listener(value)
    }
  }
}

const CAPABILITIES = {
  general: { positionEncodings: ['utf-16'] },
  workspace: { configuration: true, workspaceFolders: true, workspaceEdit: { documentChanges: true } },
  textDocument: {
    synchronization: { dynamicRegistration: false },
    publishDiagnostics: { relatedInformation: true, versionSupport: true, codeDescriptionSupport: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'refactor'] } }, disabledSupport: true },
    inlayHint: {},
    codeLens: {},
    semanticTokens: { requests: { full: true, range: true }, tokenTypes: [], tokenModifiers: [], formats: ['relative'] },
  },
}
