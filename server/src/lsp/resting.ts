// Open documents that nobody has touched or asked about for a while keep their text alone: what was published of them stays as it is.
import type { Session } from './session.ts'

/** After so many milliseconds without an edit or a question. */
const REST_AFTER = 60_000

export class Resting {
  /** When each was used last, the one used longest ago first. */
  private readonly used = new Map<string, number>()
  private waiting = false

  constructor(private readonly session: Session) {}

  use(file: string): void {
    this.used.delete(file)
    this.used.set(file, performance.now())
    this.wait(REST_AFTER)
  }

  forget(file: string): void {
    this.used.delete(file)
  }

  private wait(milliseconds: number): void {
    if (this.waiting) return
    this.waiting = true
    const timer: unknown = setTimeout(this.look, milliseconds)
    // Where it can: nobody is kept alive for it.
    ;(timer as { unref?: () => void }).unref?.()
  }

  private readonly look = (): void => {
    this.waiting = false
    const now = performance.now()
    for (const [file, at] of this.used) {
      const left = at + REST_AFTER - now
      if (left > 0) {
        this.wait(left)
        return
      }
      this.used.delete(file)
      this.session.analysis.rest(file)
    }
  }
}
