// The general YAML language server on the same texts, installed outside of the repository, beside a bare bundled server and the libraries.
import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { ROOT } from '../bundles.ts'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { keys, PLACES, placeOf } from '../keys.ts'
import { node24 } from '../nodes.ts'
import { Session, type SessionOptions, type Typing } from '../session.ts'
import { LONG_PROFILE, measuredTexts, profileOfLines, type Text } from '../texts.ts'
import { BACK_TO_BACK, inProcess } from './keystroke.ts'
import { medianStart, startOnce } from './start.ts'

const YAML_SERVER = 'yaml-language-server@2.0.0'

export const peers: Block = {
  name: 'peers',
  about: 'the general YAML language server, a bare bundled server and the libraries on the same texts',
  async run(context) {
    const { made, report, shop, today } = context
    const peer = installed()
    for (const text of measuredTexts(today)) {
      const section = `Peers: ${text.name} (load ${load()})`
      const checked = await inRounds(context, () => inProcess(context, 'ajv', text, BACK_TO_BACK))
      report.add(
        section,
        'yaml + ajv in process, warm, CPU a keystroke',
        checked.map(([, warm]) => warm),
        { unit: 'ms' },
      )
      const bare = await inRounds(context, () => typed(context, made.bareServer, {}, text, 192, 96))
      report.add(
        section,
        'bare bundled server, CPU a keystroke',
        bare.map((b) => b.cpu),
        { unit: 'ms' },
      )
      if ('missing' in peer) {
        report.add(section, YAML_SERVER, peer.missing)
        continue
      }
      const theirs = await inRounds(context, () => asked(context, peer, text))
      report.add(
        section,
        `${peer.name}, CPU a keystroke`,
        theirs.map((t) => t.typing.cpu),
        { unit: 'ms' },
      )
      report.add(
        section,
        `${peer.name}, to diagnostics`,
        theirs.map((t) => t.typing.p50),
        { unit: 'ms', note: 'it waits 200 ms by design' },
      )
      report.add(
        section,
        `${peer.name}, hover right after, p50`,
        theirs.map((t) => t.hover.p50),
        { unit: 'ms' },
      )
      report.add(
        section,
        `${peer.name}, completion right after, p50`,
        theirs.map((t) => t.completion.p50),
        { unit: 'ms' },
      )
    }
    if ('missing' in peer) return
    const text = profileOfLines(120, today)
    const start = await medianStart(5, () => startOnce(peer.script, peer.options, shop, text, 1500))
    const section = `Peers: spawn to the first right diagnostics, 120 lines (load ${load()})`
    report.add(section, `${peer.name}, wall`, start.wall, { unit: 'ms' })
    report.add(section, `${peer.name}, CPU`, start.cpu, { unit: 'ms' })
    report.add(section, `${peer.name}, resident when idle`, start.rss, { unit: 'MB' })
  },
}

interface Peer {
  readonly name: string
  readonly script: string
  readonly options: SessionOptions
}

/** The general YAML language server in a cache folder, on the newer Node that it wants; or the reason why it cannot be had. */
function installed(): Peer | { readonly missing: string } {
  const cache = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'rollbook-bench')
  const folder = join(cache, 'node_modules/yaml-language-server')
  const node = node24()
  if ('missing' in node) return node
  if (!existsSync(folder)) {
    try {
      mkdirSync(cache, { recursive: true })
      const install = ['install', '--prefix', cache, '--no-audit', '--no-fund', '--silent', YAML_SERVER]
      execFileSync('npm', install, { stdio: 'ignore', timeout: 180_000 })
    } catch (error) {
      return { missing: `left out: it cannot be installed here (${(error as Error).message.split('\n', 1)[0]})` }
    }
  }
  const { version } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  const script = join(folder, 'bin/yaml-language-server')
  return { name: `yaml-language-server ${version}`, script, options: { node: node.path, configuration: settings } }
}

async function typed(
  { shop }: Context,
  script: string,
  options: SessionOptions,
  { text }: Text,
  count: number,
  warm: number,
): Promise<Typing> {
  const session = await Session.start(script, options, shop, LONG_PROFILE, text)
  const typist = keys(text, PLACES)
  await session.warmUp(typist, warm)
  const typing = await session.measureTyping(typist, count, 0)
  await session.end()
  return typing
}

/** Fewer keystrokes than ours: each waits for the server's own fixed pause before it validates. */
async function asked({ shop }: Context, { script, options }: Peer, { text }: Text) {
  const session = await Session.start(script, options, shop, LONG_PROFILE, text)
  const typist = keys(text, PLACES)
  await session.warmUp(typist, 24)
  const typing = await session.measureTyping(typist, 48, 0)
  const hover = await session.measureRequest('textDocument/hover', typist, 24, 0, placeOf(text, 'middle check') - 3)
  // It completes keys and choices only, so it is asked for a key.
  const completion = await session.measureRequest('textDocument/completion', typist, 24, 0, text.indexOf('\nslot:') + 1)
  await session.end()
  return { typing, hover, completion }
}

function settings(section: string): unknown {
  if (section !== 'yaml') return null
  const schema = pathToFileURL(join(ROOT, 'schemas/media.schema.json')).href
  return { validate: true, hover: true, completion: true, schemaStore: { enable: false }, schemas: { [schema]: '*.media.yaml' } }
}
