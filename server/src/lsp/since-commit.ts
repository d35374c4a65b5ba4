// Which documents are not as the last commit has them. Git is asked once a shop is first looked at, and again after a file changed on the disk or something was
// committed: never for a keystroke, and nobody waits for it.
import { NoHistory } from '../host/revisions.ts'
import type { Session } from './session.ts'

export class SinceCommit {
  /** By the folder of a shop. */
  private readonly known = new Map<string, ReadonlySet<string>>()

  constructor(private readonly session: Session) {}

  /** Whether a document, as it is saved, was another at the last commit, as far as git has told. Only for folders that a person trusts. */
  has(file: string): boolean {
    const root = this.session.workspace.shopFolder(file)
    const known = this.known.get(root)
    if (known === undefined) {
      this.known.set(root, new Set())
      if (this.known.size === 1) this.session.watching.commits()
      void this.ask(root)
    }
    return known?.has(file) ?? false
  }

  /** Something is another on the disk. */
  again(): void {
    for (const root of this.known.keys()) void this.ask(root)
  }

  private async ask(root: string): Promise<void> {
    const { host, refreshing, revisions } = this.session
    if (!revisions || !root.startsWith('file:')) return
    try {
      const history = await revisions.of(root)
      const changed = (await history.begun()) ? await history.changedSince(await history.commit('HEAD'), 'disk') : []
      const before = this.known.get(root)!
      this.known.set(root, new Set(changed))
      if (changed.length !== before.size || !changed.every((file) => before.has(file))) refreshing.words()
    } catch (error) {
      // Most shops outside git are none of ours to speak of.
      if (!(error instanceof NoHistory)) host.log('error', (error as Error).stack ?? String(error))
    }
  }
}
