// What another thread does for `rollbook check`: it is told once what is known of the shop, so that it lists nothing and reads what it judges
// alone, then of one document after the other, and gives each verdict as it would be made in the first thread.
import type { Host } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import type { Facts } from '../model/facts.ts'
import { openBench } from './bench.ts'
import type { CliHost } from './host.ts'
import { Judging, type Made } from './judging.ts'
import { asStaged } from './since.ts'
import { type ReadText, Texts } from './texts.ts'

/** The shop as the first thread knows it, in plain values. */
export interface Known {
  readonly cwd: string
  readonly env: CliHost['env']
  readonly today: string
  /** Whether the documents are those that git has staged. */
  readonly staged: boolean
  /** Whether the verdicts are kept, so that it counts what was asked for them and read. */
  readonly keeping: boolean
  readonly roots: readonly string[]
  readonly files: readonly string[]
  /** Of the files that could be read. */
  readonly facts: ReadonlyMap<string, Facts>
  /** Folders that could not be listed, each with the reason. */
  readonly unlisted: readonly (readonly [folder: string, reason: string])[]
  readonly unmerged: readonly string[]
}

/** A document that was judged. */
export interface Told extends Made {
  readonly file: string
  /** What was not judged meanwhile, a sentence each. */
  readonly troubles: readonly string[]
  /** The names of the texts that were read meanwhile, by file. */
  readonly read: readonly ReadText[]
}

/** Gives what judges one document after the other. */
export async function judgingOf(node: CliHost, known: Known): Promise<(file: string) => Promise<Told>> {
  const here: CliHost = Object.create(node, { cwd: { value: known.cwd }, env: { value: known.env } })
  const { host } = known.staged ? await asStaged(here) : here
  const plain: Host = {
    list: async (folder, _, unlisted) => {
      for (const one of known.unlisted) unlisted?.(...one)
      return known.files.filter((file) => file.startsWith(folder))
    },
    read: (file) => host.read(file),
    readBytes: (file, most) => host.readBytes(file, most),
    today: () => known.today,
    log: () => undefined,
  }
  const texts = known.keeping ? new Texts(plain) : undefined
  const bench = openBench(Object.create(here, { host: { value: texts?.host ?? plain } }))
  for (const file of known.unmerged) bench.workspace.unmerged.add(file)
  for (const root of known.roots) await bench.workspace.addFolder(fileUri(root), known.facts)
  const judging = new Judging(here, bench, known.keeping)
  return async (file) => {
    const before = bench.troubles.length
    const made = await judging.make(file)
    judging.release(file)
    return { ...made, file, troubles: bench.troubles.slice(before), read: texts?.readSince() ?? [] }
  }
}
