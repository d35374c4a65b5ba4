// A profile as it stood, from now back through git: each time with the commit that brought it so, whichever of its documents that changed, and by the name it
// had then.

import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Commit, Line } from '../host/revisions.ts'
import type { RollDocument } from '../model/document.ts'
import { resolveSetup, type Setup } from '../model/setup.ts'
import { type Bench, openBench } from './bench.ts'
import type { CliHost } from './host.ts'
import { type Moment, momentAt, plainly } from './moment.ts'

export interface Stand {
  /** The commit that brought it so; until the one of the stand before this in the walk, it stood. */
  readonly commit: Commit
  readonly file: string
  /** As on a day; undefined where its text held no settings that could be read. */
  readonly on: (day: string) => Setup | undefined
}

/** The newest first. Ends with the commit that the profile came with, or where the walker stops asking. Throws `CannotRun`. */
export async function* standsOf(cli: CliHost, line: Line, newest: string): AsyncGenerator<Stand> {
  let file = newest
  let at: string | undefined = (await plainly(line.commit('HEAD'))).id
  let brought: Commit | undefined
  while (at !== undefined) {
    const moment: Omit<Moment, 'commit'> = await momentAt(cli, line, at, cli.host.today())
    if (!moment.files.has(file)) {
      const before: string | undefined = brought && (await plainly(line.nameBefore(brought, file)))
      if (before === undefined || !moment.files.has(before)) return
      file = before
    }
    const on = await openedAt(openBench(moment.cli), file)
    const now = on(cli.host.today())
    brought = await plainly(line.changing(at, now ? filesOf(now) : [file]))
    if (!brought) return
    yield { commit: brought, file, on }
    at = brought.parent
  }
}

async function openedAt(bench: Bench, file: string): Promise<Stand['on']> {
  await bench.addShopsOf(dirname(fileURLToPath(file)), 'folder')
  const document = (await bench.workspace.load(file)) as RollDocument<'media'> | undefined
  await bench.workspace.prepare(file)
  return (day) => document && resolveSetup(document, bench.workspace.shelf(file), day)
}

/** Every document that a setup rests on. */
export function filesOf({ file, bases, stock, printer, shop }: Setup): readonly string[] {
  const others = [stock, printer, shop.document].flatMap((document) => document?.$.file ?? [])
  return [...new Set([file, ...bases.map((base) => base.file), ...others])]
}
