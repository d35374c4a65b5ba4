// Revisions by the git of this machine, called without a shell, a pager or anything that a repository's own settings may start.
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, posix, relative, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { kindOfFile } from '../schema/schema.ts'
import { CommitGraph } from './git-graph.ts'
import { clock, GitLine } from './git-line.ts'
import { CannotRead, type Host, tooLarge } from './host.ts'
import { fileUri } from './node.ts'
import {
  type History,
  type Line,
  type MergeCommit,
  type MergedFile,
  type Merges,
  NoHistory,
  type Repository,
  type Revisions,
} from './revisions.ts'

/** What git may print in one answer: a large shop's documents are some tens of megabytes. */
const MAX_BYTES = 1 << 30

export class GitRevisions implements Revisions {
  async of(folder: string): Promise<History> {
    const { path, shallow, prefix } = await workTree(folder)
    return new GitHistory(path, prefix, shallow)
  }

  async whole(folder: string, zone: string | undefined): Promise<Line> {
    const dayOf = clock(zone)
    const { top, shallow } = await workTree(folder)
    if (shallow) throw tooShallow(top)
    const names = {
      pathOf: (file: string) => relative(top, fileURLToPath(file)),
      fileOf: (name: string) => fileUri(resolve(top, name)),
    }
    return new GitLine(new GitHistory(top, '', shallow), (args) => told(top, args), top, names, dayOf)
  }

  async repository(folder: string): Promise<Repository> {
    await this.of(folder)
    const path = fileURLToPath(folder)
    const top = (await told(path, ['rev-parse', '--show-toplevel'])).replace(/\n$/, '')
    const config = resolve(path, (await told(path, ['rev-parse', '--git-path', 'config'])).replace(/\n$/, ''))
    return {
      top,
      config,
      configured: async () => (await git(path, ['config', '--get-regexp', '^(merge|diff)\\.rollbook\\.'])).code === 0,
      attributeOf: async (names) => {
        const words = (await told(top, ['check-attr', '-z', 'merge', 'diff', '--', ...names])).split('\0')
        for (let i = 0; i + 2 < words.length; i += 3) {
          const [name, attribute, value] = words.slice(i, i + 3)
          if (value !== 'unspecified' && value !== 'rollbook') return `${attribute} of ${name} is ${value}`
        }
        return undefined
      },
    }
  }

  async mergedByLine(texts: {
    readonly base: string
    readonly ours: string
    readonly theirs: string
  }): Promise<string | undefined> {
    const folder = await mkdtemp(join(tmpdir(), 'rollbook-'))
    try {
      const names = ['ours', 'base', 'theirs'] as const
      for (const name of names) await writeFile(join(folder, name), texts[name])
      const { code, text } = await git(folder, ['merge-file', '-p', ...names])
      return code === 0 ? text : undefined
    } catch {
      return undefined
    } finally {
      await rm(folder, { recursive: true, force: true })
    }
  }

  async unmerged(folder: string): Promise<readonly string[]> {
    const path = fileURLToPath(folder)
    const { code, text } = await git(path, ['ls-files', '--unmerged', '-z', '--', '.'])
    if (code !== 0) return []
    const names = text.split('\0').map((line) => line.slice(line.indexOf('\t') + 1))
    return [...new Set(names)].filter((name) => name !== '').map((name) => fileUri(resolve(path, name)))
  }
}

const FETCH = 'If it is a branch of another clone, fetch it first.'
const DEEPEN = "Fetch the whole history: 'git fetch --unshallow', or in CI a fetch depth of 0."

/** Names of what differs, whatever a repository's own settings say. */
const DIFFERING: readonly string[] = [
  'diff',
  '--name-only',
  '-z',
  '--no-renames',
  '--no-ext-diff',
  '--no-textconv',
  '--no-relative',
  '--ignore-submodules=all',
]

interface WorkTree {
  readonly path: string
  /** Its path from the top of the working tree, ending in '/'; empty at the top. */
  readonly prefix: string
  readonly top: string
  readonly shallow: boolean
}

