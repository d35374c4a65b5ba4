// An editor's session with one language server: a document opened, typed in keystroke by keystroke, asked about, all timed.
import { pathToFileURL } from 'node:url'
import { LspClient, type Published } from './lsp-client.ts'
import { type Memory, Probe, type ProbeOptions, percentile } from './probe.ts'
import { applied, type Keystroke, type PlaceName } from './texts.ts'

export interface Typing {
  readonly lines: number
  readonly edits: number
  /** Keystroke to the diagnostics of its version, ms. */
  readonly p50: number
  readonly p95: number
  /** Of the server's process, all threads, ms a keystroke. */
  readonly cpu: number
  /** Wall medians by the place typed at, ms. */
  readonly byPlace: Readonly<Record<string, number>>
}

export interface Answers {
  readonly p50: number
  readonly p95: number
}

export class Session {
  private version = 1

  private constructor(
    readonly client: LspClient,
    readonly uri: string,
    private text: string,
  ) {}

  /** Starts a server on a folder and opens a document in it; settled when the diagnostics stand still. */
  static async start(
    script: string,
    options: ProbeOptions,
    folder: string,
    file: string,
    text: string,
    configuration?: (section: string) => unknown,
  ): Promise<Session> {
    const client = new LspClient(new Probe(script, { ...options, args: ['--stdio'] }), configuration)
    const root = pathToFileURL(folder).href
    await client.initialize(root)
    const uri = `${root}/${file}`
    const session = new Session(client, uri, text)
    const first = client.published(uri)
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

  /** Types, waits for each version's diagnostics, and tells what it took. */
  async measureTyping(
    strokes: readonly { place: PlaceName; stroke: Keystroke }[],
    warmUp: readonly { place: PlaceName; stroke: Keystroke }[],
  ): Promise<Typing> {
    for (const { stroke } of warmUp) await this.type(stroke)
    const walls: number[] = []
    const places = new Map<PlaceName, number[]>()
    const before = await this.probe.cpu()
    for (const { place, stroke } of strokes) {
      const start = performance.now()
      await this.type(stroke)
      const wall = performance.now() - start
      walls.push(wall)
      places.set(place, [...(places.get(place) ?? []), wall])
    }
    const cpu = ((await this.probe.cpu()) - before) / strokes.length
    return {
      lines: this.text.split('\n').length - 1,
      edits: strokes.length,
      p50: percentile(walls, 0.5),
      p95: percentile(walls, 0.95),
      cpu,
      byPlace: Object.fromEntries([...places].map(([place, values]) => [place, percentile(values, 0.5)])),
    }
  }

  /** A request sent on the heels of each keystroke: how long its answer takes. Throws where an answer is empty: it would say nothing. */
  async measureRequest(
    method: string,
    strokes: readonly { stroke: Keystroke }[],
    at: number,
    extra: (position: Position) => object = () => ({}),
  ): Promise<Answers> {
    const walls: number[] = []
    for (const { stroke } of strokes) {
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
    }
    return { p50: percentile(walls, 0.5), p95: percentile(walls, 0.95) }
  }

  async memory(): Promise<Memory> {
    return this.probe.memory()
  }

  async end(): Promise<void> {
    await this.probe.kill()
  }

  private send(stroke: Keystroke): void {
    const start = positionAt(this.text, stroke.at)
    const end = positionAt(this.text, stroke.at + stroke.remove)
    this.text = applied(this.text, stroke)
    this.client.notify('textDocument/didChange', {
      textDocument: { uri: this.uri, version: ++this.version },
      contentChanges: [{ range: { start, end }, text: stroke.insert }],
    })
  }
}

export interface Position {
  readonly line: number
  readonly character: number
}

export function positionAt(text: string, offset: number): Position {
  const before = text.slice(0, offset)
  const line = before.split('\n').length - 1
  return { line, character: offset - (before.lastIndexOf('\n') + 1) }
}

export const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))
