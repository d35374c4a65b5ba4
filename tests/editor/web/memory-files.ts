// An extension for tests: a shop in memory under schemes of its own, as a repository that is open in a browser without being cloned. Its search knows only what is
// "committed"; the rest is found by looking into the folders. Every look is counted. One of its two schemes cannot be written to.
import * as vscode from 'vscode'

/** What is there in the beginning, by path; put in when the extension is bundled. */
declare const FILES: Readonly<Record<string, string>>
/** The paths that a search does not find. */
declare const UNCOMMITTED: readonly string[]

export interface MemoryFiles {
  /** The files that were read, and the folders that were looked into, in order. */
  readonly reads: readonly string[]
  readonly looks: readonly string[]
}

export const SCHEME = 'shop-in-memory'
export const READ_ONLY = 'shop-to-read'

export function activate({ subscriptions }: vscode.ExtensionContext): MemoryFiles {
  const files = new Files()
  subscriptions.push(
    vscode.workspace.registerFileSystemProvider(SCHEME, files, { isCaseSensitive: true }),
    vscode.workspace.registerFileSystemProvider(READ_ONLY, new Files(), { isCaseSensitive: true, isReadonly: true }),
    proposed.registerFileSearchProvider(SCHEME, {
      provideFileSearchResults: (_query, { folder }) =>
        Object.keys(FILES)
          .filter((path) => path.startsWith(folder.path) && !UNCOMMITTED.includes(path))
          .map((path) => folder.with({ path })),
    }),
  )
  return files
}

/** Not yet in the types of the editor. */
const proposed = vscode.workspace as unknown as {
  registerFileSearchProvider(
    scheme: string,
    provider: { provideFileSearchResults(query: unknown, options: { folder: vscode.Uri }): readonly vscode.Uri[] },
  ): vscode.Disposable
}

class Files implements vscode.FileSystemProvider, MemoryFiles {
  readonly reads: string[] = []
  readonly looks: string[] = []
  private readonly files = new Map<string, Uint8Array>(
    Object.entries(FILES).map(([path, text]) => [path, new TextEncoder().encode(text)]),
  )
  private readonly changed = new vscode.EventEmitter<vscode.FileChangeEvent[]>()
  readonly onDidChangeFile = this.changed.event

  watch(): vscode.Disposable {
    return { dispose() {} }
  }

  stat(uri: vscode.Uri): vscode.FileStat {
    const bytes = this.files.get(uri.path)
    if (bytes) return { type: vscode.FileType.File, ctime: 0, mtime: 0, size: bytes.length }
    if (this.entries(uri).length === 0) throw vscode.FileSystemError.FileNotFound(uri)
    return { type: vscode.FileType.Directory, ctime: 0, mtime: 0, size: 0 }
  }

  readDirectory(uri: vscode.Uri): [string, vscode.FileType][] {
    this.looks.push(uri.path)
    return this.entries(uri)
  }

  readFile(uri: vscode.Uri): Uint8Array {
    this.reads.push(uri.path)
    const bytes = this.files.get(uri.path)
    if (!bytes) throw vscode.FileSystemError.FileNotFound(uri)
    return bytes
  }

  writeFile(uri: vscode.Uri, content: Uint8Array): void {
    const type = this.files.has(uri.path) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created
    this.files.set(uri.path, content)
    this.changed.fire([{ type, uri }])
  }

  delete(uri: vscode.Uri): void {
    this.files.delete(uri.path)
    this.changed.fire([{ type: vscode.FileChangeType.Deleted, uri }])
  }

  rename(from: vscode.Uri, to: vscode.Uri): void {
    this.writeFile(to, this.files.get(from.path) ?? new Uint8Array())
    this.delete(from)
  }

  createDirectory(): void {
    // A folder is there as soon as a file in it is.
  }

  private entries({ path }: vscode.Uri): [string, vscode.FileType][] {
    const folder = path.replace(/\/?$/, '/')
    const found = new Map<string, vscode.FileType>()
    for (const file of this.files.keys()) {
      if (!file.startsWith(folder)) continue
      const [name = '', ...rest] = file.slice(folder.length).split('/')
      found.set(name, rest.length > 0 ? vscode.FileType.Directory : vscode.FileType.File)
    }
    return [...found]
  }
}
