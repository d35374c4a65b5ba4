// Files that this machine has no way to: those of a virtual folder, and in a browser all. The client reads and lists them, where it said that it does.
import type { MessageConnection } from 'vscode-jsonrpc'
import { lastPart, normalUri } from '../base/uri.ts'
import { CannotRead, type Host, textIn, tooLarge, type Unlisted } from '../host/host.ts'
import { kindOfFile } from '../schema/schema.ts'

type Read = { readonly base64: string } | { readonly size: number } | { readonly reason: string; readonly gone?: boolean }

interface Listed {
  readonly files: readonly string[]
  /** Places that could not be looked into, with the reason of each. */
  readonly unlisted: readonly (readonly [place: string, reason: string])[]
}

/** Larger texts are not asked for: none of them is a document. */
const MAX_TEXT = 8 * 2 ** 20

/** A host without files of its own leaves all of them to the client. */
export type OwnHost = Host | Pick<Host, 'today' | 'log'>

export class ClientFiles implements Host {
  constructor(
    private readonly client: MessageConnection,
    private readonly own: OwnHost,
    private readonly able: () => boolean,
  ) {}

  async list(folder: string, depth?: number, unlisted?: Unlisted, others?: (file: string) => void): Promise<readonly string[]> {
    const own = this.near(folder)
    if (own) return own.list(folder, depth, unlisted, others)
    const listed = await this.ask<Listed>('rollbook/list', { uri: folder, ...(depth !== undefined && { depth }) }, folder)
    for (const [place, reason] of listed.unlisted) unlisted?.(normalUri(place), reason)
    return [...new Set(listed.files.map(normalUri))].filter((file) => kindOfFile(file) !== undefined)
  }

  async read(file: string): Promise<string> {
    const own = this.near(file)
    if (own) return own.read(file)
    const bytes = await this.bytes(file, MAX_TEXT)
    try {
      return textIn(bytes)
    } catch (error) {
      throw new CannotRead(nameOf(file), (error as Error).message)
    }
  }

  async readBytes(file: string, most: number): Promise<Uint8Array> {
    return (await this.near(file)?.readBytes(file, most)) ?? this.bytes(file, most)
  }

  today(): string {
    return this.own.today()
  }

  log(level: 'error' | 'info', message: string): void {
    this.own.log(level, message)
  }

  isFar(file: string): boolean {
    return this.near(file) === undefined
  }

  /** Who reads a file without the client. */
  private near(file: string): Host | undefined {
    return 'read' in this.own && (file.startsWith('file:') || !this.able()) ? this.own : undefined
  }

  private async bytes(file: string, most: number): Promise<Uint8Array> {
    const read = await this.ask<Read>('rollbook/read', { uri: file, most }, file)
    if ('base64' in read) return Uint8Array.from(atob(read.base64), (sign) => sign.charCodeAt(0))
    if ('size' in read) throw new CannotRead(nameOf(file), tooLarge(read.size, most))
    throw new CannotRead(nameOf(file), read.reason, read.gone)
  }

  private async ask<T>(method: string, params: object, place: string): Promise<T> {
    if (!this.able()) throw new CannotRead(nameOf(place), 'it is not on a disk of this machine', true)
    return this.client.sendRequest<T>(method, params).catch((error) => {
      throw new CannotRead(nameOf(place), `the editor does not get at it (${(error as Error).message})`)
    })
  }
}

function nameOf(file: string): string {
  const name = lastPart(file.replace(/\/$/, ''))
  try {
    return decodeURIComponent(name)
  } catch {
    return name
  }
}