/** A folder in a working tree. Rejects with `NoHistory` for any other. */
async function workTree(folder: string): Promise<WorkTree> {
  const path = fileURLToPath(folder)
  // One question, since to start git takes longer than its answers. The last one may hold any letter.
  const asked = ['--is-inside-work-tree', '--is-shallow-repository', '--show-cdup', '--show-prefix']
  const answer = await git(path, ['rev-parse', ...asked])
  const [inside, shallow, up = '', ...prefix] = answer.text.split('\n')
  if (answer.missing) throw new NoHistory('git is not installed, or not on the PATH, so that no revision can be looked at.')
  if (inside !== 'true')
    throw new NoHistory(
      /dubious ownership/.test(answer.error)
        ? `${path} is kept in git by somebody else, and git does not read it: 'git config --global --add safe.directory' allows it.`
        : `${path} is not in a working tree of git, so that there is no revision of it to look at.`,
    )
  return { path, prefix: prefix.join('\n').replace(/\n$/, ''), top: resolve(path, up), shallow: shallow === 'true' }
}

/** Of a clone that begins in the middle nothing is told. */
const tooShallow = (path: string): NoHistory =>
  new NoHistory(`The git clone at ${path} is shallow: what came before is not in it, and what changed cannot be known. ${DEEPEN}`)

class GitHistory implements History {
  constructor(
    private readonly folder: string,
    /** The folder's path from the top of the working tree, ending in '/'; empty at the top. */
    private readonly prefix: string,
    private readonly shallow: boolean,
  ) {
    this.root = `${fileUri(folder).replace(/\/$/, '')}/`
  }

  private readonly root: string

  async commit(revision: string): Promise<string> {
    const missing = `There is no revision '${revision}' in the git clone at ${this.folder}.`
    if (revision === '' || revision.startsWith('-')) throw new NoHistory(`${missing} ${FETCH}`)
    // Not '^{commit}': with an end in braces git takes any word for a day ('main@{9}x').
    const found = await git(this.folder, ['rev-parse', '--verify', '--quiet', `${revision}^0`])
    if (found.code === 0) return found.text.trim()
    if (revision === 'HEAD') return (await told(this.folder, ['hash-object', '-t', 'tree', '--stdin'])).trim()
    throw new NoHistory(`${missing} ${this.shallow ? `The clone is shallow. ${DEEPEN}` : FETCH}`)
  }

  async begun(): Promise<boolean> {
    return (await git(this.folder, ['rev-parse', '--verify', '--quiet', 'HEAD^{commit}'])).code === 0
  }

  async newest(files: readonly string[]): Promise<string | undefined> {
    const paths = files.map((file) => relative(this.folder, fileURLToPath(file)))
    const text = await told(this.folder, [
      'log',
      '-1',
      '--abbrev=7',
      '--format=%h',
      '--no-show-signature',
      'HEAD',
      '--',
      ...paths,
    ])
    return text.trim() || undefined
  }

  async mainBranch(): Promise<string> {
    const remote = await git(this.folder, ['symbolic-ref', '--quiet', '--short', 'refs/remotes/origin/HEAD'])
    const names = [...(remote.code === 0 ? [remote.text.trim()] : []), 'origin/main', 'main', 'origin/master', 'master']
    for (const name of names) {
      const found = await git(this.folder, [
        'rev-parse',
        '--verify',
        '--quiet',
        `refs/${name.startsWith('origin/') ? 'remotes' : 'heads'}/${name}^{commit}`,
      ])
      if (found.code === 0) return name
    }
    throw new NoHistory(
      `The git clone at ${this.folder} has no branch named main or master, here or at its origin: say which revision to compare with.`,
    )
  }

  async parting(revision: string, other = 'HEAD'): Promise<string> {
    if (this.shallow) throw tooShallow(this.folder)
    // Before the first commit there is nothing to part from.
    if (revision === 'HEAD' && other === 'HEAD') return this.commit(revision)
    const both = [revision, other]
    const names = both.some((name) => name === '' || name.startsWith('-')) ? undefined : both.map((name) => `${name}^0`)
    const base = names && (await git(this.folder, ['merge-base', ...names]))
    if (base?.code === 0) return base.text.trim()
    for (const name of both) await this.commit(name)
    throw new NoHistory(
      `'${revision}' and ${other === 'HEAD' ? 'what is checked out' : `'${other}'`} have no commit in common, so that what changed since cannot be known.`,
    )
  }

