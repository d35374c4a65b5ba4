// `npm run bench`: measures everything in one run, ours and what it is compared with on the same texts, prints one table with the targets
// beside the figures and writes dist/bench.json. `npm run bench -- paced start` runs some blocks alone; `--rounds 1` measures once instead of
// three times; `--full` adds what takes many minutes; `--help` lists the blocks.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { availableParallelism, cpus, platform, release, tmpdir, totalmem } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { bundles, ROOT } from './bundles.ts'
import { type Block, type Context, load } from './context.ts'
import { Report } from './report.ts'
import { answers } from './rows/answers.ts'
import { check, shop as tenThousand } from './rows/check.ts'
import { paced, typing } from './rows/keystroke.ts'
import { burst, open } from './rows/many.ts'
import { growth, memory } from './rows/memory.ts'
import { peers } from './rows/peers.ts'
import { rename } from './rows/rename.ts'
import { activation, core, extension, profile } from './rows/rest.ts'
import { review } from './rows/review.ts'
import { commands, start } from './rows/start.ts'
import { whole } from './rows/whole.ts'
import { sampleFiles, writeShop } from './shops.ts'
import { dayBefore } from './texts.ts'

const BLOCKS: readonly Block[] = [
  paced,
  typing,
  answers,
  open,
  burst,
  whole,
  start,
  memory,
  growth,
  check,
  commands,
  tenThousand,
  rename,
  review,
  core,
  peers,
  activation,
  extension,
  profile,
]

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    rounds: { type: 'string', default: '3' },
    full: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
})
const unknown = positionals.filter((name) => !BLOCKS.some((block) => block.name === name))
const rounds = Number(values.rounds)
if (values.help || unknown.length > 0 || !(rounds >= 1)) {
  const blocks = BLOCKS.map(({ name, about }) => `  ${name.padEnd(10)}${about}`).join('\n')
  process.stdout.write(`npm run bench -- [block ...] [--rounds 3] [--full]\n\n${blocks}\n`)
  process.exitCode = values.help ? 0 : 2
} else await run(BLOCKS.filter(({ name, onDemand }) => (positionals.length > 0 ? positionals.includes(name) : !onDemand)))

async function run(blocks: readonly Block[]): Promise<void> {
  const today = new Date()
  const report = new Report()
  const temp = mkdtempSync(join(tmpdir(), 'rollbook-bench-'))
  const head = `${machine()}\nmeasured on ${dayBefore(today, 0)}, the median of ${rounds}; CPU is user and system time of the whole process, all threads`
  try {
    process.stderr.write(`${head}\n`)
    const shop = join(temp, 'shop')
    writeShop(shop, sampleFiles())
    const context: Context = { made: await bundles(temp), today, temp, shop, report, rounds, full: values.full }
    for (const block of blocks) await block.run(context)
  } finally {
    rmSync(temp, { recursive: true, force: true })
  }
  if (report.rows.length === 0) return
  process.stdout.write(`\n${head}; load ${load()} at the end\n\n${report.table()}\n`)
  mkdirSync(join(ROOT, 'dist'), { recursive: true })
  const written = { date: dayBefore(today, 0), machine: machine(), rounds, rows: report.rows }
  writeFileSync(join(ROOT, 'dist', 'bench.json'), `${JSON.stringify(written, null, 2)}\n`)
}

function machine(): string {
  const model = cpus()[0]?.model ?? 'unknown processor'
  return `${availableParallelism()} cores of ${model}, ${Math.round(totalmem() / 2 ** 30)} GB, ${platform()} ${release()}, Node ${process.versions.node}`
}
