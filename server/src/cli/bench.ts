// The shop a command works on: paths of the command line to the files of a workspace, whose shop they belong to, and back to what is shown.
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path'
import type { Host } from '../host/host.ts'
import { fileUri, isWithin, pathOf } from '../host/node.ts'
import { kindOfFile, nameMeant } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { type KnownFacts, type Unread, Workspace } from '../workspace/workspace.ts'
import { CannotRun, type CliHost } from './host.ts'
import { printable } from './terminal.ts'

/** What the names of documents look like, for messages. */
export const DOCUMENT_NAMES = 'rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml'

export interface Bench {
  readonly workspace: Workspace
  readonly analysis: Analysis
  /** Why something asked for could not be done, each told once: what cannot be read, or not whole, and rules that failed. */
  readonly troubles: readonly string[]
  trouble(text: string): void
  /** A sentence on what cannot be read. */
  unreadText(unread: Unread): string
  /** A file of the workspace as a person knows it: its path from where the command was given, with '/' on every system. */
  shown(file: string): string
  /** The documents at and below a folder; other YAML files there are told to `others`. */
  documentsBelow(path: string, others?: (file: string) => void): Promise<readonly string[]>
  /** Indexes the shop that a path belongs to, and the shops below it. Gives the folder they are all in. */
  addShopsOf(path: string, kind: 'file' | 'folder'): Promise<string>
  /** The folders that were indexed so. */
  roots(): Iterable<string>
}

/** `known` gives what is known already of the documents below a folder. */
export function openBench(cli: CliHost, known?: (root: string) => KnownFacts): Bench {
  const troubles: string[] = []
  const workspace = new Workspace(listingOnce(cli.host))
  const roots = new Set<string>()
  const bench: Bench = {
    workspace,
    analysis: new Analysis(
      workspace,
      false,
      (file, code, error) =>
        bench.trouble(
          `${bench.shown(file)} is not judged by the rule ${code}, which failed inside Rollbook: ${defectText(cli, error)}`,
        ),
      'once',
    ),
    troubles,
    trouble(text) {
      if (!troubles.includes(text)) troubles.push(text)
    },
    unreadText: ({ place, kind, reason }) =>
      kind === 'folder'
        ? `${bench.shown(place)} cannot be listed, and what is in it is not known: ${reason}`
        : `${bench.shown(place)} cannot be read: ${reason}`,
    shown: (file) => shownPath(cli.cwd, pathOf(file)),
    documentsBelow: (path, others) =>
      workspace.host.list(
        `${fileUri(path).replace(/\/$/, '')}/`,
        undefined,
        (place, reason) => bench.trouble(bench.unreadText({ place, kind: 'folder', reason })),
        others,
      ),
    async addShopsOf(path, kind) {
      const root = await shopFolder(cli, kind === 'file' ? dirname(path) : path)
      if (![...roots].some((r) => isWithin(root, r))) {
        roots.add(root)
        const unmerged = cli.revisions.unmerged(fileUri(root))
        await workspace.addFolder(fileUri(root), known?.(root))
        for (const file of await unmerged) workspace.unmerged.add(file)
      }
      return root
    },
    roots: () => roots,
  }
  return bench
}

/** The same host, which walks through a folder and all below it once, for all who ask. */
function listingOnce(host: Host): Host {
  const walks = new Map<string, Promise<Walked>>()
  const walk = async (folder: string): Promise<Walked> => {
    const [unlisted, others]: [[place: string, reason: string][], string[]] = [[], []]
    const files = await host.list(
      folder,
      undefined,
      (...one) => unlisted.push(one),
      (file) => others.push(file),
    )
    return { files, unlisted, others }
  }
  const list: Host['list'] = async (folder, depth, unlisted, others) => {
    if (depth !== undefined) return host.list(folder, depth, unlisted, others)
    const walked = walks.get(folder) ?? walk(folder)
    walks.set(folder, walked)
    const found = await walked
    for (const one of found.unlisted) unlisted?.(...one)
    for (const file of found.others) others?.(file)
    return found.files
  }
  return Object.create(host, { list: { value: list } })
}

interface Walked {
  readonly files: readonly string[]
  readonly unlisted: readonly (readonly [place: string, reason: string])[]
  readonly others: readonly string[]
}

/** What a defect of ours says of itself. */
export const defectText = (cli: CliHost, error: unknown): string =>
  cli.env.ROLLBOOK_DEBUG
    ? ((error as Error).stack ?? String(error))
    : `${error instanceof Error ? error.message : error}. ROLLBOOK_DEBUG=1 shows where. Please report it.`

/** Says on standard error what could not be done, and what could not be read elsewhere in the shops that were looked at. */
export function tellTroubles(cli: CliHost, { troubles, workspace, unreadText }: Bench): void {
  for (const trouble of new Set([...troubles, ...workspace.unread().map(unreadText)])) cli.err(`${printable(trouble)}\n`)
}

/** A path of the command line and what stands there. Throws `CannotRun` where there is nothing. */
export async function lookUp(cli: CliHost, argument: string): Promise<{ path: string; kind: 'file' | 'folder' }> {
  demandName(argument)
  const path = resolve(cli.cwd, argument)
  const kind = await cli.look(path)
  if (kind === undefined) throw new CannotRun(`There is no file or folder '${argument}'.`)
  return { path, kind }
}

/** Throws `CannotRun` for an empty argument, which would else stand for the current folder. */
export function demandName(argument: string): void {
  if (argument === '')
    throw new CannotRun("An empty name was given ('', perhaps a shell variable that is not set): name a file or a folder.")
}

/** The file of the workspace at a path. Throws `CannotRun` for a file that is none of ours. */
export function documentAt(path: string, argument: string): string {
  if (kindOfFile(path) === undefined)
    throw new CannotRun(`'${argument}' is not a Rollbook document: these are named ${DOCUMENT_NAMES}.${renamed(nameMeant(path))}`)
  return fileUri(path)
}

const renamed = (meant: string | undefined): string => (meant === undefined ? '' : ` Rename it to ${meant}.`)

/** The nearest folder at or above one with a rollbook.yaml; else the current folder where it holds the one given; else that one. */
async function shopFolder(cli: CliHost, folder: string): Promise<string> {
  return (await shopAbove(cli, folder)) ?? (isWithin(folder, cli.cwd) ? cli.cwd : folder)
}

/** The nearest folder at or above one with a rollbook.yaml. */
export async function shopAbove(cli: CliHost, folder: string): Promise<string | undefined> {
  for (let at = folder; ; at = dirname(at)) {
    if ((await cli.look(join(at, 'rollbook.yaml')).catch(() => undefined)) === 'file') return at
    if (dirname(at) === at) return undefined
  }
}

function shownPath(cwd: string, path: string): string {
  // A folder's own path may end in '/'.
  if (sep === '/' && path.startsWith(`${cwd}/`)) return path.slice(cwd.length + 1).replace(/\/$/, '')
  const way = relative(cwd, path)
  return (isAbsolute(way) ? path : way).split(sep).join('/')
}
