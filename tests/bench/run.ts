// `npm run bench`: measures everything in one run, ours and the peers' on the same texts, prints one table and writes dist/bench.json.
// `npm run bench -- --only server,peers` measures some sections: start server peers shop memory core package.
// `npm run bench -- --profile` says instead where our server's time goes at a keystroke, part by part, from V8 CPU profiles (kept in dist/).
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { availableParallelism, cpus, loadavg, platform, release, tmpdir, totalmem } from 'node:os'
import { join } from 'node:path'
import { measureBigShop, measureCheck, writeShop } from './big-shop.ts'
import { type Bundles, bundles, ROOT } from './bundles.ts'
import { shares } from './cpu-profile.ts'
import { installYamlServer, measureBareServer, measureLibraries, measureYamlServer, measureYamlServerStart } from './peers.ts'
import { runToEnd } from './probe.ts'
import { Report } from './report.ts'
import { measureAtLength, measureMemory, measureStarts } from './server.ts'
import { Session } from './session.ts'
import { dayBefore, keystrokes, LONG_PROFILE, PLACES, profileOfLines } from './texts.ts'

const SAMPLE = join(ROOT, 'samples', 'tern-quay')
const LENGTHS = [120, 300, 2000]
const CPU_TARGET: Readonly<Record<number, number>> = { 120: 1, 300: 2, 2000: 8 }

const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1]!.split(',') : undefined
const wanted = (section: string): boolean => only === undefined || only.includes(section)
// One date for the whole run, so that a run across midnight measures one text.
const today = new Date()
const report = new Report()
const temp = mkdtempSync(join(tmpdir(), 'rollbook-bench-'))
const details: Record<string, unknown> = { date: dayBefore(today, 0), machine: machine() }

try {
  const made = await bundles(temp)
  const shop = join(temp, 'shop')
  cpSync(SAMPLE, shop, { recursive: true })
  if (process.argv.includes('--profile')) await profileKeystrokes(made, shop)
  else await measure(made, shop)
} finally {
  rmSync(temp, { recursive: true, force: true })
}

