// Pages for panels beside the text, and the questions of a sheet that was written on by hand: requests of our own behind the client's commands.
import { editBetween } from '../base/text-edit.ts'
import { sheetMarks } from '../review/sheet-mark.ts'
import { entering } from '../workspace/entering.ts'
import { type PageWish, sheetPage, shopPage } from '../workspace/pages.ts'
import { aboutDocument, type Feature, request } from './feature.ts'
import type { Session } from './session.ts'
import { toEdit } from './to-proto.ts'

interface PageParams {
  /** The profile of a sheet; else any document of the shop, or a place where one would be. */
  readonly uri: string
  readonly kind: string
  /** The printer or the stock. */
  readonly of?: string | null
  /** Git runs only where a person trusts the folder. */
  readonly trusted?: boolean | null
}

export const pages: Feature = {
  capability: {},
  requests: {
    // A title and HTML without a script; `choices` where it is not said of what; null for a sheet of what is no profile.
    'rollbook/page': request<PageParams>({ uri: 'text', kind: 'text', of: 'text?', trusted: 'flag?' }, pageOf),
    // `answers` are those given so far, in their order: the next question, or the edits with what they add, in words.
    'rollbook/enterSheet': aboutDocument<{ textDocument: { uri: string }; answers: readonly string[] }, object | null>(
      { answers: 'texts' },
      ({ answers }, { file, positions, session }) => {
        const step = entering(session.workspace, file, answers)
        if (!step || 'question' in step) return step ?? null
        const { before, text, told } = step
        return { edits: told.length === 0 ? [] : [toEdit(editBetween(before, text), positions)], told }
      },
    ),
  },
}

async function pageOf({ uri, kind, of, trusted }: PageParams, session: Session): Promise<object | null> {
  const { analysis, workspace } = session
  const at = session.unsaved.fileOf(uri)
  await session.load(at)
  if (kind === 'sheet') {
    await workspace.settled()
    await workspace.prepare(at)
    const setup = analysis.context(at)?.setup
    if (!setup) return null
    for (const { file } of setup.bases) await workspace.prepare(file)
    const mark = await sheetMarks(trusted ? session.revisions : undefined)(workspace, setup, workspace.shopFolder(at))
    return sheetPage(analysis, at, mark) ?? null
  }
  return KINDS.has(kind) ? shopPage(analysis, at, { kind: kind as PageWish['kind'], of: of ?? undefined }) : null
}

const KINDS: ReadonlySet<string> = new Set<PageWish['kind']>(['shop', 'to-key', 'differences'])
