// A profile as its documents said at the end of a day, by what git has of them.
import { lastPart } from '../base/uri.ts'
import { type Commit, type Line, NoHistory } from '../host/revisions.ts'
import type { Setup } from '../model/setup.ts'
import { Workspace } from '../workspace/workspace.ts'

/** `root` is the folder of its shop, ending in '/'. Rejects with `NoHistory` where the day, the profile or all that it rests on is not kept. */
export async function setupOn(line: Line, root: string, file: string, day: string): Promise<Setup> {
  const commit = await line.on(day)
  const host = await line.hostAt(commit.id, day)
  const then = await nameThen(line, { commit, files: new Set(await host.list('')), day }, file, lastPart(file))
  const workspace = new Workspace(host)
  await workspace.addFolder(root)
  await workspace.ensureShopOf(then)
  const document = await workspace.load(then)
  await workspace.prepare(then)
  const setup = document && workspace.setup(document)
  if (!setup || document.tree.problems.length > 0 || setup.baseProblem || setup.unsettled.length > 0)
    throw new NoHistory(`What ${lastPart(then)} said on ${day}, in commit ${commit.short}, cannot be read whole.`)
  return setup
}

interface Kept {
  readonly commit: Commit
  /** The documents that were there. */
  readonly files: ReadonlySet<string>
  readonly day: string
}

/** What a file of now was called at a moment: back through git, renaming by renaming. Rejects with `NoHistory` where it was not there; `shown` is for a person. */
export async function nameThen(line: Line, { commit, files, day }: Kept, now: string, shown: string): Promise<string> {
  let file = now
  let at: string | undefined = 'HEAD'
  while (!files.has(file)) {
    const brought: Commit | undefined = at === undefined ? undefined : await line.bringing(at, file)
    const before = brought && (await line.nameBefore(brought, file))
    if (before === undefined)
      throw new NoHistory(
        `'${shown}' was not there on ${day}, in commit ${commit.short}: ${brought ? `it came with ${brought.short} of ${brought.day}` : 'it is not kept in git'}.`,
      )
    file = before
    at = brought?.parent
  }
  return file
}
