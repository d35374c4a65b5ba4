// What the server reads of files that it has no way to itself: those of virtual folders, and in a browser all. They are found in three ways, since each alone
// misses some: what is indexed (in some virtual folders only what is committed), what is open, and what a walk through the folders of shops meets.
import * as vscode from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { LANGUAGE } from './language.ts'

const DOCUMENTS = '**/{*.media.yaml,*.stock.yaml,*.printer.yaml,rollbook.yaml}'
const NOT_IN = '**/{node_modules,.git}/**'
const OURS = /(?:^|\/)(?:[^/]+\.(?:media|stock|printer)\.yaml|rollbook\.yaml)$/
const SKIPPED = new Set(['node_modules', '.git', 'dist', '.hg', '.svn'])
/** Each folder is a call over the network. */
const MAX_FOLDERS = 500
/** A search that nobody answers is not waited for. */
const PATIENCE_MS = 3000

interface Listed {
  readonly files: readonly string[]
  readonly unlisted: readonly (readonly [place: string, reason: string])[]
}

export function answerFiles(client: BaseLanguageClient): void {
  client.onRequest('rollbook/read', ({ uri, most }: { uri: string; most: number }) => read(vscode.Uri.parse(uri, true), most))
  client.onRequest('rollbook/list', ({ uri, depth }: { uri: string; depth?: number }) => list(vscode.Uri.parse(uri, true), depth))
}

async function read(uri: vscode.Uri, most: number): Promise<object> {
  try {
    const bytes = await vscode.workspace.fs.readFile(uri)
    return bytes.length > most ? { size: bytes.length } : { base64: base64Of(bytes) }
  } catch (error) {
    return { reason: reasonOf(error, 'file'), gone: codeOf(error) === 'FileNotFound' }
  }
}

function base64Of(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192))
  return btoa(text)
}

async function list(folder: vscode.Uri, depth = Number.POSITIVE_INFINITY): Promise<Listed> {
  const top = folder.path.replace(/\/?$/, '/')
  const files = new Map<string, vscode.Uri>()
  const unlisted: [string, string][] = []
  const take = (uri: vscode.Uri): void => {
    const inside = uri.scheme === folder.scheme && uri.authority === folder.authority && uri.path.startsWith(top)
    if (inside && OURS.test(uri.path) && uri.path.slice(top.length).split('/').length <= depth + 1) files.set(uri.toString(), uri)
  }
  for (const { uri, languageId } of vscode.workspace.textDocuments) if (languageId === LANGUAGE) take(uri)
  for (const uri of await indexed(folder)) take(uri)
  const walk = new Walk(take, unlisted)
  await walk.below(folder, 0)
  const shops = [...files.values()].filter(({ path }) => path.endsWith('/rollbook.yaml'))
  const roots = shops.map((shop) => vscode.Uri.joinPath(shop, '..'))
  await Promise.all((roots.length > 0 ? roots : [folder]).map((root) => walk.below(root, depth)))
  return { files: [...files.keys()], unlisted }
}

/** Without a search, or one that answers, there is the walk. */
async function indexed(folder: vscode.Uri): Promise<readonly vscode.Uri[]> {
  if (vscode.workspace.getWorkspaceFolder(folder) === undefined) return []
  const stop = new vscode.CancellationTokenSource()
  const late = setTimeout(() => stop.cancel(), PATIENCE_MS)
  const given = new Promise<vscode.Uri[]>((resolve) => stop.token.onCancellationRequested(() => resolve([])))
  const pattern = new vscode.RelativePattern(folder, DOCUMENTS)
  const found = vscode.workspace.findFiles(pattern, NOT_IN, undefined, stop.token)
  try {
    return await Promise.race([found, given])
  } catch {
    return []
  } finally {
    clearTimeout(late)
  }
}

/** Looks through folders, each once. */
class Walk {
  private readonly looked = new Map<string, Promise<readonly vscode.Uri[]>>()
  private told = false

  constructor(
    private readonly take: (uri: vscode.Uri) => void,
    private readonly unlisted: [place: string, reason: string][],
  ) {}

  async below(folder: vscode.Uri, depth: number): Promise<void> {
    const key = folder.toString()
    if (!this.looked.has(key)) {
      if (this.looked.size >= MAX_FOLDERS) return this.tellFull(key)
      this.looked.set(key, this.look(folder))
    }
    const folders = (await this.looked.get(key)) ?? []
    if (depth > 0) await Promise.all(folders.map((inner) => this.below(inner, depth - 1)))
  }

  /** The folders in a folder. */
  private async look(folder: vscode.Uri): Promise<readonly vscode.Uri[]> {
    try {
      const entries = await vscode.workspace.fs.readDirectory(folder)
      const there = entries
        .filter(([name]) => !SKIPPED.has(name))
        .map(([name, type]) => ({ uri: vscode.Uri.joinPath(folder, name), type }))
      for (const { uri, type } of there) if (!(type & vscode.FileType.Directory)) this.take(uri)
      // A link may lead in circles, and there is no telling here.
      return there.filter(({ type }) => type === vscode.FileType.Directory).map(({ uri }) => uri)
    } catch (error) {
      this.unlisted.push([folder.toString(), reasonOf(error, 'folder')])
      return []
    }
  }

  private tellFull(place: string): void {
    if (!this.told)
      this.unlisted.push([
        place,
        vscode.l10n.t('more than {0} folders are not looked into: open the folder of the shop itself', MAX_FOLDERS),
      ])
    this.told = true
  }
}

const codeOf = (error: unknown): string => (error instanceof vscode.FileSystemError ? error.code : '')

/** Why a place cannot be read, for a person: words that follow a colon. */
function reasonOf(error: unknown, kind: 'file' | 'folder'): string {
  const reasons: Readonly<Record<string, string>> = {
    FileNotFound: kind === 'file' ? vscode.l10n.t('there is no such file') : vscode.l10n.t('there is no such folder'),
    NoPermissions: vscode.l10n.t('permission is denied'),
    FileIsADirectory: vscode.l10n.t('it is a folder'),
    Unavailable: vscode.l10n.t('its place cannot be reached now'),
  }
  return reasons[codeOf(error)] ?? (error instanceof Error ? error.message : String(error))
}
