// The core's parts by themselves, the package, and where a keystroke's time goes.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { ROOT } from '../bundles.ts'
import { type Block, inRounds, load } from '../context.ts'
import { type Share, shares } from '../cpu-profile.ts'
import { BURST, keys, PLACES } from '../keys.ts'
import { runToEnd } from '../probe.ts'
import { Session } from '../session.ts'
import { dayBefore, LONG_PROFILE, measuredTexts } from '../texts.ts'
import { PACE } from './keystroke.ts'

export const core: Block = {
  name: 'core',
  about: "the core's parts in process",
  async run({ made, report, shop, today }) {
    const { output } = await runToEnd([made.core, shop, dayBefore(today, 0)])
    for (const { name, median, p99 } of JSON.parse(output) as { name: string; median: number; p99: number }[])
      report.add('Parts of the core, median of the CPU time', name, median, { unit: 'ms', note: `p99 ${p99.toPrecision(2)} ms` })
  },
}

export const activation: Block = {
  name: 'activation',
  about: 'loading and activating the extension in a window without a document of ours',
  async run(context) {
    const rounds = await inRounds(context, async () => {
      const { output } = await runToEnd([context.made.activation, context.made.extension])
      return JSON.parse(output) as { cpu: number; wall: number }
    })
    const section = `Activation of the extension (load ${load()})`
    for (const key of ['wall', 'cpu'] as const)
      context.report.add(
        section,
        key === 'cpu' ? 'CPU' : 'wall',
        rounds.map((round) => round[key]),
        { unit: 'ms', ...(key === 'wall' && { atMost: 25 }) },
      )
  },
}

export const extension: Block = {
  name: 'package',
  about: 'size and files of rollbook.vsix',
  async run({ report }) {
    const section = 'The extension package'
    const file = join(ROOT, 'rollbook.vsix')
    if (!existsSync(file)) {
      report.add(section, 'rollbook.vsix', 'left out: run `npm run package` first')
      return
    }
    const bytes = readFileSync(file)
    report.add(section, 'size', bytes.length / 1000, { unit: 'kB', atMost: 700 })
    // The end record of a ZIP file tells its number of entries; two of them are the packager's own.
    const end = bytes.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'))
    report.add(section, 'files', bytes.readUInt16LE(end + 10), { atMost: 30 })
  },
}

export const profile: Block = {
  name: 'profile',
  about: "no rows: where our server's time goes at a keystroke, from V8 CPU profiles, which are kept in dist/",
  onDemand: true,
  async run({ made, shop, today }) {
    mkdirSync(join(ROOT, 'dist'), { recursive: true })
    for (const [at, text] of measuredTexts(today).entries()) {
      for (const [pace, count] of [
        [0, 20 * BURST],
        [PACE, 8 * BURST],
      ] as const) {
        const session = await Session.start(made.namedServer, {}, shop, LONG_PROFILE, text.text)
        const typist = keys(text.text, PLACES)
        await session.warmUp(typist, pace === 0 ? 1000 : BURST)
        await session.probe.startProfile()
        await session.measureTyping(typist, count, pace)
        const taken = await session.probe.stopProfile()
        await session.end()
        writeFileSync(join(ROOT, 'dist', `keystroke-${at}-${pace}.cpuprofile`), JSON.stringify(taken))
        const { parts, functions } = shares(taken, made.namedServer, count)
        const total = parts.reduce((sum, p) => sum + p.ms, 0)
        const how = pace === 0 ? 'back to back, warm' : `every ${pace} ms, from the first keys`
        process.stdout.write(
          `\n${text.name}, ${how}: ${total.toFixed(2)} ms a keystroke on the main thread\n${list(parts, total, 40)}\n  by function alone:\n${list(functions, total, 15)}\n`,
        )
      }
    }
  },
}

function list(of: readonly Share[], total: number, count: number): string {
  return of
    .slice(0, count)
    .map(({ part, ms }) => `  ${ms.toFixed(3).padStart(8)} ms  ${((100 * ms) / total).toFixed(0).padStart(3)} %  ${part}`)
    .join('\n')
}
