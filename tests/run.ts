// `npm test`: everything, each step as a developer runs it alone; then one table and the sums.
// What a step needs and the machine lacks (a Chromium, the workbench host) is installed first, where that is allowed.
import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { constants, setPriority, tmpdir } from 'node:os'
import { join } from 'node:path'
import { findChromium } from './editor/host/browser.ts'
import { installed } from './editor/host/setup.ts'
import { installPackages } from './support/debian.ts'

interface Outcome {
  readonly name: string
  readonly passed: number
  readonly failed: number
  readonly seconds: number
}

interface Step {
  readonly name: string
  readonly command: readonly string[]
  /** How many tests passed and failed; without it, the step as a whole is one. */
  readonly count?: (output: string) => { passed: number; failed: number } | undefined
  /** Leaves the processor to what runs beside it. */
  readonly givesWay?: boolean
}

const START = Date.now()
const ROOT = join(import.meta.dirname, '..')
const reports = mkdtempSync(join(tmpdir(), 'rollbook-reports-'))

const EDITOR = 'tests/editor/vitest.config.ts'
/** What types and clicks in a workbench from beginning to end, the longest. */
const BY_HAND = ['ui', 'typing'].map((name) => `tests/editor/${name}.test.ts`)
const NOT_BY_HAND = BY_HAND.flatMap((file) => ['--exclude', file])

/**
 * One after another; of each the lists run side by side. The editors need the package's bundles. An editor waits half of its time, so two of them share two
 * cores; one that shared them with the unit tests left out a key now and then.
 */
const STAGES: readonly (readonly (readonly Step[])[])[] = [
  [
    [{ name: 'package', command: ['npm', 'run', '--silent', 'package'], count: withoutWarnings }],
    [
      { name: 'types', command: ['npx', 'tsc', '-p', '.', '--noEmit'] },
      { name: 'lint', command: ['npx', 'biome', 'check'] },
      { name: 'generated files', command: ['npx', 'tsx', 'server/tools/gen.ts', '--check'] },
    ],
  ],
  [
    [vitest('workbench', EDITOR, BY_HAND)],
    [
      { name: 'extension host', command: ['npx', 'tsx', 'tests/editor/run.ts'], count: fromSummary, givesWay: true },
      { ...vitest('pages and hosts', EDITOR, NOT_BY_HAND), givesWay: true },
    ],
  ],
  [[vitest('unit and language', 'tests/vitest.config.ts')]],
]

const outcomes: Outcome[] = []
try {
  prepareTheEditor()
  // Its first stage builds the bundles that the tests of them take.
  process.env.BUILT = '1'
  for (const stage of STAGES) await Promise.all(stage.map(inTurn))
} finally {
  rmSync(reports, { recursive: true, force: true })
}
report()

async function inTurn(steps: readonly Step[]): Promise<void> {
  for (const step of steps) outcomes.push(await run(step))
}

/** The package holds the bundles, so `package` builds too; a warning of the packager counts as a failure. */
function withoutWarnings(output: string): { passed: number; failed: number } {
  const warned = /\bWARN(ING)?\b/.test(output)
  return { passed: warned ? 0 : 1, failed: warned ? 1 : 0 }
}

function fromSummary(output: string): { passed: number; failed: number } | undefined {
  const found = /(\d+) passed, (\d+) failed/.exec(output)
  return found ? { passed: Number(found[1]), failed: Number(found[2]) } : undefined
}

function vitest(name: string, config: string, more: readonly string[] = []): Step {
  const report = join(reports, `${name.replaceAll(' ', '-')}.json`)
  return {
    name,
    command: [
      'npx',
      'vitest',
      'run',
      '--config',
      config,
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
      ...more,
    ],
    count: () => {
      const { numPassedTests, numFailedTests } = JSON.parse(readFileSync(report, 'utf8'))
      return { passed: numPassedTests, failed: numFailedTests }
    },
  }
}

async function run({ name, command, count, givesWay = false }: Step): Promise<Outcome> {
  process.stdout.write(`== ${name} ...\n`)
  const start = Date.now()
  const { status, output } = await said(command, givesWay)
  // Whole, since what two steps say would be mixed.
  process.stdout.write(`\n== ${name}\n${output}\n`)
  const counted = countOr(count, output)
  const passed = counted?.passed ?? (status === 0 ? 1 : 0)
  // A step that ends badly has failed, whatever it counted.
  const failed = Math.max(counted?.failed ?? 0, status === 0 ? 0 : 1)
  return { name, passed, failed, seconds: (Date.now() - start) / 1000 }
}

function countOr(count: Step['count'], output: string): { passed: number; failed: number } | undefined {
  try {
    return count?.(output)
  } catch {
    return undefined // No report was written: the exit status speaks.
  }
}

function said([command = '', ...args]: readonly string[], givesWay: boolean): Promise<{ status: number; output: string }> {
  return new Promise((done) => {
    const child = spawn(command, args, { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] })
    // Before it starts others, which take it over.
    if (givesWay && child.pid !== undefined) setPriority(child.pid, constants.priority.PRIORITY_BELOW_NORMAL)
    let output = ''
    const take = (chunk: Buffer): void => {
      output += chunk
    }
    child.stdout.on('data', take)
    child.stderr.on('data', take)
    child.on('error', (error) => done({ status: 1, output: `${output}${error.message}` }))
    child.on('close', (status) => done({ status: status ?? 1, output }))
  })
}

function prepareTheEditor(): void {
  if (findChromium() === undefined) installPackages('chromium')
  if (findChromium() === undefined) throw new Error('the editor tests need Chromium: install it, or name it in CHROMIUM_PATH')
  process.stdout.write(`== workbench host: ${installed()}\n`)
}

function report(): void {
  const rows = outcomes.map(
    ({ name, passed, failed, seconds }) =>
      `${failed === 0 ? 'ok    ' : 'FAILED'} ${name.padEnd(18)} ${String(passed).padStart(5)} passed ${String(failed).padStart(3)} failed ${seconds.toFixed(0).padStart(4)} s`,
  )
  const passed = outcomes.reduce((sum, outcome) => sum + outcome.passed, 0)
  const failed = outcomes.reduce((sum, outcome) => sum + outcome.failed, 0)
  process.stdout.write(
    `\n${rows.join('\n')}\n\n${passed} passed, ${failed} failed, in ${((Date.now() - START) / 1000).toFixed(0)} s\n`,
  )
  process.exitCode = failed === 0 ? 0 : 1
}
