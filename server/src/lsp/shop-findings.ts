// The findings of every document of the shop, for clients that ask for them. Of a closed document only the mark of its findings is kept, and what they rest on:
// a change elsewhere makes those be judged again that rest on it, and no others. A question stays open, and what changes is told as it comes.
import { type CancellationToken, ResponseError } from 'vscode-jsonrpc'
import type {
  PreviousResultId,
  ProgressToken,
  WorkspaceDiagnosticReport,
  WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver'
import type { FeatureContext } from '../features/context.ts'
import type { Asker } from '../workspace/askers.ts'
import type { ShopCell } from '../workspace/shop-view.ts'
import { LSPErrorCodes } from './protocol.ts'
import { turn } from './publisher.ts'
import type { Session } from './session.ts'
import { NOTHING, readPlaces, type Told, toldNow, toldOf } from './told.ts'

/** Milliseconds for which documents are judged before whatever came in meanwhile is taken. */
const SLICE = 6

/** Milliseconds after which, and documents with which, what was found is sent. */
const SEND_AFTER = 40
const SEND_WITH = 50

/** What is kept of a document: the mark of its findings, and how one knows that they are the same still. */
interface Standing {
  readonly mark: string
  /** Of an open one what it was judged with, of a closed one who asked. */
  readonly by: FeatureContext | Asker
  readonly today: string
  /** Of a profile what the shop's table says of it, where the client shows that. */
  readonly cell: ShopCell | undefined
}

/** The mark that a client has of each file. */
type Sent = Map<string, string>

export class ShopFindings {
  private readonly standing = new Map<string, Standing>()
  private readonly open = new Set<Sent>()
  private readonly waiting = new Set<() => void>()
  /** Whether somebody looks at the shop's table, and has not been told yet that it is another. */
  private inView = false
  private keepsCells = false
  private seen = ''

  constructor(private readonly session: Session) {}

  /** The client shows the shop's table: cells are kept from the first judging on. */
  keepCells(): void {
    this.keepsCells = true
  }

  /**
   * Answers with what differs from what the client has; a document of which it has nothing, and of which there is nothing to be told, is left out. Where parts of an
   * answer can be sent, the question stays open until the client takes it back; else it is answered as soon as anything differs.
   */
  async answer(
    has: readonly PreviousResultId[],
    partial: ProgressToken | undefined,
    token: CancellationToken,
  ): Promise<WorkspaceDiagnosticReport> {
    const { session } = this
    const sent: Sent = new Map(has.map(({ uri, value }) => [session.unsaved.fileOf(uri), value]))
    const items: WorkspaceDocumentDiagnosticReport[] = []
    const send = (some: readonly WorkspaceDocumentDiagnosticReport[]): void => {
      if (partial === undefined) items.push(...some)
      else if (some.length > 0) session.tell('$/progress', { token: partial, value: { items: some } })
    }
    this.listen()
    this.open.add(sent)
    try {
      while (!token.isCancellationRequested) {
        // What changes while it is looked is looked at again.
        const changed = this.nextChange(token)
        await session.workspace.settled()
        await this.look(sent, send, token)
        if (items.length > 0) return { items }
        await changed
        await session.publisher.pause()
      }
    } finally {
      this.open.delete(sent)
    }
    throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled')
  }

  /** A document is closed: a client may have let go of what it had of it. */
  forget(file: string): void {
    this.standing.delete(file)
    for (const sent of this.open) if (sent.has(file)) sent.set(file, '')
    this.wake()
  }

  /** The cells of a shop's profiles, by file: those that are not known to stand still are judged. */
  async cells(at: string, token: CancellationToken): Promise<readonly ShopCell[]> {
    const { workspace } = this.session
    this.listen()
    this.keepsCells = true
    const cells: ShopCell[] = []
    const { names } = this
    const told: string[] = []
    let until = performance.now() + SLICE
    for (const { file } of [...workspace.shelf(at).all('media')]) {
      if (!this.isFresh(file) || !this.standing.get(file)?.cell) await this.judge(file, false)
      const cell = this.standing.get(file)?.cell
      if (cell) {
        cells.push(cell)
        told.push(file)
      }
      if (performance.now() < until) continue
      await turn()
      until = performance.now() + SLICE
      if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled')
    }
    this.inView = true
    this.seen = names
    // What came, went or changed while it was looked makes another table than the one that is answered.
    if (names !== this.names || told.some((file) => !this.isFresh(file))) this.tableChanged()
    return cells
  }

  private get names(): string {
    return `${this.session.workspace.namesChanged} ${this.session.host.today()}`
  }

  /** ", 2 doubtful": how many of some profiles are known to be off or doubtful; empty where nothing is known of one of them, since a count too low would be taken for one. */
  troubled(files: Iterable<string>): string {
    const counts = new Map<string, number>()
    for (const file of files) {
      const cell = this.isFresh(file) ? this.standing.get(file)?.cell : undefined
      if (!cell) return ''
      if (cell.retired === undefined) counts.set(cell.word, (counts.get(cell.word) ?? 0) + 1)
    }
    return ['off', 'doubtful'].flatMap((word) => (counts.has(word) ? [`, ${counts.get(word)} ${word}`] : [])).join('')
  }

  /** What the table tells is another: who looks at it asks again. */
  private tableChanged(): void {
    if (!this.inView) return
    this.inView = false
    this.session.tell('rollbook/shopChanged', {})
  }

  private listen(): void {
    this.session.workspace.askers.onChange = () => this.wake()
  }

  private wake(): void {
    // Documents that come, go or are called otherwise make another table; so does whatever changes, where no question is open by which it would be judged.
    if (this.open.size === 0 || this.seen !== this.names) this.tableChanged()
    for (const wake of this.waiting) wake()
    this.waiting.clear()
  }

  private nextChange(token: CancellationToken): Promise<void> {
    return new Promise((resolve) => {
      this.waiting.add(resolve)
      const listening = token.onCancellationRequested(() => {
        listening.dispose()
        resolve()
      })
    })
  }

  /** Looks at every document once, in slices. */
  private async look(
    sent: Sent,
    send: (items: readonly WorkspaceDocumentDiagnosticReport[]) => void,
    token: CancellationToken,
  ): Promise<void> {
    const { workspace, texts } = this.session
    const all = workspace.everything().filter(({ file }) => texts.uri(file) === file || !workspace.isOpen(file))
    const bases = new Set(all.flatMap(({ values }) => values.base?.text ?? []))
    let found: WorkspaceDocumentDiagnosticReport[] = []
    let [until, sendAt] = [performance.now() + SLICE, performance.now() + SEND_AFTER]
    const flush = (): void => {
      send(found)
      found = []
      sendAt = performance.now() + SEND_AFTER
    }
    for (const { file, kind, values } of all) {
      if (!this.stands(file, sent)) {
        const told = await this.judge(file, kind !== 'media' || bases.has(values.profile?.text ?? ''))
        if (token.isCancellationRequested) return
        const before = sent.get(file)
        if (told && told.mark !== (before ?? NOTHING.mark)) {
          found.push({
            uri: file,
            version: texts.version(file) ?? null,
            kind: 'full',
            resultId: told.mark,
            items: [...told.items],
          })
          sent.set(file, told.mark)
        }
      }
      if (found.length >= SEND_WITH || performance.now() > sendAt) flush()
      if (performance.now() < until) continue
      await turn()
      until = performance.now() + SLICE
      if (token.isCancellationRequested) return
    }
    const there = new Set(all.map(({ file }) => file))
    for (const file of sent.keys()) {
      if (there.has(file)) continue
      sent.delete(file)
      this.standing.delete(file)
      found.push({ uri: file, version: null, kind: 'full', items: [] })
    }
    flush()
  }

  /** Whether a document's findings are known to be what the client has. */
  private stands(file: string, sent: Sent): boolean {
    return this.isFresh(file) && this.standing.get(file)?.mark === (sent.get(file) ?? NOTHING.mark)
  }

  private isFresh(file: string): boolean {
    const standing = this.standing.get(file)
    const { workspace, analysis } = this.session
    if (!standing || standing.today !== workspace.host.today()) return false
    return workspace.isOpen(file) ? analysis.current(file) === standing.by : 'stale' in standing.by && !standing.by.stale
  }

  private keep(file: string, standing: Standing): void {
    const before = this.standing.get(file)
    this.standing.set(file, standing)
    if (equalCells(before?.cell, standing.cell)) return
    this.session.refreshing.words()
    if (before) this.tableChanged()
  }

  /** Judges a document, and keeps how it stands. A closed one is let go of, unless it is `shared`: others will want it, or somebody looks at it. */
  private async judge(file: string, shared: boolean): Promise<Told | undefined> {
    const { workspace, analysis, host } = this.session
    const today = host.today()
    const before = this.standing.get(file)
    if (before && 'stale' in before.by) workspace.askers.leave(before.by)
    try {
      if (workspace.isOpen(file)) {
        await this.session.load(file)
        const now = await toldNow(this.session, file)
        if (now)
          this.keep(file, { mark: now.told.mark, by: now.of, today, cell: this.keepsCells ? analysis.cell(file) : undefined })
        return now?.told
      }
      const document = await workspace.load(file)
      await workspace.prepare(file)
      // Opened, or changed, meanwhile: that has its own turn.
      if (workspace.document(file) !== document || workspace.isOpen(file)) return undefined
      const { findings, cell, by } = analysis.once(file, this.keepsCells)
      const reading = readPlaces(this.session, findings)
      if (reading) await reading
      if (by.stale || workspace.document(file) !== document) return undefined
      const told = toldOf(findings, this.session)
      this.keep(file, { mark: told.mark, by, today, cell })
      if (!shared && !workspace.askers.isAsked(`file ${file}`)) workspace.release(file)
      return told
    } catch (error) {
      host.log('error', `findings of ${file}: ${(error as Error).stack ?? error}`)
      this.keep(file, { mark: NOTHING.mark, by: workspace.askers.restingOn([`text ${file}`]), today, cell: undefined })
      return NOTHING
    }
  }
}

/** Plain values in one order of keys. */
const equalCells = (a: ShopCell | undefined, b: ShopCell | undefined): boolean => JSON.stringify(a) === JSON.stringify(b)
