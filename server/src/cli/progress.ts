// How far long work has come, for a person at a terminal: one line on standard error that comes after two seconds, is written over, and is gone in the end.
import type { CliHost } from './host.ts'

/** Milliseconds before anything is told, and between two lines. */
const PATIENCE = 2000
const PAUSE = 200

export class Progress {
  private next = performance.now() + PATIENCE
  private shown = false

  constructor(
    private readonly cli: Pick<CliHost, 'err' | 'isWatched'>,
    private readonly total: number,
  ) {}

  tell(done: number): void {
    if (!this.cli.isWatched || done === this.total || performance.now() < this.next) return
    this.next = performance.now() + PAUSE
    this.shown = true
    this.cli.err(`\r\u001b[K${done} of ${this.total} documents checked`)
  }

  /** Takes the line away, before anything else is written. */
  clear(): void {
    if (this.shown) this.cli.err('\r\u001b[K')
    this.shown = false
  }
}
