// What `rollbook review` compares: two revisions, a revision with what is staged or on disk, two folders, or two versions of one document.
import { dirname, relative, resolve, sep } from 'node:path'
import type { Host } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { NoHistory } from '../host/revisions.ts'
import { type Compared, type Side, sideOf } from '../review/review.ts'
import { sinceCommit } from '../review/since.ts'
import { kindOfFile } from '../schema/schema.ts'
import { documentAt, lookUp, shopAbove } from './bench.ts'
import { CannotRun, type CliHost } from './host.ts'
import { type Options, seeHelp } from './options.ts'

/** Throws `CannotRun` where it cannot be told what is meant, or where a version of it is not there. */
export async function sourcesOf(cli: CliHost, options: Options): Promise<Compared> {
  const { positionals } = options
  const staged = options.has('staged')
  if (positionals.length > 2)
    throw new CannotRun(`rollbook review compares two versions: A..B, or two folders or files.${seeHelp('review')}`)
  const paths = await Promise.all(positionals.map((argument) => cli.look(resolve(cli.cwd, argument)).catch(() => undefined)))
  const [first, second] = positionals
  if (first !== undefined && second !== undefined && paths.some((kind) => kind !== undefined)) {
    if (staged) throw new CannotRun(`--staged compares with a revision, not with a folder or a file.${seeHelp('review')}`)
    return ofPaths(cli, first, second)
  }
  try {
    return await ofRevisions(cli, positionals, staged)
  } catch (error) {
    throw error instanceof NoHistory ? new CannotRun(error.message) : error
  }
}

const folderUri = (path: string): string => `${fileUri(path).replace(/\/$/, '')}/`

/** Two folders as shops of their own, or two versions of one document in the shop of the second. */
async function ofPaths(cli: CliHost, first: string, second: string): Promise<Compared> {
  const [before, after] = await Promise.all([lookUp(cli, first), lookUp(cli, second)])
  const date = cli.host.today()
  if (before.kind !== after.kind)
    throw new CannotRun(
      `'${first}' is a ${before.kind} and '${second}' is a ${after.kind}: give two of one sort.${seeHelp('review')}`,
    )
  if (before.kind === 'folder')
    return {
      before: await onDisk(cli, first, cli.host, before.path),
      after: await onDisk(cli, second, cli.host, after.path),
      date,
    }
  const [old, now] = [documentAt(before.path, first), documentAt(after.path, second)]
  if (kindOfFile(old) !== kindOfFile(now))
    throw new CannotRun(`'${first}' and '${second}' are not documents of one kind.${seeHelp('review')}`)
  const folder = (await shopAbove(cli, dirname(after.path))) ?? dirname(after.path)
  const path = relative(folder, after.path).split(sep).join('/')
  return {
    before: await onDisk(cli, first, replaced(cli.host, now, old), folder),
    after: await onDisk(cli, second, cli.host, folder),
    changed: [path],
    only: new Set([path]),
    date,
  }
}

const onDisk = async (cli: CliHost, name: string, host: Host, folder: string): Promise<Side> =>
  sideOf(name, host, folderUri(folder), undefined, await cli.revisions.unmerged(fileUri(folder)))

/** The same files, but for one whose text is that of another. */
const replaced = (host: Host, file: string, by: string): Host => ({
  list: (folder, depth, unlisted) => host.list(folder, depth, unlisted),
  read: (at) => host.read(at === file ? by : at),
  readBytes: (at, most) => host.readBytes(at, most),
  today: () => host.today(),
  log: (level, message) => host.log(level, message),
})

async function ofRevisions(cli: CliHost, named: readonly string[], staged: boolean): Promise<Compared> {
  const folder = (await shopAbove(cli, cli.cwd)) ?? cli.cwd
  const history = await cli.revisions.of(fileUri(folder))
  const date = cli.host.today()
  const root = folderUri(folder)
  const { from, to, parting } = rangeOf(named)
  if (to !== undefined && staged) throw new CannotRun(`--staged compares with one revision, not with two.${seeHelp('review')}`)
  // What is staged goes on top of HEAD; a branch is compared with where it left the main one.
  const start = from ?? (staged ? 'HEAD' : await history.mainBranch())
  const left = parting || (from === undefined && !staged)
  const commit = left ? await history.parting(start, to) : await history.commit(start)
  const name = left ? `${start} (as it was when left)` : start
  let host = staged ? await history.staged(date) : cli.host
  let files: readonly string[]
  if (to === undefined) files = await history.changedSince(commit, staged ? 'staged' : 'disk')
  else {
    const other = await history.commit(to)
    ;[files, host] = await Promise.all([history.changedBetween(commit, other), history.hostAt(other, date)])
  }
  const unmerged = to === undefined && !staged ? await cli.revisions.unmerged(fileUri(folder)) : []
  const after = { host, name: to ?? (staged ? 'what is staged' : 'the work tree'), unmerged }
  return sinceCommit(history, { commit, name, root, after, files, date })
}

/** `A..B`, `A...B` (where B parted from A), `A B`, or A alone. An end that is left out is HEAD. */
function rangeOf(named: readonly string[]): { readonly from?: string; readonly to?: string; readonly parting: boolean } {
  const [first, second] = named
  if (first === undefined) return { parting: false }
  if (second !== undefined) return { from: first, to: second, parting: false }
  const found = /^(?<from>.*?)(?<dots>\.{2,3})(?<to>.*)$/s.exec(first)?.groups
  if (!found) return { from: first, parting: false }
  return { from: found.from || 'HEAD', to: found.to || 'HEAD', parting: found.dots === '...' }
}
