// `rollbook feed`: the whole reckoning of one profile's feed, for a person or as JSON.

import { resolve } from 'node:path'
import { nearest } from '../base/nearest.ts'
import { feedOf } from '../model/feed.ts'
import type { Setup } from '../model/setup.ts'
import { reckoningText } from '../report/reckoning-text.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Bench, documentAt, openBench } from './bench.ts'
import { feedJson } from './feed-json.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'

export async function feed(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [argument, ...others] = options.positionals
  if (argument === undefined || others.length > 0)
    throw new CannotRun(`rollbook feed takes one profile: its file or its id.${seeHelp('feed')}`)
  const bench = openBench(cli)
  at(`looking for the profile ${argument}`)
  const file = await profileFile(cli, bench, argument)
  const shown = bench.shown(file)
  at(`reckoning the feed of ${shown}`)
  const setup = await setupOf(bench, file, shown)
  if (options.has('json')) cli.out(`${JSON.stringify(feedJson(setup, shown), null, 2)}\n`)
  else cli.out(reckoningText(setup).split('\n').map(printable).join('\n'))
  for (const trouble of new Set([...bench.troubles, ...bench.asides])) cli.err(`${printable(trouble)}\n`)
  return feedOf(setup).reckoning?.wanted ? EXIT.clean : EXIT.findings
}

async function setupOf(bench: Bench, file: string, shown: string): Promise<Setup> {
  if (!(await bench.workspace.load(file))) throw new CannotRun(bench.workspace.whyUnreadable(file) ?? `${shown} cannot be read.`)
  await bench.workspace.prepare(file)
  const setup = bench.analysis.context(file)?.setup
  if (!setup) throw new CannotRun(`${shown} holds no settings that can be read: 'rollbook check ${shown}' says why.`)
  return setup
}

/** The file of a profile given by its path or, in the shop of the current folder, by its id. */
async function profileFile(cli: CliHost, bench: Bench, argument: string): Promise<string> {
  const path = resolve(cli.cwd, argument)
  const kind = await cli.look(path)
  if (kind === 'file') {
    const file = documentAt(path, argument)
    if (kindOfFile(file) !== 'media')
      throw new CannotRun(`'${argument}' is not a profile: only profiles (*.media.yaml) hold a feed.`)
    await bench.addShopsOf(path, 'file')
    return file
  }
  if (kind === 'folder') throw new CannotRun(`'${argument}' is a folder: name one profile in it.`)
  return profileWithId(bench, await bench.addShopsOf(cli.cwd, 'folder'), argument)
}

async function profileWithId(bench: Bench, folder: string, id: string): Promise<string> {
  const profiles = (await bench.documentsBelow(folder)).filter((file) => kindOfFile(file) === 'media')
  const named = profiles.filter((file) =>
    bench.workspace
      .shelf(file)
      .withId('media', id)
      .some((facts) => facts.file === file),
  )
  if (named.length === 1) return named[0]!
  if (named.length > 1)
    throw new CannotRun(`More than one profile is named '${id}': ${named.map(bench.shown).sort().join(' and ')}. Name the file.`)
  const meant = nearest(id, profiles.map(baseName))
  throw new CannotRun(
    `There is no profile '${id}' here, and no such file.${meant === undefined ? '' : ` Do you mean '${meant}'?`}`,
  )
}

/** What a profile's id must be, by its file. */
const baseName = (file: string): string => decodeURIComponent(file.slice(file.lastIndexOf('/') + 1)).replace(/\.media\.yaml$/, '')
