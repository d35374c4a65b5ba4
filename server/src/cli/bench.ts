// The shop a command works on: paths of the command line to the files of a workspace, whose shop they belong to, and back to what is shown.
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Host } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { Analysis } from '../workspace/analysis.ts'
import { Workspace } from '../workspace/workspace.ts'
import { CannotRun, type CliHost } from './host.ts'
import { printable } from './terminal.ts'

/** What the names of documents look like, for messages. */
export const DOCUMENT_NAMES = 'rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml'

export interface Bench {
  readonly workspace: Workspace
  readonly analysis: Analysis
  /** Why something asked for could not be done, each told once: files and folders that cannot be read, rules that failed. */
  readonly troubles: readonly string[]
  /** The same of documents elsewhere in the shop. */
  readonly asides: readonly string[]
  /** A file of the workspace as a person knows it: its path from where the command was given, with '/' on every system. */
  shown(file: string): string
  /** The documents at and below a folder. */
  documentsBelow(path: string): Promise<readonly string[]>
  /** Indexes the shop that a path belongs to, and the shops below it. Gives the folder they are all in. */
  addShopsOf(path: string, kind: 'file' | 'folder'): Promise<string>
}

export function openBench(cli: CliHost): Bench {
  const troubles: string[] = []
  const asides: string[] = []
  let hearing = troubles
  const debug = Boolean(cli.env.ROLLBOOK_DEBUG)
  const workspace = new Workspace(listening(cli.host, (message) => note(hearing, debug ? message : firstLine(message))))
  const roots = new Set<string>()
  return {
    workspace,
    analysis: new Analysis(workspace),
    troubles,
    asides,
    shown: (file) => shownPath(cli.cwd, fileURLToPath(file)),
    documentsBelow: (path) => workspace.host.list(`${fileUri(path).replace(/\/$/, '')}/`),
    async addShopsOf(path, kind) {
      const root = await shopFolder(cli, kind === 'file' ? dirname(path) : path)
      if (![...roots].some((r) => isWithin(root, r))) {
        roots.add(root)
        hearing = asides
        await workspace.addFolder(fileUri(root))
        hearing = troubles
      }
      return root
    },
  }
}

/** Says on standard error what could not be read, of the documents asked for and of the others. */
export function tellTroubles(cli: CliHost, { troubles, asides }: Bench): void {
  for (const trouble of new Set([...troubles, ...asides])) cli.err(`${printable(trouble)}\n`)
}

/** A path of the command line and what stands there. Throws `CannotRun` where there is nothing. */
export async function lookUp(cli: CliHost, argument: string): Promise<{ path: string; kind: 'file' | 'folder' }> {
  const path = resolve(cli.cwd, argument)
  const kind = await cli.look(path)
  if (kind === undefined) throw new CannotRun(`There is no file or folder '${argument}'.`)
  return { path, kind }
}

/** The file of the workspace at a path. Throws `CannotRun` for a file that is none of ours. */
export function documentAt(path: string, argument: string): string {
  if (kindOfFile(path) === undefined)
    throw new CannotRun(`'${argument}' is not a Rollbook document: these are named ${DOCUMENT_NAMES}.`)
  return fileUri(path)
}

/** The nearest folder at or above one with a rollbook.yaml; else the current folder where it holds the one given; else that one. */
async function shopFolder(cli: CliHost, folder: string): Promise<string> {
  for (let at = folder; ; at = dirname(at)) {
    if ((await cli.look(join(at, 'rollbook.yaml')).catch(() => undefined)) === 'file') return at
    if (dirname(at) === at) break
  }
  return isWithin(folder, cli.cwd) ? cli.cwd : folder
}

function isWithin(path: string, folder: string): boolean {
  const way = relative(folder, path)
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way))
}

function shownPath(cwd: string, path: string): string {
  const way = relative(cwd, path)
  return (isAbsolute(way) ? path : way).split(sep).join('/')
}

const firstLine = (message: string): string => message.split('\n', 1)[0]!

function note(list: string[], message: string): void {
  if (!list.includes(message)) list.push(message)
}

/** A host whose errors are heard. */
const listening = (host: Host, hear: (message: string) => void): Host => ({
  list: (folder, depth) => host.list(folder, depth),
  read: (file) => host.read(file),
  today: () => host.today(),
  log: (level, message) => {
    if (level === 'error') hear(message)
    host.log(level, message)
  },
})
