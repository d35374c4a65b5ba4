// When findings are told: in the pauses between messages, in slices, the document touched last first, and only what is new. A client that asks for them itself is
// told nothing but to ask again, where another document has changed what it was answered.
import type { FeatureContext } from '../features/context.ts'
import type { Session } from './session.ts'
import { type Told as Findings, readPlaces, toldOf } from './told.ts'

interface Told {
  readonly version: number | undefined
  /** What was told of; undefined where that failed: an error of ours is not to be met again and again, and the next text is another try. */
  readonly of: FeatureContext | undefined
  /** The mark of what was sent, or answered. */
  readonly mark: string | undefined
}

/** For how many milliseconds the findings wait while messages come on end: a burst of changes is told of once, and typing never waits so long. */
const PATIENCE = 100

/** Milliseconds for which findings are told before whatever came in meanwhile is taken. */
const SLICE = 6

/** For how many documents files are read at a time. */
const MAX_READING = 16

export class Publisher {
  /** The open documents, the one touched last at the end. */
  private readonly touched = new Set<string>()
  /** What was published last, by file. */
  private readonly told = new Map<string, Told>()
  /** Files that are being read for, or told of. */
  private readonly busy = new Set<string>()
  private telling = false
  /** Counts edits and questions, to find the pause between them. */
  private messages = 0

  constructor(private readonly session: Session) {}

  /** A message came in: what is told waits for the next pause. */
  wait(): void {
    this.messages++
  }

  /** Whether no message comes in for so many milliseconds: then there is time for what is costly and can wait. */
  async isCalm(milliseconds: number): Promise<boolean> {
    const before = this.messages
    await new Promise((resolve) => setTimeout(resolve, milliseconds))
    return before === this.messages
  }

  /** A document's text is another. */
  touch(file: string): void {
    this.touched.delete(file)
    this.touched.add(file)
  }

  /** What is asked about is what is looked at. */
  asked(file: string): void {
    if (this.touched.has(file)) this.touch(file)
  }

  /** A client has asked for a document's findings, and these are answered. */
  pulled(file: string, of: FeatureContext, { mark }: Findings): void {
    this.told.set(file, { version: this.session.texts.version(file), of, mark })
    this.session.workspace.answered()
  }

  forget(file: string): void {
    this.told.delete(file)
    this.touched.delete(file)
  }

  /** Tells what is not told yet, once the messages at hand are taken. */
  soon(): void {
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
      if (files.length === 0 || this.busy.size >= MAX_READING) break
      for (const file of files) {
        void this.publish(file)
        if (performance.now() > until || this.busy.size >= MAX_READING) break
      }
    }
    this.telling = false
    this.session.refreshing.names()
  }

  /** Resolves when a turn went by without a message, or when they have come on end for long enough. */
  async pause(): Promise<void> {
    const until = performance.now() + PATIENCE
    await turn()
    for (let before = -1; this.messages !== before && performance.now() < until; ) {
      before = this.messages
      await turn()
    }
  }

  private isTold(file: string): boolean {
    const told = this.told.get(file)
    // Of another text a client asks by itself.
    if (told === undefined || told.version !== this.session.texts.version(file)) return this.session.able.pullsFindings
    return told.of === undefined || told.of === this.session.analysis.current(file)
  }

  /** Reads what a document's findings need and tells them; at once where all is at hand. */
  private async publish(file: string): Promise<void> {
    const { session } = this
    const { analysis, texts, workspace } = session
    this.busy.add(file)
    const version = texts.version(file)
    try {
      const loading = session.load(file)
      if (loading) await loading
      session.watching.attached()
      if (!workspace.isOpen(file) || texts.version(file) !== version) return
      session.resting.use(file)
      const of = analysis.context(file)
      const findings = of?.findings() ?? []
      const reading = readPlaces(session, findings)
      if (reading) {
        await reading
        if (texts.version(file) !== version) return
      }
      const { items, mark } = toldOf(findings, session)
      const told = this.told.get(file)
      this.told.set(file, { version, of, mark })
      workspace.answered()
      // Another document changed, and what is told of this one is the same.
      if (told && told.version === version && told.mark === mark) return
      if (told && told.version === version) session.refreshing.told()
      if (session.able.pullsFindings) return session.refreshing.findings()
      session.tell('textDocument/publishDiagnostics', {
        uri: texts.uri(file),
        diagnostics: items,
        ...(version !== undefined && { version }),
      })
    } catch (error) {
      this.told.set(file, { version, of: undefined, mark: undefined })
      session.host.log('error', `findings of ${file}: ${(error as Error).stack ?? error}`)
    } finally {
      this.busy.delete(file)
      this.soon()
    }
  }
}

/** After the message at hand; a timer, all that a browser has, waits a millisecond longer. */
const soon: (work: () => void) => unknown = typeof setImmediate === 'function' ? setImmediate : (work) => setTimeout(work, 0)

export const turn = (): Promise<void> => new Promise((resolve) => void soon(resolve))