async function measure(made: Bundles, shop: string): Promise<void> {
  process.stderr.write(`${machine()}\n`)
  const peer = wanted('peers') ? installYamlServer() : { missing: 'left out' }
  const yamlServer = 'missing' in peer ? undefined : peer
  if (wanted('start')) {
    const section = 'Spawn to the first right diagnostics, 120 lines'
    const { ours, bare, node, rss } = await measureStarts(made, shop, today, 11)
    report.add(section, 'ours, wall', ours.wall, { unit: 'ms' })
    report.add(section, 'bare bundled server, wall', bare.wall, { unit: 'ms' })
    report.add(section, 'ours to bare, wall', ours.wall / bare.wall, { unit: 'x', atMost: 1.5 })
    report.add(section, 'ours, CPU', ours.cpu, { unit: 'ms' })
    report.add(section, 'bare bundled server, CPU', bare.cpu, { unit: 'ms' })
    report.add(section, 'ours to bare, CPU', ours.cpu / bare.cpu, { unit: 'x', atMost: 1.5 })
    report.add(section, 'node -e 0, wall', node.wall, { unit: 'ms' })
    report.add(section, 'node -e 0, CPU', node.cpu, { unit: 'ms' })
    report.add(section, 'ours, resident when idle', rss.ours, { unit: 'MB' })
    report.add(section, 'bare bundled server, resident when idle', rss.bare, { unit: 'MB' })
    if (yamlServer) {
      const start = await measureYamlServerStart(yamlServer, shop, today, 5)
      report.add(section, `${yamlServer.name}, wall`, start.wall, { unit: 'ms' })
      report.add(section, `${yamlServer.name}, CPU`, start.cpu, { unit: 'ms' })
      report.add(section, `${yamlServer.name}, resident when idle`, start.rss, { unit: 'MB' })
    }
    details.starts = { ours, bare, node }
  }
  const libraries = wanted('peers') ? await measureLibraries(made, temp, LENGTHS, today) : {}
  for (const lines of LENGTHS) {
    const section = `A keystroke in a profile of ${lines} lines (${(profileOfLines(lines, today).length / 1000).toFixed(0)} kB)`
    if (wanted('server')) {
      const at = await measureAtLength(made.server, shop, lines, today)
      report.add(section, 'ours, CPU, diagnostics included', at.typing.cpu, { unit: 'ms', atMost: CPU_TARGET[lines]! })
      report.add(section, 'ours, CPU, after 1,000 keystrokes more', at.longRun.cpu, {
        unit: 'ms',
        note: `p50 ${at.longRun.p50.toFixed(1)} ms, p95 ${at.longRun.p95.toFixed(1)} ms`,
      })
      report.add(section, 'ours, to diagnostics, p50', at.typing.p50, { unit: 'ms', note: places(at.typing.byPlace) })
      report.add(section, 'ours, to diagnostics, p95', at.typing.p95, { unit: 'ms' })
      report.add(section, 'ours, hover right after, p50', at.hover.p50, { unit: 'ms' })
      report.add(section, 'ours, hover right after, p95', at.hover.p95, { unit: 'ms', atMost: 2 })
      for (const [name, answers] of [
        ['completion', at.completion],
        ['code action', at.codeAction],
        ['inlay hints', at.inlay],
      ] as const) {
        report.add(section, `ours, ${name} right after, p50`, answers.p50, {
          unit: 'ms',
          note: `p95 ${answers.p95.toFixed(1)} ms`,
        })
      }
      details[`server ${lines}`] = at
    }
    const library = libraries[lines]
    if (library) {
      report.add(section, 'yaml parseDocument in process, CPU', library.parse.cpu, { unit: 'ms' })
      report.add(section, 'yaml + ajv in process, CPU', library.ajv.cpu, { unit: 'ms' })
      const bare = await measureBareServer(made, shop, lines, today)
      report.add(section, 'bare bundled server, CPU', bare.cpu, { unit: 'ms', note: `p50 ${bare.p50.toFixed(1)} ms` })
      details[`libraries ${lines}`] = library
      details[`bare ${lines}`] = bare
    }
    if (yamlServer) {
      const { typing, hover, completion } = await measureYamlServer(yamlServer, shop, lines, today)
      report.add(section, `${yamlServer.name}, CPU`, typing.cpu, { unit: 'ms' })
      report.add(section, `${yamlServer.name}, to diagnostics, p50`, typing.p50, {
        unit: 'ms',
        note: 'it waits 200 ms by design',
      })
      report.add(section, `${yamlServer.name}, to diagnostics, p95`, typing.p95, { unit: 'ms' })
      report.add(section, `${yamlServer.name}, hover right after, p50`, hover.p50, {
        unit: 'ms',
        note: `p95 ${hover.p95.toFixed(1)} ms`,
      })
      report.add(section, `${yamlServer.name}, completion right after, p50`, completion.p50, { unit: 'ms' })
      details[`yaml server ${lines}`] = { typing, hover, completion }
    } else if (wanted('peers')) report.add(section, 'yaml-language-server', (peer as { missing: string }).missing)
  }
  if (wanted('shop')) await measureShops(made)
  if (wanted('memory')) await measureHeld(made, shop)
  if (wanted('core')) {
    const section = 'Parts of the core, median of the CPU time'
    const { output } = await runToEnd([made.core, shop, dayBefore(today, 0)])
    const rows = JSON.parse(output) as { name: string; median: number; p99: number }[]
    for (const row of rows) {
      const atMost = row.name === 'all rules after an edit, every calculation anew, 120 lines' ? { atMost: 1 } : {}
      report.add(section, row.name, row.median, { unit: 'ms', note: `p99 ${row.p99.toPrecision(2)} ms`, ...atMost })
    }
    details.core = rows
  }
  if (wanted('package')) measurePackage()
  const table = `${machine()}\nmeasured on ${dayBefore(today, 0)}; CPU is user and system time of the process, all threads; ${load()}\n\n${report.table()}\n`
  process.stdout.write(`\n${table}`)
  mkdirSync(join(ROOT, 'dist'), { recursive: true })
  writeFileSync(join(ROOT, 'dist', 'bench.json'), `${JSON.stringify({ ...details, rows: report.rows }, null, 2)}\n`)
}

async function measureHeld(made: Bundles, shop: string): Promise<void> {
  const section = 'Heap of the server after a collection'
  const { edited, with200, afterClosing, afterClosingAgain } = await measureMemory(made.server, shop, today)
  const [at1, at4, at10, at20] = edited.map((m) => m.heap) as [number, number, number, number]
  const resident = ({ rss }: { rss: number }): { unit: string; note: string } => ({
    unit: 'MB',
    note: `resident ${rss.toFixed(0)} MB`,
  })
  report.add(section, 'after 1,000 edits of 300 lines', at1, resident(edited[0]!))
  report.add(section, 'after 10,000 edits', at10, { ...resident(edited[2]!), note: `${at4.toFixed(1)} after 4,000` })
  report.add(section, 'after 20,000 edits', at20, resident(edited[3]!))
  report.add(section, 'growth from 10,000 to 20,000 edits', 100 * (at20 / at10 - 1), { unit: '%', atMost: 5 })
  // Until then the engine still compiles what was used seldom before.
  report.add(section, 'growth from 4,000 to 10,000 edits', 100 * (at10 / at4 - 1), { unit: '%' })
  report.add(section, '200 more documents of 300 lines open', with200.heap, resident(with200))
  report.add(section, 'after closing everything', afterClosing.heap, resident(afterClosing))
  report.add(section, 'more than while one was edited', 100 * (afterClosing.heap / at20 - 1), { unit: '%', atMost: 5 })
  report.add(section, 'after opening and closing all again', afterClosingAgain.heap, resident(afterClosingAgain))
  report.add(section, 'more than after the first time', 100 * (afterClosingAgain.heap / afterClosing.heap - 1), {
    unit: '%',
    atMost: 5,
  })
  details.memory = { edited, with200, afterClosing, afterClosingAgain }
}

