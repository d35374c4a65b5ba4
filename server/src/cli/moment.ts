// The documents as they were: a day or a revision of git as the effects of a command, so that it reads them as if they stood on disk, with that day as
// today. A day is the shop's, along the first parents of what is checked out: what was merged counts from the day it was merged.
import { join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fileUri } from '../host/node.ts'
import { type Commit, type Line, NoHistory } from '../host/revisions.ts'
import { LiveDocument } from '../model/document.ts'
import type { ShopDocument } from '../model/generated/documents.ts'
import { isDate } from '../model/read.ts'
import { nameThen } from '../review/that-day.ts'
import { openBench, shopAbove } from './bench.ts'
import { CannotRun, type CliHost } from './host.ts'
import type { Options } from './options.ts'
import { profileFile } from './profile.ts'

export interface Moment {
  /** The command's effects on the documents as they were. */
  readonly cli: CliHost
  readonly commit: Commit
  /** The documents that were there. */
  readonly files: ReadonlySet<string>
  /** The day it answers for: the one asked for, or that of the revision. */
  readonly day: string
}

/** The history of the shop that the current folder is in. Throws `CannotRun` where it cannot be read whole. */
export async function lineOf(cli: CliHost): Promise<Line> {
  const folder = (await shopAbove(cli, cli.cwd)) ?? cli.cwd
  return plainly(cli.revisions.whole(fileUri(folder), await zoneOf(cli, folder)))
}

/** The time zone that a shop's document gives, as it stands now: a shop does not move. */
async function zoneOf(cli: CliHost, folder: string): Promise<string | undefined> {
  const file = fileUri(join(folder, 'rollbook.yaml'))
  const text = await cli.host.read(file).catch(() => '')
  const shop = new LiveDocument(file, 'shop', text).content as ShopDocument | undefined
  return shop?.['time-zone']?.value
}

/** What a history rejects with, as a sentence for a person. */
export const plainly = <T>(asked: Promise<T>): Promise<T> =>
  asked.catch((error) => {
    throw error instanceof NoHistory ? new CannotRun(error.message) : error
  })

/** A day (YYYY-MM-DD, not after today) or any name that git has for a revision. */
export async function momentOf(cli: CliHost, line: Line, when: string): Promise<Moment> {
  if (!isDate(when)) {
    const commit = await plainly(line.commit(when))
    return { ...(await momentAt(cli, line, commit.id, commit.day)), commit }
  }
  if (when > cli.host.today()) throw new CannotRun(`${when} is after today: nothing of that day is written yet.`)
  const commit = await plainly(line.on(when))
  return { ...(await momentAt(cli, line, commit.id, when)), commit }
}

/** The documents of one commit, with a day for today. */
export async function momentAt(cli: CliHost, line: Line, commit: string, day: string): Promise<Omit<Moment, 'commit'>> {
  const host = await plainly(line.hostAt(commit, day))
  const files = new Set(await host.list(''))
  const look = async (path: string): Promise<'file' | 'folder' | undefined> => {
    const file = fileUri(path)
    if (files.has(file)) return 'file'
    const folder = `${file.replace(/\/$/, '')}/`
    return path === cli.cwd || [...files].some((one) => one.startsWith(folder)) ? 'folder' : undefined
  }
  return { cli: Object.create(cli, { host: { value: host }, look: { value: look } }), files, day }
}

/** The options of a command for one profile, with the profile as it was called then. Throws `CannotRun` where it was not there yet. */
export async function asNamedThen(cli: CliHost, line: Line, moment: Moment, options: Options, holds: string): Promise<Options> {
  const [argument, ...others] = options.positionals
  if (argument === undefined || others.length > 0) return options
  const now = await profileFile(cli, openBench(cli), argument, holds).catch((error) => {
    if (error instanceof CannotRun) return undefined
    throw error
  })
  // One that is gone by now is looked for by its name among the documents of then.
  const then = now === undefined ? undefined : await plainly(nameThen(line, moment, now, argument))
  if (now === undefined && (await moment.cli.look(resolve(cli.cwd, argument))) === undefined)
    await profileFile(moment.cli, openBench(moment.cli), argument, holds)
  return then === undefined ? options : { ...options, positionals: [fileURLToPath(then)] }
}
