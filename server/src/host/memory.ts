// A host over files in memory: for tests, and for checking texts that come from elsewhere.
import { kindOfFile } from '../schema/schema.ts'
import type { Host } from './host.ts'

export class MemoryHost implements Host {
  readonly logged: string[] = []

  constructor(
    readonly files: Map<string, string>,
    private readonly date = '2026-03-31',
  ) {}

  async list(folder: string, depth = Number.POSITIVE_INFINITY): Promise<readonly string[]> {
    const below = (file: string): number => file.slice(folder.length).split('/').length - 1
    return [...this.files.keys()].filter((f) => f.startsWith(folder) && kindOfFile(f) !== undefined && below(f) <= depth)
  }

  async read(file: string): Promise<string> {
    const text = this.files.get(file)
    if (text === undefined) throw new Error(`There is no file ${file}.`)
    return text
  }

  today(): string {
    return this.date
  }

  log(level: 'error' | 'info', message: string): void {
    this.logged.push(`${level}: ${message}`)
  }
}