async function measureShops(made: Bundles): Promise<void> {
  const section = 'A shop of 10,000 profiles'
  const read = (path: string): string => readFileSync(join(SAMPLE, path), 'utf8')
  const big = join(temp, 'big')
  const bytes = writeShop(big, 10_000, today, read)
  const { index, bare } = await measureBigShop(made, big, 10_000, bytes, 3)
  report.add(section, 'documents indexed', index.documents, { note: `${(bytes / 1e6).toFixed(1)} MB of text` })
  report.add(section, 'reading them in, CPU', index.cpu, { unit: 'ms', note: `wall ${index.wall.toFixed(0)} ms` })
  report.add(section, 'bare yaml parseDocument of the same bytes, CPU', bare.cpu, {
    unit: 'ms',
    note: `wall ${bare.wall.toFixed(0)} ms`,
  })
  report.add(section, 'ours to bare, CPU', index.cpu / bare.cpu, { unit: 'x', atMost: 1.5 })
  report.add(section, 'heap held', index.heap, { unit: 'MB', atMost: 150, note: `process resident ${index.rss.toFixed(0)} MB` })
  details.shop = { index, bare, bytes }
  const small = join(temp, 'thousand')
  writeShop(small, 1000, today, read)
  const checkSection = 'rollbook check on 1,000 profiles, cold'
  const checked = await measureCheck(made.cli, small, 1000)
  report.add(checkSection, 'CPU', checked.cpu, { unit: 'ms', note: `status ${checked.status}; ${checked.said}` })
  report.add(checkSection, 'wall', checked.wall, { unit: 'ms', atMost: 3000 })
  details.check = checked
}

function measurePackage(): void {
  const section = 'The extension package'
  const file = join(ROOT, 'rollbook.vsix')
  if (!existsSync(file)) {
    report.add(section, 'rollbook.vsix', 'not measured: run `npm run package` first')
    return
  }
  const bytes = readFileSync(file)
  report.add(section, 'size', bytes.length / 1000, { unit: 'kB', atMost: 600 })
  // The end record of a ZIP file tells its number of entries; two of them are the packager's own.
  const end = bytes.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'))
  report.add(section, 'files', bytes.readUInt16LE(end + 10), { atMost: 25 })
}

async function profileKeystrokes(made: Bundles, shop: string): Promise<void> {
  mkdirSync(join(ROOT, 'dist'), { recursive: true })
  for (const lines of LENGTHS) {
    const text = profileOfLines(lines, today)
    const session = await Session.start(made.namedServer, {}, shop, LONG_PROFILE, text)
    for (const { stroke } of keystrokes(text, 192)) await session.type(stroke)
    await session.probe.startProfile()
    const strokes = keystrokes(text, 480)
    for (const { stroke } of strokes) await session.type(stroke)
    const profile = await session.probe.stopProfile()
    await session.end()
    writeFileSync(join(ROOT, 'dist', `keystroke-${lines}.cpuprofile`), JSON.stringify(profile))
    const { parts, functions } = shares(profile, made.namedServer, strokes.length)
    const total = parts.reduce((sum, p) => sum + p.ms, 0)
    const list = (of: typeof parts, most: number): string =>
      of
        .slice(0, most)
        .map(({ part, ms }) => `  ${ms.toFixed(3).padStart(8)} ms  ${((100 * ms) / total).toFixed(0).padStart(3)} %  ${part}`)
        .join('\n')
    process.stdout.write(
      `\n${lines} lines: ${total.toFixed(2)} ms a keystroke on the main thread, of ${PLACES.length} places\n${list(parts, 40)}\n  by function alone:\n${list(functions, 15)}\n`,
    )
  }
}

function places(byPlace: Readonly<Record<string, number>>): string {
  return Object.entries(byPlace)
    .map(([place, ms]) => `${place} ${ms.toFixed(1)}`)
    .join(', ')
}

/** Wall times say little where others are at work too. */
function load(): string {
  return `the machine's load was ${loadavg()[1]!.toFixed(1)} at the end`
}

function machine(): string {
  const model = cpus()[0]?.model ?? 'unknown processor'
  return `${availableParallelism()} cores of ${model}, ${Math.round(totalmem() / 2 ** 30)} GB, ${platform()} ${release()}, Node ${process.versions.node}`
}
