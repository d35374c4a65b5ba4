// What was read of each file, known by a name of its text: whether it was the same each time, and whether it is what an earlier run has read.
import type { Host } from '../host/host.ts'
import { nameFor } from './node-kept.ts'

export type ReadText = readonly [file: string, name: string]

export class Texts {
  readonly names = new Map<string, string>()
  steady = true
  /** The same files, with a note of what is read. */
  readonly host: Host
  private since = new Map<string, string>()

  constructor(private readonly plain: Host) {
    const named = async <T extends string | Uint8Array>(file: string, reading: Promise<T>): Promise<T> => {
      this.take(file, await reading.then(nameFor, String))
      return reading
    }
    this.host = Object.create(plain, {
      read: { value: (file: string) => named(file, plain.read(file)) },
      readBytes: { value: (file: string, most: number) => named(file, plain.readBytes(file, most)) },
    })
  }

  /** Whether a file holds what has a name, by a look at its bytes; what is read so is not read once more. */
  holds(file: string, name: string): boolean {
    const same = this.plain.nameOf?.(file) === name
    if (same) this.take(file, name)
    return same
  }

  /** What was read since this was asked for last, by file. */
  readSince(): readonly ReadText[] {
    const { since } = this
    this.since = new Map()
    return [...since]
  }

  /** Takes what was read of a file, here or elsewhere. */
  take(file: string, name: string): void {
    if ((this.names.get(file) ?? name) !== name) this.steady = false
    this.names.set(file, name)
    this.since.set(file, name)
  }
}
