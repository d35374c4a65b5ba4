// `npm run mutate -- [folder, file or pattern …] [--seed 1] [--count 150] [--wide] [--list]`: does a test fail when the code is a little wrong?
// A seeded sample of mutants of each folder, one at a time; those that no test fails over are shown. `--wide` lets whatever survives its own
// tests meet all that can see it, which takes minutes a folder more; `--list` shows the mutants and runs nothing; `--count all` takes each.
import { parseArgs } from 'node:util'
import { Chance } from '../support/chance.ts'
import { EQUIVALENT, type Equivalent } from './equivalent.ts'
import { Judge, type Verdict } from './judge.ts'
import { applied, linesOf, type Mutant, mutantsOf } from './mutants.ts'
import { filesOf, read, testsOf } from './tests-of.ts'

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seed: { type: 'string', default: '1' },
    count: { type: 'string', default: '150' },
    wide: { type: 'boolean', default: false },
    list: { type: 'boolean', default: false },
  },
})
const patterns = positionals.length > 0 ? positionals : ['server/src/calc', 'server/src/{rules,areas/*/rules}/*.ts']

interface Candidate extends Mutant {
  readonly file: string
  readonly source: string
  readonly line: number
  readonly was: string
  readonly now: string
}

const unused = new Set(EQUIVALENT)
const judge = new Judge()
try {
  const rows: string[] = []
  for (const pattern of patterns) rows.push(await group(pattern))
  tell(`\n${rows.join('\n')}`)
} finally {
  await judge.close()
}
process.exit() // A worker in a loop may still be ending.

async function group(pattern: string): Promise<string> {
  const files = filesOf(pattern)
  if (files.length === 0) throw new Error(`no source file matches ${pattern}`)
  const all = files.flatMap(candidates)
  noteUnknown(files, all)
  const sample = sampled(all)
  if (options.list) {
    for (const mutant of sample) tell(shown(mutant))
    return `${pattern}: ${sample.length} of ${all.length} mutants listed`
  }
  const tally: Record<Verdict | 'equivalent', number> = { killed: 0, 'timed out': 0, survived: 0, equivalent: 0 }
  const start = performance.now()
  for (const [index, mutant] of sample.entries()) {
    const verdict = EQUIVALENT.some((entry) => isOf(entry, mutant)) ? 'equivalent' : await judged(mutant)
    tally[verdict]++
    if (verdict === 'survived' || verdict === 'timed out') tell(`${verdict.toUpperCase()} ${shown(mutant)}`)
    if ((index + 1) % 50 === 0) tell(`  ${index + 1} of ${sample.length}, ${seconds(start)} s`)
  }
  const dead = tally.killed + tally['timed out']
  const score = ((100 * dead) / (dead + tally.survived)).toFixed(1)
  return `${pattern}: ${score} % of ${dead + tally.survived} killed (${tally['timed out']} by time), ${tally.survived} survived; ${tally.equivalent} equivalent; seed ${options.seed}, of ${all.length}; ${seconds(start)} s`
}

function candidates(file: string): readonly Candidate[] {
  const source = read(file)
  return mutantsOf(source).map((mutant) => ({ ...mutant, file, source, ...linesOf(source, mutant) }))
}

/** The first so many of all, shuffled: a larger count keeps what a smaller one took. */
function sampled(all: readonly Candidate[]): readonly Candidate[] {
  const chance = new Chance(Number(options.seed))
  const shuffled = [...all]
  for (let last = shuffled.length - 1; last > 0; last--) {
    const other = chance.below(last + 1)
    ;[shuffled[last], shuffled[other]] = [shuffled[other]!, shuffled[last]!]
  }
  return options.count === 'all' ? shuffled : shuffled.slice(0, Number(options.count))
}

function judged(mutant: Candidate): Promise<Verdict> {
  const tests = testsOf(mutant.file, { wide: options.wide })
  return judge.verdict({ file: mutant.file, text: applied(mutant.source, mutant) }, tests)
}

function isOf(entry: Equivalent, { file, was, now }: Candidate): boolean {
  return inFile(entry, file) && was.includes(entry.was) && was.replace(entry.was, () => entry.now) === now
}

function inFile(entry: Equivalent, file: string): boolean {
  return file.endsWith(`/${entry.file}`)
}

/** An entry of the list whose file is here and whose change nobody makes any more has outlived its code. */
function noteUnknown(files: readonly string[], all: readonly Candidate[]): void {
  for (const entry of unused) {
    if (!files.some((file) => inFile(entry, file))) continue
    unused.delete(entry)
    if (!all.some((mutant) => isOf(entry, mutant))) tell(`UNKNOWN in equivalent.ts: ${entry.file}: ${entry.was} -> ${entry.now}`)
  }
}

function shown({ file, line, kind, was, now }: Candidate): string {
  return `${file}:${line} ${kind}\n    - ${was}\n    + ${now}`
}

function seconds(start: number): string {
  return ((performance.now() - start) / 1000).toFixed(0)
}

function tell(text: string): void {
  process.stdout.write(`${text}\n`)
}
