// An editor's session with one language server: a document opened, typed in keystroke by keystroke, asked about, all timed.
import { pathToFileURL } from 'node:url'
import { applied, type Key, type Keystroke } from './keys.ts'
import { LspClient, type Published } from './lsp-client.ts'
import { Probe, type ProbeOptions, percentile } from './probe.ts'

export interface Typing {
  /** Of the server's process, all threads, ms a keystroke. */
  readonly cpu: number
  /** Keystroke to the diagnostics of its version, ms; NaN for a server that tells none. */
  readonly p50: number
  readonly p95: number
}

export interface Answers {
  readonly p50: number
  readonly p95: number
}

export interface SessionOptions extends ProbeOptions {
  readonly configuration?: (section: string) => unknown
  /** It never tells diagnostics. */
  readonly silent?: boolean
}

export class Session {
  private version = 1

  private constructor(
    readonly client: LspClient,
    readonly uri: string,
    private text: string,
    private readonly silent: boolean,
  ) {}

  /** Starts a server on a folder and opens a document in it; settled when the diagnostics stand still. */
  static async start(script: string, options: SessionOptions, folder: string, file: string, text: string): Promise<Session> {
    const client = new LspClient(new Probe(script, { ...options, args: ['--stdio'] }), options.configuration)
    const root = pathToFileURL(folder).href
    await client.initialize(root)
    const uri = `${root}/${file}`
    const session = new Session(client, uri, text, options.silent === true)
    const first = options.silent ? pause(0) : client.published(uri)
    client.open(uri, text)
    await first
    await pause(600)
    return session
  }

  get probe(): Probe {
    return this.client.probe
  }

  /** Types one keystroke; resolves with the diagnostics of the new text. */
  type(stroke: Keystroke): Promise<Published> {
    const answer = this.client.published(this.uri, this.version + 1)
    this.send(stroke)
    return answer
  }

  /** Types so many keys and waits for the diagnostics of each. A server that tells none is given a moment instead. */
  async warmUp(keys: Iterator<Key, never>, count: number): Promise<void> {
    for (let i = 0; i < count; i++) {
      const { stroke } = keys.next().value
      if (this.silent) {
        this.send(stroke)
        await pause(MOMENT)
      } else await this.type(stroke)
    }
  }

  /**
   * Types `count` keys, one every `pace` milliseconds whatever the server does meanwhile, and tells what they took, up to the moment when the
   * next would come. A pace of 0 is back to back: the next key follows the diagnostics of the last.
   */
  async measureTyping(keys: Iterator<Key, never>, count: number, pace: number): Promise<Typing> {
    const sent = new Map<number, number>()
    const walls: number[] = []
    const stop = this.client.onPublished(({ uri, version }) => {
      // A server that tells no version tells of the newest.
      const at = uri === this.uri ? sent.get(version ?? this.version) : undefined
      if (at !== undefined) walls.push(performance.now() - at)
    })
    const before = await this.probe.cpu()
    const start = performance.now()
    for (let i = 0; i < count; i++) {
      const { stroke } = keys.next().value
      if (pace > 0) await pause(start + i * pace - performance.now())
      sent.set(this.version + 1, performance.now())
      if (pace === 0 && !this.silent) await this.type(stroke)
      else this.send(stroke)
      if (pace === 0 && this.silent) await pause(MOMENT)
    }
    await pause(pace)
    const cpu = ((await this.probe.cpu()) - before) / count
    stop()
    return { cpu, p50: percentile(walls, 0.5), p95: percentile(walls, 0.95) }
  }

  /**
   * A request sent on the heels of each keystroke: how long its answer takes. Throws where an answer is empty: it would say nothing. The next key
   * comes `pace` milliseconds after the last one's diagnostics.
   */
  async measureRequest(
    method: string,
    keys: Iterator<Key, never>,
    count: number,
    pace: number,
    at: number,
    extra: (position: Position) => object = () => ({}),
  ): Promise<Answers> {
    const walls: number[] = []
    for (let i = 0; i < count; i++) {
      const { stroke } = keys.next().value
      const diagnostics = this.client.published(this.uri, this.version + 1)
      // Worked out before: between the keystroke and the request there shall be nothing.
      const position = positionAt(applied(this.text, stroke), at)
      const params = { textDocument: { uri: this.uri }, position, ...extra(position) }
      this.send(stroke)
      const start = performance.now()
      const answer = await this.client.request(method, params)
      walls.push(performance.now() - start)
      if (answer === null || (Array.isArray(answer) && answer.length === 0)) throw new Error(`${method} answered nothing`)
      await diagnostics
      if (pace > 0) await pause(pace)
    }
    return { p50: percentile(walls, 0.5), p95: percentile(walls, 0.95) }
  }

  /** All these keys at once, as fast as they can be sent; resolves with the last one's diagnostics. */
  burst(keys: Iterator<Key, never>, count: number): Promise<Published> {
    const changes = Array.from({ length: count }, () => this.change(keys.next().value.stroke))
    const answer = this.client.published(this.uri, this.version)
    for (const change of changes) this.client.notify('textDocument/didChange', change)
    return answer
  }

  end(): Promise<void> {
    return this.probe.kill()
  }

  private send(stroke: Keystroke): void {
    this.client.notify('textDocument/didChange', this.change(stroke))
  }

  private change(stroke: Keystroke): object {
    const start = positionAt(this.text, stroke.at)
    const end = positionAt(this.text, stroke.at + stroke.remove)
    this.text = applied(this.text, stroke)
    return {
      textDocument: { uri: this.uri, version: ++this.version },
      contentChanges: [{ range: { start, end }, text: stroke.insert }],
    }
  }
}

/** Enough for a server that does nothing. */
const MOMENT = 2

export interface Position {
  readonly line: number
  readonly character: number
}

export function positionAt(text: string, offset: number): Position {
  const before = text.slice(0, offset)
  const line = before.split('\n').length - 1
  return { line, character: offset - (before.lastIndexOf('\n') + 1) }
}

export const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, Math.max(0, ms)))
