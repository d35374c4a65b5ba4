// The command line's effects on Node.
import { closeSync, constants, openSync, readFileSync, readSync, statSync } from 'node:fs'
import { lstat, readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises'
import { availableParallelism } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { demandText, NodeHost, pathOf, whyNot } from '../host/node.ts'
import { GitRevisions } from '../host/node-git.ts'
import { kindOfFile } from '../schema/schema.ts'
import { BUNDLED } from '../version.ts'
import { CannotRun, type CliHost } from './host.ts'
import { createAll, createNew } from './node-create.ts'
import { nameFor } from './node-kept.ts'
import { printPdf } from './node-pdf.ts'
import { talk } from './node-talk.ts'
import { thread } from './node-thread.ts'

export function nodeCliHost(): CliHost {
  return {
    host: new CliNodeHost(),
    get cwd() {
      return currentFolder()
    },
    env: process.env,
    isTty: process.stdout.isTTY === true,
    isWatched: process.stderr.isTTY === true,
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    look,
    create,
    createAll,
    talk,
    rewrite,
    discard,
    stdin,
    // Only one command prints.
    printPdf,
    revisions: new GitRevisions(),
    startServer,
    get cores() {
      return availableParallelism()
    },
    thread,
  }
}

/** Asked for only where a command needs it: help and version are told wherever one stands. */
function currentFolder(): string {
  try {
    return process.cwd()
  } catch {
    throw new CannotRun('The folder this was called in is not there any more. Change to one that is, and try again.')
  }
}

class CliNodeHost extends NodeHost {
  override async read(file: string): Promise<string> {
    const text = await super.read(file)
    // Editors hide the byte order mark, and columns are counted as in editors.
    return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text
  }

  /** A command has nothing else to do meanwhile, and a file read at once costs a fraction of one waited for. */
  protected override async textAt(path: string): Promise<string> {
    demandText(statSync(path))
    return readFileSync(path, 'utf8')
  }

  nameOf(file: string): string | undefined {
    try {
      // Nobody waits for a pipe that nothing comes out of.
      const at = openSync(pathOf(file), constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
      try {
        let size = 0
        for (let got = -1; got !== 0; size += got) got = readSync(at, AT_ONCE, size, AT_ONCE.length - size, null)
        return size > 0 && size < AT_ONCE.length ? nameFor(AT_ONCE.subarray(0, size)) : undefined
      } finally {
        closeSync(at)
      }
    } catch {
      return undefined
    }
  }
}

/** Room for the bytes of a file; larger ones are read by a longer way. */
const AT_ONCE = Buffer.allocUnsafeSlow(2 ** 20)

async function look(path: string): Promise<'file' | 'folder' | undefined> {
  try {
    const found = await stat(path)
    return found.isDirectory() ? 'folder' : 'file'
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    const link = code === 'ELOOP' || (code === 'ENOENT' && (await lstat(path).catch(() => undefined)) !== undefined)
    // A document that is a link to nowhere stands there all the same: reading it tells what is wrong.
    if (link && kindOfFile(path)) return 'file'
    if (!link && (code === 'ENOENT' || code === 'ENOTDIR')) return undefined
    throw new CannotRun(link || code === 'EACCES' ? `${path} cannot be looked at: ${whyNot(path, error, 'file')}.` : message)
  }
}

async function create(path: string, text: string): Promise<void> {
  try {
    await createNew(path, text)
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    if (code === 'EEXIST') throw new CannotRun(`There is a file ${path} already; it is not written over.`)
    if (code === 'ENOENT') throw new CannotRun(`There is no folder for ${path}.`)
    throw new CannotRun(code === 'EACCES' ? `${path} cannot be written: permission is denied.` : message)
  }
}

/** By a file of its own beside it, so that the text is there whole or as it was, whatever happens meanwhile. */
async function rewrite(file: string, before: string, after: string): Promise<void> {
  const shown = fileURLToPath(file)
  let fresh: string | undefined
  try {
    // What a link leads to is written, and the link stays.
    const path = await realpath(shown)
    const bytes = await readFile(path)
    const text = bytes.toString('utf8')
    const mark = text.charCodeAt(0) === 0xfeff ? text[0]! : ''
    if (text.slice(mark.length) !== before)
      throw new CannotRun(`${shown} was changed by somebody else meanwhile, and is left as it is. Try again.`)
    const { mode } = await stat(path)
    const own = join(dirname(path), `.${basename(path)}.${process.pid}.tmp`)
    fresh = own
    await writeFile(own, mark + after, { flag: 'wx', mode })
    await rename(own, path)
  } catch (error) {
    if (fresh !== undefined) await rm(fresh, { force: true }).catch(() => undefined)
    if (error instanceof CannotRun) throw error
    throw new CannotRun(`${shown} cannot be written: ${whyNot(shown, error, 'file')}.`)
  }
}

async function discard(path: string, before: string): Promise<void> {
  try {
    if ((await readFile(path, 'utf8')) !== before)
      throw new CannotRun(`${path} was changed by somebody else meanwhile, and is left as it is. Try again.`)
    await rm(path)
  } catch (error) {
    if (error instanceof CannotRun) throw error
    throw new CannotRun(`${path} cannot be taken away: ${whyNot(path, error, 'file')}.`)
  }
}

async function stdin(): Promise<string> {
  const chunks: Buffer[] = []
  let size = 0
  for await (const chunk of process.stdin) {
    chunks.push(chunk as Buffer)
    size += (chunk as Buffer).length
    if (size > MAX_INPUT) throw new CannotRun('Standard input is larger than any document. Is it the right file?')
  }
  const bytes = Buffer.concat(chunks)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    throw new CannotRun('Standard input is not UTF-8 text.')
  }
}

const MAX_INPUT = 64 * 2 ** 20

/** Loaded only now, so that no other command pays for it: the bundle beside this one, or the source where there is none. */
async function startServer(): Promise<void> {
  const server = BUNDLED ? './server.cjs' : '../main-server.ts'
  await import(server)
}
