// Every effect of the product in one interface: reading files, listing them, today's date, the log. Nothing else does any of it.
// Files are named by opaque strings with '/' between folders: URIs in a language server, so that a browser's virtual files work alike.
import { kindOfFile } from '../schema/schema.ts'

export interface Host {
  /**
   * The documents of the format (see `kindOfFile`) in a folder and so many folders below it (0: in itself only; not given: all that it
   * holds, within a bound). What cannot be read is listed all the same, so that reading it tells why. Folders that cannot be looked into
   * are told to `unlisted`, and logged where nobody asks; other YAML files, hidden ones left out, to `others`.
   */
  list(folder: string, depth?: number, unlisted?: Unlisted, others?: (file: string) => void): Promise<readonly string[]>
  /** A file's text. Rejects with an Error whose message is fit for a person: `CannotRead` where the file is at fault. */
  read(file: string): Promise<string>
  /**
   * A file's bytes, where they are `most` at most. Rejects with `CannotRead` where the file is at fault, as it is where it is larger: `gone` says
   * that there is none.
   */
  readBytes(file: string, most: number): Promise<Uint8Array>
  /**
   * A name for the bytes of a file that no other bytes have, read at once; undefined where there is none, or only by a longer way. Who has read the
   * same bytes as a text or as such may do without reading them again.
   */
  nameOf?(file: string): string | undefined
  /** Today's date, YYYY-MM-DD, in local time. */
  today(): string
  log(level: 'error' | 'info', message: string): void
  /** Whether every look at a file takes a journey, as in a browser: then what an open document needs is read before all others. */
  isFar?(file: string): boolean
}

/** What there is of a host where no file can be reached: the day and the log. */
export const hereAndNow = (log: Host['log']): Pick<Host, 'today' | 'log'> => ({ today, log })

export function today(): string {
  const now = new Date()
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`
}

/** Takes a place that could not be looked into, so that what lies there is not known, and why: words that follow a colon. */
export type Unlisted = (place: string, reason: string) => void

/** A file that cannot be read. `reason` follows a colon: "permission is denied". */
export class CannotRead extends Error {
  constructor(
    name: string,
    readonly reason: string,
    /** Whether there is nothing where it should be. */
    readonly gone = false,
  ) {
    super(`${name} cannot be read: ${reason}`)
  }
}

/** The text that bytes are in UTF-8. Throws, with the reason, for bytes that are none: read as such, letters would be replaced without a sign. */
export function textIn(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch {
    throw new Error('it is not UTF-8 text. Save it as UTF-8 in an editor.')
  }
}

/** Why bytes are not read, for a person. */
export const tooLarge = (size: number, most: number): string =>
  `it is ${Math.ceil(size / 2 ** 20)} MB large, and at most ${Math.floor(most / 2 ** 20)} MB are read. Is it the right file?`

/** Whether a file's name is that of a YAML file which is no document of the format, and no hidden one. */
export const isOtherYaml = (name: string): boolean => /^[^.].*\.ya?ml$/i.test(name) && kindOfFile(name) === undefined
