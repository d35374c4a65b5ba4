// The host on Node: files by `file:` URIs, read asynchronously; a bounded walk that stays out of folders that hold no profiles.
import { lstatSync, readFile as readFileWith, type Stats, stat as statWith } from 'node:fs'
import { open, readdir, readFile, realpath, stat } from 'node:fs/promises'
import { basename, isAbsolute, join, relative, sep } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { normalUri } from '../base/uri.ts'
import { kindOfFile } from '../schema/schema.ts'
import { CannotRead, type Host, isOtherYaml, textIn, today, tooLarge, type Unlisted } from './host.ts'

const SKIPPED = new Set(['node_modules', '.git', 'dist', '.hg', '.svn'])
/** An editor's lock on a file it has open: a link to nowhere, named after the file. */
const LOCK = '.#'
const DEEPEST = 32
const MAX_FILES = 100_000
/** Larger files are not even looked at. What is smaller and still no document is told by a rule. */
const MAX_MEGABYTES = 64

/** Node's own promises of files take twice as long, which thousands of documents make felt. */
const quickStat = (path: string): Promise<Stats> =>
  new Promise((done, fail) => statWith(path, (error, found) => (error ? fail(error) : done(found))))
const quickRead = (path: string): Promise<string> =>
  new Promise((done, fail) => readFileWith(path, 'utf8', (error, text) => (error ? fail(error) : done(text))))

export class NodeHost implements Host {
  constructor(private readonly write: (level: 'error' | 'info', message: string) => void = () => undefined) {}

  async list(
    folder: string,
    depth?: number,
    unlisted: Unlisted = this.logUnlisted,
    others?: (file: string) => void,
  ): Promise<readonly string[]> {
    const walk = new Walk((path, reason) => unlisted(fileUri(path), reason), others && ((path) => others(fileUri(path))))
    await walk.below(pathOf(folder), depth)
    return walk.found.map((path) => fileUri(path))
  }

  async read(file: string): Promise<string> {
    const path = pathOf(file)
    try {
      const text = await this.textAt(path)
      // Only a text that has the mark of a replaced letter may have been read wrong.
      if (text.includes('\ufffd')) textIn(await readFile(path))
      return text
    } catch (error) {
      throw new CannotRead(basename(path), whyNot(path, error, 'file'), isGone(path, error))
    }
  }

  async readBytes(file: string, most: number): Promise<Uint8Array> {
    const path = pathOf(file)
    try {
      const found = await stat(path)
      demandRegular(found)
      if (found.size > most) throw new Error(tooLarge(found.size, most))
      return await bytesAt(path, found.size)
    } catch (error) {
      throw new CannotRead(basename(path), whyNot(path, error, 'file'), isGone(path, error))
    }
  }

  /** The text of the file at a path, by the way that holds nothing else up. */
  protected async textAt(path: string): Promise<string> {
    demandText(await quickStat(path))
    return quickRead(path)
  }

  today(): string {
    return today()
  }

  log(level: 'error' | 'info', message: string): void {
    this.write(level, message)
  }

  private readonly logUnlisted: Unlisted = (place, reason) =>
    this.log('error', `${basename(pathOf(place))} cannot be listed: ${reason}`)
}

interface LinkedFolder {
  readonly path: string
  /** The real folder in which the link stands. */
  readonly within: string
  readonly deeper: number
}

/** One walk below a folder. Links are followed; each real folder is read once, so that links that lead in circles end. */
class Walk {
  readonly found: string[] = []
  private readonly seen = new Set<string>()
  private readonly links: LinkedFolder[] = []
  private top = ''
  private bounded = false
  private full = false

  constructor(
    private readonly unlisted: (path: string, reason: string) => void,
    private readonly other?: (path: string) => void,
  ) {}

  async below(folder: string, depth: number | undefined): Promise<void> {
    this.bounded = depth === undefined
    try {
      this.top = await realpath(folder)
    } catch (error) {
      return this.unlisted(folder, whyNot(folder, error, 'folder'))
    }
    await this.readFolder(folder, this.top, Math.min(depth ?? DEEPEST, DEEPEST))
    // Linked folders come last, so that what stands in the tree itself goes by its own name; and by name, so that of two links to one
    // folder the same is followed every time.
    while (this.links.length > 0) {
      const links = this.links.splice(0).sort((a, b) => (a.path < b.path ? -1 : 1))
      for (const link of links) await this.follow(link)
    }
  }

  private async readFolder(folder: string, real: string, deeper: number): Promise<void> {
    this.seen.add(real)
    try {
      for (const entry of await readdir(folder, { withFileTypes: true })) {
        const { name } = entry
        if (SKIPPED.has(name) || name.startsWith(LOCK)) continue
        if (this.found.length >= MAX_FILES) return this.tellFull(folder)
        const path = `${folder.replace(/[\\/]$/, '')}/${name}`
        if (entry.isSymbolicLink()) await this.look(path, real, deeper)
        else if (entry.isDirectory()) {
          if (this.mayEnter(path, deeper)) await this.readFolder(path, join(real, name), deeper - 1)
        } else if (kindOfFile(name)) this.found.push(path)
        else if (this.other && isOtherYaml(name)) this.other(path)
      }
    } catch (error) {
      this.unlisted(folder, whyNot(folder, error, 'folder'))
    }
  }

