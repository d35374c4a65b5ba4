// Documents as they were, such as the left side of a comparison: to be read and not worked on. Each is judged in its shop in place of what the file is
// now, and nothing of it is known to the shop itself.
import { normalUri } from '../base/uri.ts'
import { withTexts } from '../review/open-texts.ts'
import { sideOf } from '../review/review.ts'
import { kindOfFile } from '../schema/schema.ts'
import type { Asked } from './feature.ts'
import type { Session } from './session.ts'

/** Of git's own documents, and of those that the review shows: `git:/shop/a.media.yaml?…`. */
const EARLIER = /^(?:git|rollbook-at):(?:\/\/[^/?#]*)?(\/[^?#]*)\?/

/** The file that an address shows an earlier text of; undefined for any other address, and for what is no document of ours. */
export function fileBehind(uri: string): string | undefined {
  const path = EARLIER.exec(uri)?.[1]
  const file = path === undefined ? undefined : normalUri(`file://${path}`)
  return file !== undefined && kindOfFile(file) ? file : undefined
}

/** Where a question about an earlier text is asked. Kept as long as the text is the same: the shop around it is the one that it was first seen in. */
export class EarlierTexts {
  private readonly kept = new Map<string, { readonly text: string; readonly at: Promise<Asked> }>()

  constructor(private readonly session: Session) {}

  /** By the one name that such an address has here. */
  forget(name: string): void {
    this.kept.delete(name)
  }

  /** Undefined where the text is not open, or the address is none of an earlier one. */
  async at(uri: string): Promise<Asked | undefined> {
    const file = fileBehind(uri)
    const name = normalUri(uri)
    const text = file && this.session.texts.all().find((one) => one.file === name)?.text
    if (file === undefined || text === undefined) return undefined
    const before = this.kept.get(name)
    if (before?.text === text) return before.at
    const at = this.make(uri, file, text)
    this.kept.set(name, { text, at })
    return at
  }

  private async make(uri: string, file: string, text: string): Promise<Asked> {
    const { session } = this
    await session.load(file)
    await session.workspace.settled()
    const root = session.workspace.shopFolder(file)
    const open = session.texts.all().map((one) => [one.file, one.text] as const)
    const now = { name: '', root, analysis: session.analysis, failures: [] }
    const host = withTexts(session.host, new Map([...open, [file, text]]))
    const { analysis } = await sideOf('', host, root, { side: now, differing: new Set([file]) })
    const { workspace } = analysis
    await workspace.load(file)
    await workspace.prepare(file)
    const papers: Session['papers'] = {
      positions: (at) => session.texts.positions(at, workspace.document(at)?.text ?? ''),
      version: () => undefined,
      uri: (at) => (at === file ? uri : session.texts.uri(at)),
    }
    return {
      file,
      positions: papers.positions(file),
      session: Object.assign(Object.create(session), { analysis, workspace, papers }),
    }
  }
}
