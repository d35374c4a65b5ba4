// What stands at the foot of a sheet: the profile, and the commit that the documents that it rests on come from.
import { type History, NoHistory, type Revisions } from '../host/revisions.ts'
import type { Setup } from '../model/setup.ts'
import type { Workspace } from '../workspace/workspace.ts'

export const NOT_COMMITTED = 'not committed'
export const NO_GIT = 'not in git'

/** Marks as "banner-510-bay-1 · a1b2c3d", for profiles whose shops lie in folders. Git is asked once for all of a folder; undefined where there is none. */
export function sheetMarks(
  revisions: Pick<Revisions, 'of'> | undefined,
): (workspace: Workspace, setup: Setup, folder: string) => Promise<string> {
  const known = new Map<string, Promise<{ readonly history: History; readonly differing: ReadonlySet<string> } | undefined>>()
  const historyOf = async (folder: string) => {
    try {
      const history = await revisions?.of(folder)
      return history && { history, differing: new Set(await history.changedSince(await history.commit('HEAD'), 'disk')) }
    } catch (error) {
      if (error instanceof NoHistory) return undefined
      throw error
    }
  }
  return async (workspace, setup, folder) => {
    const files = restingOn(workspace, setup)
    if (!known.has(folder)) known.set(folder, historyOf(folder))
    const found = await known.get(folder)
    if (!found) return markText(setup, NO_GIT)
    const differs = files.some((file) => found.differing.has(file)) || (await isTyped(workspace, files))
    return markText(setup, (!differs && (await found.history.newest(files))) || NOT_COMMITTED)
  }
}

const markText = ({ own, file }: Setup, revision: string): string =>
  `${own.profile?.value ?? file.slice(file.lastIndexOf('/') + 1)} · ${revision}`

/** The documents of a profile and of what it names, and the files it names. */
function restingOn(workspace: Workspace, setup: Setup): readonly string[] {
  const document = workspace.document(setup.file)
  if (!document) return [setup.file]
  const shop = [...workspace.shelf(setup.file).all('shop')].map(({ file }) => file)
  return [...new Set([...workspace.partsOf(document).map(({ file }) => file), ...shop])]
}

/** Whether an editor has another text of one of them than the disk. */
async function isTyped(workspace: Workspace, files: readonly string[]): Promise<boolean> {
  for (const file of files)
    if (workspace.isOpen(file) && (await workspace.host.read(file).catch(() => undefined)) !== workspace.document(file)?.text)
      return true
  return false
}
