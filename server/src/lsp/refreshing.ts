// Asks the client to ask again, where another document has changed what it was answered: it asks by itself only when a text changes.
import type { Session } from './session.ts'

export class Refreshing {
  private known: string | undefined
  private waiting = false

  constructor(private readonly session: Session) {}

  /** Documents may be named, or name others, otherwise than before: who uses what is counted by that. */
  names(): void {
    const { able, workspace } = this.session
    const now = `${workspace.namesChanged} ${workspace.isScanning}`
    if (now === this.known) return
    const first = this.known === undefined
    this.known = now
    if (!first && able.refreshedLenses) this.ask('workspace/codeLens/refresh')
  }

  /** What is known of a profile is another: the counts above stocks and printers are, once all at hand are judged. */
  words(): void {
    if (this.waiting || !this.session.able.refreshedLenses) return
    this.waiting = true
    void this.session.publisher.pause().then(() => {
      this.waiting = false
      this.ask('workspace/codeLens/refresh')
    })
  }

  /** What is told of a document is another, though its text is the same: its names may lead elsewhere. */
  told(): void {
    if (this.session.able.refreshedTokens) this.ask('workspace/semanticTokens/refresh')
  }

  /** What a client was answered of an open document is another now, though its text is the same. */
  findings(): void {
    if (this.session.able.refreshedFindings) this.ask('workspace/diagnostic/refresh')
  }

  private ask(method: string): void {
    const { client, host } = this.session
    client.sendRequest(method).catch((error) => host.log('info', `${method}: ${(error as Error).message}`))
  }
}