  async changedBetween(commit: string, other: string): Promise<readonly string[]> {
    return this.filesOf((await told(this.folder, [...DIFFERING, commit, other, '--', '.'])).split('\0'))
  }

  async changedSince(commit: string, among: 'disk' | 'staged'): Promise<readonly string[]> {
    const onDisk = among === 'disk'
    const changed = told(this.folder, [...DIFFERING, ...(onDisk ? [] : ['--cached']), commit, '--', '.'])
    // Also what git is told to ignore: it is checked, and nothing says that it is as it was.
    const others = onDisk ? told(this.folder, ['ls-files', '--others', '--full-name', '-z', '--', '*.yaml']) : ''
    // Of what is no document git's own word counts: what it ignores may be a folder full of packages.
    const beside = onDisk ? ['--others', '--exclude-standard'] : []
    const index = told(this.folder, ['ls-files', '-t', '--stage', ...beside, '--full-name', '-z', '--', '.'])
    const [differing, documents, listed] = (await Promise.all([changed, others, index])).map((text) => text.split('\0'))
    const submodules = listed!.filter((line) => /^\S 160000 /.test(line))
    if (submodules.length > 0)
      throw new NoHistory(
        `${submodules.map((line) => line.slice(line.indexOf('\t') + 1)).join(' and ')}: what changed in a git submodule cannot be known from here. Check it by itself.`,
      )
    const unlisted = listed!.filter((line) => line.startsWith('? ')).map((line) => line.slice(2))
    return this.filesOf([...differing!, ...documents!, ...unlisted])
  }

  async hostAt(commit: string, today: string, among?: ReadonlySet<string>): Promise<Host> {
    const tree = await told(this.folder, ['ls-tree', '-r', '-z', '--full-name', commit, '--', '.'])
    return this.hostOf(today, tree, ([mode, kind, id]) => (kind === 'blob' ? { mode, id } : undefined), among)
  }

  async staged(today: string): Promise<Host> {
    const index = await told(this.folder, ['ls-files', '--stage', '--full-name', '-z', '--', '.'])
    return this.hostOf(today, index, ([mode, id, stage]) => ({ mode, id, stage }))
  }

  private async hostOf(today: string, entries: string, read: EntryReader, among?: ReadonlySet<string>): Promise<Host> {
    const blobs = new Map<string, { readonly id: string; readonly fault?: string }>()
    for (const line of entries.split('\0')) {
      const tab = line.indexOf('\t')
      const { mode, id = '', stage = '0' } = read(line.slice(0, Math.max(0, tab)).split(' ')) ?? {}
      const file = id === '' ? undefined : this.fileOf(line.slice(tab + 1))
      const fault =
        stage !== '0'
          ? 'its merge is not settled, so that nothing of it is staged'
          : mode === '120000'
            ? 'it is a link'
            : undefined
      if (file !== undefined) blobs.set(file, { id, ...(fault !== undefined && { fault }) })
    }
    const documents = [...blobs].filter(([file]) => kindOfFile(file))
    const wanted = among ? documents.filter(([file]) => among.has(file)) : documents
    const texts = await this.contents(wanted.map(([, { id }]) => id))
    return new HostAt(
      today,
      new Map(documents.map(([file, { id, fault }]) => [file, fault ?? texts.get(id) ?? 'git has not got it'])),
      (file, most) => this.bytesOf(file, blobs.get(file), most),
    )
  }

  /** The content of one file, fetched when it is asked for: what is no document is of any size. */
  private async bytesOf(
    file: string,
    blob: { readonly id: string; readonly fault?: string } | undefined,
    most: number,
  ): Promise<Uint8Array> {
    const name = file.slice(file.lastIndexOf('/') + 1)
    if (!blob) throw new CannotRead(name, 'there is no such file', true)
    if (blob.fault !== undefined) throw new CannotRead(name, blob.fault)
    const size = Number((await git(this.folder, ['cat-file', '-s', blob.id])).text)
    if (size > most) throw new CannotRead(name, tooLarge(size, most))
    const { code, bytes } = await git(this.folder, ['cat-file', 'blob', blob.id])
    if (code !== 0) throw new CannotRead(name, 'git has not got it')
    return bytes
  }

