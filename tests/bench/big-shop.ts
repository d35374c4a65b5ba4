// Ten thousand profiles on disk: reading them in, holding them, and checking a thousand from the command line.
import { mkdirSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Bundles } from './bundles.ts'
import { median, runToEnd } from './probe.ts'
import { bigShop } from './texts.ts'

export interface Indexed {
  readonly wall: number
  readonly cpu: number
  readonly documents: number
  /** MB more than before, after a collection. */
  readonly heap: number
  /** MB of the whole process, after a collection. */
  readonly rss: number
}

export interface BigShop {
  readonly profiles: number
  readonly bytes: number
  readonly index: Indexed
  readonly bare: Indexed
}

/** Writes a shop; returns the bytes of all its documents. */
export function writeShop(folder: string, profiles: number, today: Date, read: (path: string) => string): number {
  let bytes = 0
  for (const [path, text] of bigShop(profiles, today, read)) {
    const file = join(folder, path)
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, text)
    bytes += statSync(file).size
  }
  return bytes
}

export async function measureBigShop(
  bundles: Bundles,
  folder: string,
  profiles: number,
  bytes: number,
  runs: number,
): Promise<BigShop> {
  const index: Indexed[] = []
  const bare: Indexed[] = []
  for (let i = 0; i < runs; i++) {
    bare.push(JSON.parse((await runToEnd(['--expose-gc', bundles.workspace, 'bare', folder])).output))
    index.push(JSON.parse((await runToEnd(['--expose-gc', bundles.workspace, 'index', folder])).output))
  }
  return { profiles, bytes, index: medianOf(index), bare: medianOf(bare) }
}

const medianOf = (list: readonly Indexed[]): Indexed => ({
  wall: median(list.map((l) => l.wall)),
  cpu: median(list.map((l) => l.cpu)),
  documents: list[0]!.documents,
  heap: median(list.map((l) => l.heap)),
  rss: median(list.map((l) => l.rss)),
})

export interface Checked {
  readonly profiles: number
  readonly wall: number
  readonly cpu: number
  readonly status: number | null
  /** The last line it printed. */
  readonly said: string
}

/** `rollbook check` on a shop, cold. */
export async function measureCheck(cli: string, folder: string, profiles: number): Promise<Checked> {
  const { wall, cpu, status, output } = await runToEnd([cli, 'check', folder])
  return { profiles, wall, cpu, status, said: output.trimEnd().split('\n').at(-1) ?? '' }
}