  /** What a link leads to. One that leads nowhere is a file that cannot be read, by its name, or else perhaps a folder. */
  private async look(path: string, within: string, deeper: number): Promise<void> {
    const ours = kindOfFile(path) !== undefined
    try {
      const target = await stat(path)
      if (!target.isDirectory()) {
        if (ours) this.found.push(path)
      } else if (this.mayEnter(path, deeper)) this.links.push({ path, within, deeper: deeper - 1 })
    } catch (error) {
      if (ours) this.found.push(path)
      else if (deeper > 0) this.unlisted(path, whyNot(path, error, 'folder'))
    }
  }

  private tellFull(folder: string): void {
    if (!this.full) this.unlisted(folder, `there are more than ${MAX_FILES} documents, and the rest are not read`)
    this.full = true
  }

  private mayEnter(path: string, deeper: number): boolean {
    if (deeper === 0 && this.bounded) this.unlisted(path, `it lies more than ${DEEPEST} folders deep`)
    return deeper > 0
  }

  private async follow({ path, within, deeper }: LinkedFolder): Promise<void> {
    try {
      const real = await realpath(path)
      if (this.seen.has(real) || isWithin(within, real) || isWithin(this.top, real)) return
      await this.readFolder(path, real, deeper)
    } catch (error) {
      this.unlisted(path, whyNot(path, error, 'folder'))
    }
  }
}

/** Whether a path is a folder's own, or lies somewhere below it. */
export function isWithin(path: string, folder: string): boolean {
  const way = relative(folder, path)
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way))
}

/** So many bytes of a file and no more, though it grow meanwhile. */
async function bytesAt(path: string, size: number): Promise<Uint8Array> {
  const file = await open(path)
  try {
    const bytes = new Uint8Array(size)
    let got = 0
    while (got < size) {
      const { bytesRead } = await file.read(bytes, got, size - got, got)
      if (bytesRead === 0) break
      got += bytesRead
    }
    return bytes.subarray(0, got)
  } finally {
    await file.close()
  }
}

/** Throws, with the reason, for what is there and cannot be read to an end as a text. */
export function demandText(found: Stats): void {
  demandRegular(found)
  const megabytes = found.size / 2 ** 20
  if (megabytes > MAX_MEGABYTES)
    throw new Error(`it is ${Math.round(megabytes)} MB large, and documents up to 2 MB are read. Is it the right file?`)
}

/** Throws, with the reason, for what is no regular file: one that is read to an end. */
function demandRegular(found: Stats): void {
  if (found.isDirectory()) throw new Error('it is a folder')
  if (found.isFIFO()) throw new Error('it is a pipe between programs and no regular file')
  if (!found.isFile()) throw new Error('it is a device and no regular file')
}

export function pathOf(uri: string): string {
  if (sep === '/' && PLAIN_URI.test(uri)) return uri.slice(FILE.length)
  try {
    return fileURLToPath(uri)
  } catch {
    throw new CannotRead(uri, "it is not a place on this machine's disk", true)
  }
}

/** Why something at a path could not be read or listed, for a person. */
export function whyNot(path: string, error: unknown, kind: 'file' | 'folder'): string {
  const { code = '', message } = error as NodeJS.ErrnoException
  if (isGone(path, error)) return `there is no such ${kind}`
  if (code === 'ENOENT') return 'it is a link, and what it leads to is not there'
  return REASONS[code] ?? message
}

/** Whether nothing stands at a path, not even a link. */
function isGone(path: string, error: unknown): boolean {
  const { code } = error as NodeJS.ErrnoException
  return code === 'ENOTDIR' || (code === 'ENOENT' && !isLink(path))
}

function isLink(path: string): boolean {
  try {
    return lstatSync(path).isSymbolicLink()
  } catch {
    return false
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'permission is denied',
  EISDIR: 'it is a folder',
  ELOOP: 'it is a link that leads back to itself',
  EPERM: 'permission is denied',
}

/** Most paths are spelled alike in a URI, and need none of its rules, which cost more than to read a file. */
export const fileUri = (path: string): string =>
  sep === '/' && PLAIN_PATH.test(path) ? FILE + path : normalUri(pathToFileURL(path).href)

const FILE = 'file://'
/** From the root, without a step that leads back and without a letter that is written otherwise in a URI. */
const PLAIN_PATH = /^(?:\/(?!\.\.?(?:\/|$))[\w.~-]+)+$/
const PLAIN_URI = /^file:\/\/(?:\/(?!\.\.?(?:\/|$))[\w.~-]+)+$/