  async merges(range: string): Promise<Merges> {
    if (this.shallow) throw tooShallow(this.folder)
    const missing = new NoHistory(
      `There is no range of revisions '${range}' in the git clone at ${this.folder}: give one as in 'main' or 'v1..main'.`,
    )
    if (range === '' || range.startsWith('-')) throw missing
    const parsed = await git(this.folder, ['rev-parse', range])
    const ends = parsed.text.split('\n').filter((line) => line !== '')
    const tips = ends.filter((line) => !line.startsWith('^'))
    if (parsed.code !== 0 || tips.length === 0 || !ends.every((line) => /^\^?[\da-f]{40,64}$/.test(line))) throw missing
    const graph = new CommitGraph(await told(this.folder, ['rev-list', '--topo-order', '--parents', ...tips]))
    const format = '--format=%H%x00%cs%x00%s'
    const lines = (
      await told(this.folder, ['log', '--merges', '--topo-order', '--no-show-signature', format, ...ends, '--'])
    ).split('\n')
    const heads = lines.filter((line) => line !== '').map((line) => line.split('\0') as [string, string, string])
    const commits: MergeCommit[] = []
    const parentsOf = new Map(heads.map(([commit]) => [commit, graph.parentsOf(commit)]))
    const changed = await this.changedFrom(
      heads.flatMap(([commit]) => parentsOf.get(commit)!.map((parent) => [commit, parent] as const)),
    )
    const wanted: { readonly rev: string; readonly path: string }[] = []
    const makers: ((ids: readonly (string | undefined)[]) => void)[] = []
    let at = 0
    for (const [commit, date, subject] of heads) {
      const parents = parentsOf.get(commit)!
      const bases = graph.basesOf(parents)
      const own = changed.slice(at, at + parents.length)
      at += parents.length
      const files: MergedFile[] = []
      for (const path of new Set(own.flatMap((side) => [...side.keys()]))) {
        const merged = own.find((side) => side.has(path))!.get(path)!.merged
        const before = own.map((side) => (side.has(path) ? side.get(path)!.parent : merged))
        const from = wanted.length
        for (const rev of bases) wanted.push({ rev, path })
        makers.push((ids) => files.push({ path, merged, parents: before, bases: ids.slice(from, from + bases.length) }))
      }
      commits.push({ commit, parents, date, subject, files })
    }
    const ids = await this.idsOf(wanted)
    for (const make of makers) make(ids)
    return { commits, tip: tips[0]!, at: (commit) => this.profilesAt(commit) }
  }

  /** Of pairs of a commit and one before it the profiles that differ, with the ids of both texts. */
  private async changedFrom(
    pairs: readonly (readonly [commit: string, parent: string])[],
  ): Promise<readonly ReadonlyMap<string, { readonly merged: string | undefined; readonly parent: string | undefined }>[]> {
    if (pairs.length === 0) return []
    const { code, text, error } = await git(
      this.folder,
      [
        'diff-tree',
        '--stdin',
        '--always',
        '-r',
        '-z',
        '--raw',
        '--no-abbrev',
        '--no-renames',
        '--',
        ...(this.prefix === '' ? [] : [this.prefix]),
      ],
      `${pairs.map((pair) => pair.join(' ')).join('\n')}\n`,
    )
    if (code !== 0) throw new NoHistory(`git diff-tree failed in ${this.folder}: ${error.trim().split('\n')[0]}`)
    const out: Map<string, { merged: string | undefined; parent: string | undefined }>[] = []
    const words = text.split('\0')
    for (let i = 0; i < words.length; i++) {
      const word = words[i]!
      // The commit itself, before what differs of it.
      if (!word.startsWith(':')) {
        if (word !== '') out.push(new Map())
        continue
      }
      const [, , parent = '', merged = ''] = word.split(' ')
      const path = words[++i] ?? ''
      const idOf = (id: string): string | undefined => (/^0+$/.test(id) ? undefined : id)
      if (kindOfFile(path) === 'media') out.at(-1)!.set(path, { merged: idOf(merged), parent: idOf(parent) })
    }
    if (out.length !== pairs.length)
      throw new NoHistory(`git diff-tree answered ${out.length} times of ${pairs.length} in ${this.folder}.`)
    return out
  }

