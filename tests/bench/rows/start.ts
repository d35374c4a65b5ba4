// Starting up: the server to its first right diagnostics beside a bare one, and the command line beside a bare Node. CPU time is judged: on a
// busy machine the wall clock tells of the others.
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Block, load } from '../context.ts'
import { LspClient } from '../lsp-client.ts'
import { node24 } from '../nodes.ts'
import { median, Probe, type RunOptions, runToEnd } from '../probe.ts'
import { pause, type SessionOptions } from '../session.ts'
import { LONG_PROFILE, profileOfLines } from '../texts.ts'

/** Starts a round: each is short, and no two are alike. */
const STARTS = 6

/** From Node 22 on the engine keeps what it compiled; a first start has none of that. */
const UNCACHED = { NODE_DISABLE_COMPILE_CACHE: '1' }

interface Engine extends RunOptions {
  readonly name: string
}

function engines(): { all: Engine[]; missing?: string } {
  const all: Engine[] = [{ name: `Node ${process.versions.node}`, env: UNCACHED }]
  const newer = node24()
  if ('missing' in newer) return { all, missing: newer.missing }
  all.push({ name: `Node ${newer.version.slice(1)}`, node: newer.path, env: UNCACHED })
  all.push({ name: `Node ${newer.version.slice(1)} with its compile cache`, node: newer.path })
  return { all }
}

export const start: Block = {
  name: 'start',
  about: 'spawn to the first right diagnostics, beside a bare bundled server',
  async run(context) {
    const { made, report, shop } = context
    const text = profileOfLines(120, context.today)
    const { all, missing } = engines()
    for (const [i, engine] of all.entries()) {
      const section = `Spawn to the first right diagnostics, 120 lines, ${engine.name} (load ${load()})`
      const pairs: [ours: Once, bare: Once][] = []
      const ours = (): Promise<Once> => startOnce(made.server, engine, shop, text)
      // What an engine keeps, it keeps from the start before.
      await ours()
      for (let n = 0; n < STARTS * context.rounds; n++) {
        pairs.push([await ours(), await startOnce(made.bareServer, engine, shop, text)])
      }
      const row = (
        name: string,
        of: (pair: readonly [ours: Once, bare: Once]) => number,
        more: { unit: string; atMost?: number },
      ) => report.add(section, name, pairs.map(of), more)
      const atMost = [{ atMost: 1.15 }, { atMost: 1.3 }, {}][i]!
      row('ours to bare, CPU', ([o, b]) => o.cpu / b.cpu, { unit: 'x', ...atMost })
      row('ours to bare, wall', ([o, b]) => o.wall / b.wall, { unit: 'x' })
      row('ours, CPU', ([o]) => o.cpu, { unit: 'ms' })
      row('ours, wall', ([o]) => o.wall, { unit: 'ms' })
      row('bare bundled server, CPU', ([, b]) => b.cpu, { unit: 'ms' })
      row('bare bundled server, wall', ([, b]) => b.wall, { unit: 'ms' })
    }
    if (missing) report.add('Spawn to the first right diagnostics, 120 lines, Node 24', 'ours to bare', missing)
  },
}

export const commands: Block = {
  name: 'commands',
  about: '`--version` and `check` of one profile, beside `node -e 0`',
  async run(context) {
    const { made, report, shop } = context
    const one = join('profiles', readdirSync(join(shop, 'profiles')).find((name) => name.endsWith('.media.yaml'))!)
    const { all, missing } = engines()
    for (const [i, engine] of all.entries()) {
      const section = `The command line, ${engine.name} (load ${load()})`
      const runs: { wall: number; cpu: number }[][] = []
      const what: readonly (readonly [name: string, args: readonly string[], target: number])[] = [
        ['node -e 0', ['-e', '0'], 1],
        ['--version', [made.cli, '--version'], 1.3],
        ['check of one profile', [made.cli, 'check', one], 2],
      ]
      for (const [, args] of what) await runToEnd(args, { ...engine, cwd: shop })
      for (let n = 0; n < STARTS * context.rounds; n++) {
        const turn = []
        for (const [, args] of what) turn.push(await runToEnd(args, { ...engine, cwd: shop }))
        runs.push(turn)
      }
      const row = (name: string, of: (turn: (typeof runs)[number]) => number, more: { unit: string; atMost?: number }) =>
        report.add(section, name, runs.map(of), more)
      row('node -e 0, CPU', ([bare]) => bare!.cpu, { unit: 'ms' })
      what.slice(1).forEach(([name, , atMost], k) => {
        row(`${name} to node -e 0, CPU`, (t) => t[k + 1]!.cpu / t[0]!.cpu, { unit: 'x', ...(i === 0 && { atMost }) })
        row(`${name} to node -e 0, wall`, (t) => t[k + 1]!.wall / t[0]!.wall, { unit: 'x' })
        row(`${name}, wall`, (t) => t[k + 1]!.wall, { unit: 'ms' })
      })
    }
    if (missing) report.add('The command line, Node 24', 'check of one profile', missing)
  },
}

export interface Once {
  readonly wall: number
  readonly cpu: number
  /** MB of the process when all is still. */
  readonly rss: number
}

/** One start. The first right diagnostics are known only in the end, so each publication is noted with its time and cost so far. */
export async function startOnce(
  script: string,
  options: SessionOptions,
  shop: string,
  text: string,
  settle = 700,
): Promise<Once> {
  const probe = new Probe(script, { ...options, args: ['--stdio'] })
  const client = new LspClient(probe, options.configuration)
  const root = pathToFileURL(shop).href
  const uri = `${root}/${LONG_PROFILE}`
  const seen: { wall: number; cpu: Promise<number>; what: string }[] = []
  client.onPublished((published) => {
    if (published.uri !== uri) return
    const what = JSON.stringify(published.diagnostics)
    seen.push({ wall: performance.now() - probe.started, cpu: probe.cpu(), what })
  })
  await client.initialize(root)
  client.open(uri, text)
  while (seen.length === 0) await pause(20)
  await pause(settle)
  const right = seen.find((s) => s.what === seen.at(-1)!.what)!
  const once = { wall: right.wall, cpu: await right.cpu, rss: probe.rss() }
  await probe.kill()
  return once
}

/** The same several times: medians. */
export async function medianStart(runs: number, begin: () => Promise<Once>): Promise<Once> {
  const all: Once[] = []
  for (let i = 0; i < runs; i++) all.push(await begin())
  return { wall: median(all.map((a) => a.wall)), cpu: median(all.map((a) => a.cpu)), rss: median(all.map((a) => a.rss)) }
}
