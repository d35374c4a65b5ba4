// What is kept from run to run, on Node's disk: read whole or not at all, and written so that whoever reads meanwhile finds the old or the new.
import * as crypto from 'node:crypto'
import { readFileSync } from 'node:fs'
import { mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'

/** Node's own way for what is at hand whole, which is twice as quick; Node 20 has it from its twelfth release on. */
const atOnce = (crypto as { hash?: (algorithm: string, content: string | Uint8Array, encoding: string) => string }).hash

/** A name for a text or for bytes that no other has: SHA-1, as git names them. */
export const nameFor = (content: string | Uint8Array): string =>
  atOnce ? atOnce('sha1', content, 'base64url') : crypto.createHash('sha1').update(content).digest('base64url')

/** Empty where there is none that can be read. Read at once, which costs a fraction. */
export function readKept(path: string): Buffer {
  try {
    return readFileSync(path)
  } catch {
    return Buffer.alloc(0)
  }
}

/** Gives why it could not be written: words that follow a colon. */
export async function writeKept(path: string, parts: readonly (string | Uint8Array)[]): Promise<string | undefined> {
  const fresh = `${path}.${crypto.randomUUID()}.tmp`
  try {
    await mkdir(dirname(path), { recursive: true })
    await writeFile(fresh, parts, { flag: 'wx' })
    await rename(fresh, path)
    return undefined
  } catch (error) {
    await rm(fresh, { force: true }).catch(() => undefined)
    return (error as Error).message
  }
}