  /** The ids of files at revisions, undefined where there is none. */
  private async idsOf(
    wanted: readonly { readonly rev: string; readonly path: string }[],
  ): Promise<readonly (string | undefined)[]> {
    if (wanted.length === 0) return []
    if (wanted.some(({ path }) => path.includes('\n')))
      throw new NoHistory('A file with a line break in its name cannot be looked up in git.')
    const { code, text, error } = await git(
      this.folder,
      ['cat-file', '--batch-check=%(objectname) %(objecttype)'],
      `${wanted.map(({ rev, path }) => `${rev}:${path}`).join('\n')}\n`,
    )
    if (code !== 0) throw new NoHistory(`git cat-file failed in ${this.folder}: ${error.trim().split('\n')[0]}`)
    return text
      .split('\n')
      .slice(0, wanted.length)
      .map((line) => /^([\da-f]{40,64}) blob$/.exec(line)?.[1])
  }

  private async profilesAt(commit: string): Promise<ReadonlyMap<string, string>> {
    const tree = await told(this.folder, ['ls-tree', '-r', '-z', '--full-name', commit, '--', '.'])
    const out = new Map<string, string>()
    for (const line of tree.split('\0')) {
      const { id, name } = /^\d+ blob (?<id>\S+)\t(?<name>.*)$/s.exec(line)?.groups ?? {}
      if (id !== undefined && name !== undefined && kindOfFile(name) === 'media') out.set(name, id)
    }
    return out
  }

  async texts(ids: readonly string[]): Promise<ReadonlyMap<string, string | undefined>> {
    const out = new Map<string, string | undefined>()
    for (let from = 0; from < ids.length; from += AT_ONCE)
      for (const [id, bytes] of await this.fetched(ids.slice(from, from + AT_ONCE))) out.set(id, utf8(bytes))
    return out
  }

  /** Contents by id: who walks through commits asks for most of them again and again. */
  private readonly read = new Map<string, Buffer>()

  private async contents(ids: readonly string[]): Promise<ReadonlyMap<string, Buffer>> {
    const fresh = ids.filter((id) => !this.read.has(id))
    for (const [id, bytes] of await this.fetched(fresh)) this.read.set(id, bytes)
    return this.read
  }

  /** The contents of blobs, all in one call. */
  private async fetched(ids: readonly string[]): Promise<ReadonlyMap<string, Buffer>> {
    const out = new Map<string, Buffer>()
    if (ids.length === 0) return out
    const { bytes } = await git(this.folder, ['cat-file', '--batch'], `${ids.join('\n')}\n`)
    for (let at = 0; at < bytes.length; ) {
      const end = bytes.indexOf(10, at)
      const [id = '', kind, size] = bytes.toString('latin1', at, end).split(' ')
      if (kind !== 'blob') {
        at = end + 1
        continue
      }
      const start = end + 1
      out.set(id, bytes.subarray(start, start + Number(size)))
      at = start + Number(size) + 1
    }
    return out
  }

  /** Paths from the top of the working tree as files, those that lie in the folder. */
  private filesOf(names: readonly string[]): readonly string[] {
    const found = new Set<string>()
    for (const name of names) {
      const file = this.fileOf(name)
      if (file !== undefined) found.add(file)
    }
    return [...found]
  }

  private fileOf(name: string): string | undefined {
    if (name === '' || !name.startsWith(this.prefix)) return undefined
    const way = name.slice(this.prefix.length)
    // Most names are spelled in a URI as they are.
    return /^[\w./-]+$/.test(way) ? `${this.root}${way}` : fileUri(resolve(this.folder, posix.relative(this.prefix, name)))
  }
}

/** Reads what git says of a file before its name; undefined for what is none, such as a submodule. */
type EntryReader = (
  words: readonly string[],
) => { readonly mode?: string | undefined; readonly id?: string | undefined; readonly stage?: string | undefined } | undefined

