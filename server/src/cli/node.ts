// The command line's effects on Node.
import { readFileSync, statSync } from 'node:fs'
import { lstat, stat, writeFile } from 'node:fs/promises'
import { demandText, NodeHost, whyNot } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { VERSION } from '../version.ts'
import { CannotRun, type CliHost } from './host.ts'

export function nodeCliHost(): CliHost {
  // A reader that has seen enough (`rollbook check | head`) closes the pipe; that is no failure of ours.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? 0 : 2))
  return {
    host: new CliNodeHost(),
    get cwd() {
      return currentFolder()
    },
    env: process.env,
    isTty: process.stdout.isTTY === true,
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    look,
    create,
    startServer,
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
}

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
    await writeFile(path, text, { flag: 'wx' })
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    if (code === 'EEXIST') throw new CannotRun(`There is a file ${path} already; it is not written over.`)
    if (code === 'ENOENT') throw new CannotRun(`There is no folder for ${path}.`)
    throw new CannotRun(code === 'EACCES' ? `${path} cannot be written: permission is denied.` : message)
  }
}

/** Loaded only now, so that no other command pays for it: the bundle beside this one, or the source where there is none. */
async function startServer(): Promise<void> {
  const server = VERSION === DEVELOPMENT ? '../main-node.ts' : './server.cjs'
  await import(server)
}

const DEVELOPMENT = '0.0.0-dev'
