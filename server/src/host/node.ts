// The host on Node: files by `file:` URIs, read asynchronously; a bounded walk that stays out of folders that hold no profiles.
import { readdir, readFile, stat } from 'node:fs/promises'
import { basename } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { normalUri } from '../base/uri.ts'
import { kindOfFile } from '../schema/schema.ts'
import type { Host } from './host.ts'

const SKIPPED = new Set(['node_modules', '.git', 'dist', '.hg', '.svn'])
const DEEPEST = 12
const MOST_FILES = 100_000

export class NodeHost implements Host {
  constructor(private readonly write: (level: 'error' | 'info', message: string) => void = () => undefined) {}

  async list(folder: string, depth = DEEPEST): Promise<readonly string[]> {
    const found: string[] = []
    await this.walk(pathOf(folder), Math.min(depth, DEEPEST), found)
    return found.map((path) => fileUri(path))
  }

  async read(file: string): Promise<string> {
    const path = pathOf(file)
    try {
      return await this.textAt(path)
    } catch (error) {
      throw new Error(
        `${basename(path)} cannot be read: ${REASONS[(error as NodeJS.ErrnoException).code ?? ''] ?? (error as Error).message}`,
      )
    }
  }

  /** The text of the file at a path, by the way that holds nothing else up. */
  protected textAt(path: string): Promise<string> {
    return readFile(path, 'utf8')
  }

  today(): string {
    const now = new Date()
    return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`
  }

  log(level: 'error' | 'info', message: string): void {
    this.write(level, message)
  }

  private async walk(folder: string, deeper: number, found: string[]): Promise<void> {
    if (deeper < 0 || found.length > MOST_FILES) return
    try {
      for (const entry of await readdir(folder, { withFileTypes: true })) {
        const path = `${folder.replace(/[\\/]$/, '')}/${entry.name}`
        if (entry.isDirectory() && !SKIPPED.has(entry.name)) await this.walk(path, deeper - 1, found)
        else if (kindOfFile(entry.name) && (entry.isFile() || (entry.isSymbolicLink() && (await stat(path)).isFile())))
          found.push(path)
      }
    } catch (error) {
      this.log('error', `${basename(folder)} cannot be listed: ${(error as Error).message}`)
    }
  }
}

function pathOf(uri: string): string {
  try {
    return fileURLToPath(uri)
  } catch {
    throw new Error(`${uri} is not a place on this machine's disk.`)
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'permission is denied',
  EISDIR: 'it is a folder',
  EPERM: 'permission is denied',
}

export const fileUri = (path: string): string => normalUri(pathToFileURL(path).href)
