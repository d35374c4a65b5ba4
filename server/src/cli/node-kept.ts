// What is kept from run to run, on Node's disk: read whole or not at all, and written so that whoever reads meanwhile finds the old or the new.
import { createHash, randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'

/** A name for a text or for bytes that no other has: SHA-1, as git names them. */
export const nameFor = (content: string | Uint8Array): string => createHash('sha1').update(content).digest('base64url')

/** Empty where there is none that can be read. Read at once, which costs a fraction. */
export function readKept(path: string): string {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return ''
  }
}

/** Gives why it could not be written: words that follow a colon. */
export async function writeKept(path: string, text: string): Promise<string | undefined> {
  const fresh = `${path}.${randomUUID()}.tmp`
  try {
    await mkdir(dirname(path), { recursive: true })
    await writeFile(fresh, text, { flag: 'wx' })
    await rename(fresh, path)
    return undefined
  } catch (error) {
    await rm(fresh, { force: true }).catch(() => undefined)
    return (error as Error).message
  }
}