/** The documents of one commit. */
class HostAt implements Host {
  constructor(
    private readonly day: string,
    /** The bytes of a document, or why there are none. */
    private readonly files: ReadonlyMap<string, Buffer | string>,
    readonly readBytes: Host['readBytes'],
  ) {}

  async list(folder: string, depth = Number.POSITIVE_INFINITY): Promise<readonly string[]> {
    const files = [...this.files.keys()].filter((file) => file.startsWith(folder))
    return depth === Number.POSITIVE_INFINITY
      ? files
      : files.filter((file) => file.slice(folder.length).split('/').length - 1 <= depth)
  }

  async read(file: string): Promise<string> {
    const name = file.slice(file.lastIndexOf('/') + 1)
    if (!this.files.has(file)) throw new CannotRead(name, 'there is no such file')
    const bytes = this.files.get(file)!
    if (typeof bytes === 'string') throw new CannotRead(name, bytes)
    const text = utf8(bytes)
    if (text === undefined) throw new CannotRead(name, 'it is not UTF-8 text')
    return text
  }

  today(): string {
    return this.day
  }

  log(): void {}
}

/** How many texts are asked for in one call, so that a long history does not fill the memory. */
const AT_ONCE = 4000

const UTF8 = new TextDecoder('utf-8', { fatal: true })

/** As on disk: only a text that has the mark of a replaced letter may have been read wrong, and a decoder that fails is slow. */
function utf8(bytes: Buffer): string | undefined {
  const text = bytes.toString('utf8')
  if (!text.includes('\ufffd')) return text
  try {
    return UTF8.decode(bytes)
  } catch {
    return undefined
  }
}

interface Answer {
  /** git itself cannot be started. */
  readonly missing: boolean
  readonly code: number
  readonly bytes: Buffer
  readonly text: string
  readonly error: string
}

/** What git answers; rejects with `NoHistory` where it fails. */
async function told(folder: string, args: readonly string[]): Promise<string> {
  const { code, text, error } = await git(folder, args)
  if (code !== 0) throw new NoHistory(`git ${args[0]} failed in ${folder}: ${error.trim().split('\n')[0] || `exit ${code}`}`)
  return text
}

/** Settings that could start another program are overruled. */
const SETTINGS = ['-c', 'core.fsmonitor=false', '-c', 'core.quotePath=false', '--no-pager', '--literal-pathspecs']

/**
 * In a hook git tells where its repository is, from its own folder and not from ours; it is found again from the folder of the documents. The index
 * that a commit is made of may be another one than the usual, and is kept.
 */
function environment(): NodeJS.ProcessEnv {
  const { GIT_DIR: _, GIT_WORK_TREE: __, GIT_PREFIX: ___, GIT_INDEX_FILE: index, ...env } = process.env
  return { ...env, ...(index && { GIT_INDEX_FILE: resolve(index) }), LC_ALL: 'C', GIT_OPTIONAL_LOCKS: '0' }
}

async function git(folder: string, args: readonly string[], input?: string): Promise<Answer> {
  // Most commands look at no revision.
  const { execFile } = await import('node:child_process')
  const settings = args[0] === 'ls-files' ? SETTINGS.filter((s) => s !== '--literal-pathspecs') : SETTINGS
  return new Promise((done) => {
    const child = execFile(
      'git',
      [...settings, ...args],
      { cwd: folder, encoding: 'buffer', maxBuffer: MAX_BYTES, env: environment() },
      (error, stdout, stderr) => {
        // One that was killed has answered nothing: 1 is what some say for no.
        const code = error === null ? 0 : typeof error.code === 'number' ? error.code : 128
        done({
          missing: (error as NodeJS.ErrnoException | null)?.code === 'ENOENT',
          code,
          bytes: stdout,
          // Of contents nobody asks for it.
          get text() {
            return stdout.toString('utf8')
          },
          error: stderr.toString('utf8') || (error?.message ?? ''),
        })
      },
    )
    child.stdin?.on('error', () => undefined)
    child.stdin?.end(input)
  })
}
