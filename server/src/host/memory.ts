// A host over files in memory: for tests, and for checking texts that come from elsewhere.
import { lastPart } from '../base/uri.ts'
import { kindOfFile } from '../schema/schema.ts'
import { CannotRead, type Host, isOtherYaml, tooLarge, type Unlisted } from './host.ts'

export class MemoryHost implements Host {
  readonly logged: string[] = []

  constructor(
    readonly files: Map<string, string>,
    private readonly date = '2026-03-31',
    /** Files that are no text. */
    readonly bytes: Map<string, Uint8Array> = new Map(),
  ) {}

  async list(
    folder: string,
    depth = Number.POSITIVE_INFINITY,
    _unlisted?: Unlisted,
    others?: (file: string) => void,
  ): Promise<readonly string[]> {
    const below = (file: string): number => file.slice(folder.length).split('/').length - 1
    const there = [...this.files.keys()].filter((f) => f.startsWith(folder) && below(f) <= depth)
    for (const file of there) if (isOtherYaml(lastPart(file))) others?.(file)
    return there.filter((file) => kindOfFile(file) !== undefined)
  }

  async read(file: string): Promise<string> {
    const text = this.files.get(file)
    if (text === undefined) throw new Error(`There is no file ${file}.`)
    return text
  }

  async readBytes(file: string, most: number): Promise<Uint8Array> {
    const text = this.files.get(file)
    const folder = [...this.files.keys(), ...this.bytes.keys()].some((other) => other.startsWith(`${file}/`))
    if (folder) throw new CannotRead(lastPart(file), 'it is a folder')
    const bytes = this.bytes.get(file) ?? (text === undefined ? undefined : new TextEncoder().encode(text))
    if (!bytes) throw new CannotRead(lastPart(file), 'there is no such file', true)
    if (bytes.length > most) throw new CannotRead(lastPart(file), tooLarge(bytes.length, most))
    return bytes
  }

  today(): string {
    return this.date
  }

  log(level: 'error' | 'info', message: string): void {
    this.logged.push(`${level}: ${message}`)
  }
}
