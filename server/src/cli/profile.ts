// The profile that a command is given: by its file, or by its id in the shop of the current folder.

import { resolve } from 'node:path'
import { nearest } from '../base/nearest.ts'
import { lastPart } from '../base/uri.ts'
import type { Lacking } from '../model/lacking.ts'
import type { Setup } from '../model/setup.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Bench, demandName, documentAt, openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { unjudgedOf } from './unjudged.ts'

interface Named {
  readonly bench: Bench
  /** The file as a person knows it. */
  readonly shown: string
  readonly setup: Setup
  /** What the numbers rest on and could not be read: sentences. */
  readonly notChecked: readonly string[]
}

/** The one profile a command is given. Throws `CannotRun` where it is none or holds nothing. `holds` tells what only profiles hold. */
export async function profileOf(
  cli: CliHost,
  { positionals: [argument, ...others] }: Options,
  at: (doing: string) => void,
  {
    command,
    holds,
    doing,
    rests = () => true,
  }: {
    readonly command: string
    readonly holds: string
    readonly doing: string
    /** Whether the numbers rest on something that the profile names and nobody can read. */
    readonly rests?: (lacking: Lacking, setup: Setup) => boolean
  },
): Promise<Named> {
  if (argument === undefined || others.length > 0)
    throw new CannotRun(`rollbook ${command} takes one profile: its file or its id.${seeHelp(command)}`)
  const bench = openBench(cli)
  at(`looking for the profile ${argument}`)
  const file = await profileFile(cli, bench, argument, holds).catch((error) => {
    // What could not be read may be what was meant.
    tellTroubles(cli, bench)
    throw error
  })
  const shown = bench.shown(file)
  at(`${doing} ${shown}`)
  const setup = await setupOf(bench, file, shown)
  const unjudged = (await unjudgedOf(bench, file)).filter(({ lacking }) => !lacking || rests(lacking, setup))
  const notChecked = [...new Set(unjudged.map(({ text }) => text))]
  for (const text of notChecked) bench.trouble(text)
  return { bench, shown, setup, notChecked }
}

/** The setup of a profile, with all it needs loaded. */
export async function setupOf(bench: Bench, file: string, shown: string): Promise<Setup> {
  if (!(await bench.workspace.load(file)))
    throw new CannotRun(`${shown} cannot be read: ${bench.workspace.whyUnreadable(file) ?? 'it is no document of ours.'}`)
  await bench.workspace.prepare(file)
  const setup = bench.analysis.context(file)?.setup
  if (!setup) throw new CannotRun(`${shown} holds no settings that can be read: 'rollbook check ${shown}' says why.`)
  return setup
}

/** The file of a profile given by its path or, in the shop of the current folder, by its id. */
export async function profileFile(cli: CliHost, bench: Bench, argument: string, holds: string): Promise<string> {
  demandName(argument)
  const path = resolve(cli.cwd, argument)
  const kind = await cli.look(path)
  if (kind === 'file') {
    const file = documentAt(path, argument)
    if (kindOfFile(file) !== 'media')
      throw new CannotRun(`'${argument}' is not a profile: only profiles (*.media.yaml) hold ${holds}.`)
    await bench.addShopsOf(path, 'file')
    return file
  }
  if (kind === 'folder') throw new CannotRun(`'${argument}' is a folder: name one profile in it.`)
  return profileWithId(bench, await bench.addShopsOf(cli.cwd, 'folder'), argument)
}

export async function profileWithId(bench: Bench, folder: string, id: string): Promise<string> {
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
  const namesake = profiles.find((file) => baseName(file) === id)
  if (namesake !== undefined) throw new CannotRun(otherName(bench, namesake, id))
  const meant = nearest(id, profiles.map(baseName))
  throw new CannotRun(
    `There is no profile '${id}' here, and no such file.${meant === undefined ? '' : ` Do you mean '${meant}'?`}`,
  )
}

/** Why a file that is named as it should be holds no profile of that id. */
function otherName(bench: Bench, file: string, id: string): string {
  const shown = bench.shown(file)
  const unreadable = bench.workspace.whyUnreadable(file)
  if (unreadable !== undefined) return `${shown} cannot be read: ${unreadable}`
  const other = [...bench.workspace.shelf(file).all('media')].find((facts) => facts.file === file)?.values.profile
  const why = other === undefined ? 'does not say how its profile is named' : `names its profile '${other.text}'`
  return `There is no profile '${id}' here: ${shown} ${why}. Put that right in the file, or give the file instead of a name.`
}

/** What a profile's id must be, by its file. */
const baseName = (file: string): string => decodeURIComponent(lastPart(file)).replace(/\.media\.yaml$/, '')
