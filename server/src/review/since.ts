// A commit and what has become of it since: two versions of one folder of which only what differs is read twice.
import type { Host } from '../host/host.ts'
import type { History } from '../host/revisions.ts'
import { type Compared, sideOf } from './review.ts'

export interface Since {
  readonly commit: string
  /** What a person calls it. */
  readonly name: string
  /** The folder, ending in '/'. */
  readonly root: string
  /** The later version: its files, what a person calls it, and the files whose merge git has not settled. */
  readonly after: { readonly host: Host; readonly name: string; readonly unmerged?: readonly string[] }
  /** Files that differ, or may. */
  readonly files: readonly string[]
  /** YYYY-MM-DD. */
  readonly date: string
}

/** Both versions for a review. Rejects with `NoHistory` where the commit cannot be read. */
export async function sinceCommit(history: History, { commit, name, root, after, files, date }: Since): Promise<Compared> {
  // Where a merge is not settled git may call a file that is one side alone the same.
  const differing = new Set([...files, ...(after.unmerged ?? [])].filter((file) => file.startsWith(root)))
  // git answers while the later version is read.
  const [then, side] = await Promise.all([
    history.hostAt(commit, date, differing),
    sideOf(after.name, after.host, root, undefined, after.unmerged),
  ])
  const before = await sideOf(name, asBefore(then, after.host, differing), root, { side, differing, stands: true })
  return { before, after: side, changed: [...differing].map((file) => decodeURIComponent(file.slice(root.length))), date }
}

/** The files of a commit, of which those that do not differ are read where they are at hand. */
const asBefore = (then: Host, now: Host, differing: ReadonlySet<string>): Host => ({
  list: (folder, depth, unlisted) => then.list(folder, depth, unlisted),
  read: (file) => (differing.has(file) ? then : now).read(file),
  readBytes: (file, most) => then.readBytes(file, most),
  today: () => then.today(),
  log: (level, message) => then.log(level, message),
})
