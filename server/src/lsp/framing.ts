// Messages on a stream of bytes: a header that tells the length, and JSON. Knows no stream of Node's, only what one must be able to do.
import type { Channel } from './talk.ts'

/** A header is a few short lines; what goes on longer without an end is none. */
const MAX_HEADER = 8192

const BREAK = [13, 10, 13, 10]

/** Cuts bytes, as they come, into the texts of messages. Throws where a message cannot be told from the next. */
export class Frames {
  private chunks: Uint8Array[] = []
  private size = 0
  /** The length of the message at hand, once its header is read. */
  private length: number | undefined

  take(chunk: Uint8Array): readonly string[] {
    this.chunks.push(chunk)
    this.size += chunk.length
    // A long message comes in many pieces: they are joined once.
    if (this.size < (this.length ?? 0)) return []
    const bytes = this.chunks.length === 1 ? chunk : joined(this.chunks, this.size)
    const texts: string[] = []
    let at = 0
    for (;;) {
      if (this.length === undefined) {
        const end = endOfHeader(bytes, at)
        if (end === undefined) break
        this.length = lengthIn(decode(bytes.subarray(at, end)))
        at = end
      }
      if (bytes.length - at < this.length) break
      texts.push(decode(bytes.subarray(at, at + this.length)))
      at += this.length
      this.length = undefined
    }
    this.chunks = [bytes.subarray(at)]
    this.size = bytes.length - at
    return texts
  }
}

const decoder = new TextDecoder()
const decode = (bytes: Uint8Array): string => decoder.decode(bytes)

function endOfHeader(bytes: Uint8Array, from: number): number | undefined {
  for (let at = bytes.indexOf(BREAK[0]!, from); at >= 0; at = bytes.indexOf(BREAK[0]!, at + 1)) {
    if (BREAK.every((byte, n) => bytes[at + n] === byte)) return at + BREAK.length
  }
  if (bytes.length - from > MAX_HEADER) throw new Error('Header does not end.')
  return undefined
}

function lengthIn(header: string): number {
  const [, digits] = /^content-length:[ \t]*(\d+)[ \t]*$/im.exec(header) ?? []
  if (digits === undefined) throw new Error('Header must provide a Content-Length property.')
  return Number(digits)
}

function joined(chunks: readonly Uint8Array[], size: number): Uint8Array {
  const whole = new Uint8Array(size)
  let at = 0
  for (const chunk of chunks) {
    whole.set(chunk, at)
    at += chunk.length
  }
  return whole
}

const encoder = new TextEncoder()

/** A message as it is sent: header and body in one piece cost one system call, and at a keystroke those add up. */
export function framed(message: object): Uint8Array {
  const body = encoder.encode(JSON.stringify(message))
  const header = encoder.encode(`Content-Length: ${body.length}\r\n\r\n`)
  return joined([header, body], header.length + body.length)
}

interface Input {
  on(event: 'data', take: (chunk: Uint8Array) => void): unknown
}

interface Output {
  write(bytes: Uint8Array): unknown
}

/** `damaged` hears of a message that is left out (a `SyntaxError`: it is no JSON), or that what comes in cannot be followed any further. */
export const overStreams = (input: Input, output: Output, damaged: (error: Error) => void = () => undefined): Channel => ({
  send: (message) => void output.write(framed(message)),
  listen(take) {
    const frames = new Frames()
    input.on('data', (chunk) => {
      for (const text of attempt(() => frames.take(chunk)) ?? []) {
        const message = attempt(() => JSON.parse(text))
        if (message !== undefined) take(message)
      }
    })
    function attempt<T>(work: () => T): T | undefined {
      try {
        return work()
      } catch (error) {
        damaged(error as Error)
        return undefined
      }
    }
  },
})
