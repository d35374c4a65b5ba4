// New files on disk: all of them whole, or none. Each is written beside its place and then given its name, so that nobody ever sees half of one.
import { link, mkdir, rm, rmdir, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { whyNot } from '../host/node.ts'
import { CannotRun } from './host.ts'

export async function createAll(files: ReadonlyMap<string, string>): Promise<void> {
  const made: string[] = []
  const folders: string[] = []
  try {
    for (const [path, text] of files) {
      const first = await mkdir(dirname(path), { recursive: true }).catch((error) => {
        throw new CannotRun(`${path} cannot be written: ${whyNot(path, error, 'file')}. Nothing is written.`)
      })
      if (first !== undefined) folders.push(...between(first, dirname(path)))
      await createWhole(path, text)
      made.push(path)
    }
  } catch (error) {
    for (const path of made) await rm(path, { force: true }).catch(() => undefined)
    for (const folder of folders.reverse()) await rmdir(folder).catch(() => undefined)
    throw error
  }
}

/** A folder that was made and those below it down to another, from the outside in. */
function between(first: string, last: string): readonly string[] {
  const found = [last]
  for (let at = last; at !== first && dirname(at) !== at; at = dirname(at)) found.unshift(dirname(at))
  return found
}

async function createWhole(path: string, text: string): Promise<void> {
  try {
    await createNew(path, text)
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'EEXIST') throw new CannotRun(`There is a file ${path} already; it is not written over. Nothing is written.`)
    throw new CannotRun(`${path} cannot be written: ${whyNot(path, error, 'file')}. Nothing is written.`)
  }
}

/** A new file, whole or not at all. Rejects with what Node tells. */
export async function createNew(path: string, text: string): Promise<void> {
  const own = join(dirname(path), `.${basename(path)}.${process.pid}.tmp`)
  try {
    await writeFile(own, text)
    // A second name never replaces a file. Where a disk knows no second names, the file is made in place.
    await link(own, path).catch(async (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') throw error
      await writeFile(path, text, { flag: 'wx' })
    })
  } finally {
    await rm(own, { force: true }).catch(() => undefined)
  }
}
