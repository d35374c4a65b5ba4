// `rollbook check`: every finding of the documents named, the same as the editor shows, for people and for machines.
import { resolve } from 'node:path'
import { fileUri } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Bench, DOCUMENT_NAMES, documentAt, lookUp, openBench, tellTroubles } from './bench.ts'
import { fixForm } from './form-fixes.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { judge, type Newness } from './judging.ts'
import { Keeping } from './kept.ts'
import { LeftOut } from './left-out.ts'
import { type Options, seeHelp } from './options.ts'
import { PassedOver } from './passed-over.ts'
import { Progress } from './progress.ts'
import { githubReport } from './report/github.ts'
import { gitlabReport } from './report/gitlab.ts'
import { jsonReport } from './report/json.ts'
import { junitReport } from './report/junit.ts'
import { type Asked, type FailOn, type MakeReport, Tally } from './report/report.ts'
import { sarifReport } from './report/sarif.ts'
import { textReport } from './report/text.ts'
import { asStaged, Before, changedAmong, pastOf } from './since.ts'
import { printable } from './terminal.ts'
import { jobsFor, Threads } from './threads.ts'

const MACHINE_FORMATS: Readonly<Record<string, MakeReport>> = {
  json: jsonReport,
  sarif: sarifReport,
  junit: junitReport,
  github: githubReport,
  gitlab: gitlabReport,
}

export const FORMATS: readonly string[] = ['text', ...Object.keys(MACHINE_FORMATS)]

/** Stands for standard input among the paths. */
const STDIN = '-'

export async function check(disk: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const changedSince = options.word('changed-since')
  const newSince = options.word('new-since')
  const asked: Asked = {
    failOn: (options.word('fail-on') ?? 'warning') as FailOn,
    due: options.has('due'),
    newSince,
    today: disk.host.today(),
  }
  demandSense(options)
  at('reading what is staged')
  const source = options.has('staged') ? await asStaged(disk) : disk
  const keeping = keepingOf(source, options)
  const cli = keeping?.cli ?? source
  const bench = openBench(cli, keeping && ((root) => keeping.known(root)))
  const make = MACHINE_FORMATS[options.word('format') ?? 'text']
  const report = make ? make(cli, asked) : textReport(cli, asked, { quiet: options.has('quiet') })
  at('looking for the documents')
  const remarks: string[] = []
  const passedOver = new PassedOver(bench)
  let files = await filesOf(cli, bench, options, passedOver)
  passedOver.tellNames()
  remarks.push(...(await passedOver.remarks()))
  const roots = new Set(bench.roots())
  if (changedSince !== undefined) {
    at(`looking at what changed since ${changedSince}`)
    const changed = await changedAmong(
      cli,
      bench,
      files,
      await pastOf(cli, roots, changedSince),
      changedSince,
      options.has('staged') ? 'staged' : 'disk',
    )
    files = changed.files
    remarks.push(changed.remark)
  }
  let before: Before | undefined
  if (newSince !== undefined) {
    at(`reading the documents of ${newSince}`)
    before = await Before.at(cli, bench, await pastOf(cli, roots, newSince), newSince)
  }
  at('mending the form')
  const fixed = options.has('fix') ? await fixForm(cli, bench, files) : []
  const newness: Newness | undefined = before && ((file) => before.newness(file))
  const tally = new Tally(asked)
  const leftOut = new LeftOut()
  const kept = keeping?.verdicts(bench)
  const wanted = kept ? await kept.lacking(files) : files
  const progress = new Progress(cli, files.length)
  const elsewhere = new Threads(cli, bench, keeping?.texts, wanted)
  try {
    await elsewhere.start(jobsFor(cli, options, wanted.length), options.has('staged'))
    for await (const judged of judge(cli, bench, files, at, { newness, kept, elsewhere })) {
      tally.add(judged.findings)
      progress.clear()
      report.take(judged)
      progress.tell(tally.documents)
      if (judged.undescribed) leftOut.take(judged.undescribed, bench.shown)
    }
  } finally {
    elsewhere.end()
  }
  progress.clear()
  report.end({ tally, troubles: bench.troubles, leftOut, remarks: [...remarks, ...(before?.remarks ?? [])], fixed })
  const unkept = await kept?.save()
  if (unkept !== undefined)
    cli.err(`${printable(`Nothing is kept in ${options.word('cache')}, and nothing else rests on it: ${unkept}`)}\n`)
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return tally.failed ? EXIT.findings : EXIT.clean
}

/** What is kept from run to run, where that is asked for: of what is on disk or staged, and compared with nothing. */
function keepingOf(cli: CliHost, options: Options): Keeping | undefined {
  const folder = options.word('cache')
  const compares = options.has('new-since') || options.has('fix') || options.positionals.includes(STDIN)
  return folder === undefined || compares ? undefined : new Keeping(cli, resolve(cli.cwd, folder))
}

/** Throws `CannotRun` for options that mean nothing together. */
function demandSense(options: Options): void {
  const { positionals } = options
  const standardInput = positionals.includes(STDIN)
  if (standardInput && positionals.length > 1)
    throw new CannotRun(`'-' stands for one document on standard input: name no other beside it.${seeHelp('check')}`)
  if (standardInput && !options.has('stdin-name'))
    throw new CannotRun(
      `A document on standard input needs a name: --stdin-name profiles/banner.media.yaml says what it is and whose shop it belongs to.${seeHelp('check')}`,
    )
  if (!standardInput && options.has('stdin-name'))
    throw new CannotRun(`--stdin-name names the document on standard input: give '-' as the path.${seeHelp('check')}`)
  if (options.has('staged') && (standardInput || options.has('fix')))
    throw new CannotRun(`--staged judges what git has staged: it goes with neither '-' nor --fix.${seeHelp('check')}`)
  if (standardInput && (options.has('fix') || options.has('changed-since')))
    throw new CannotRun(
      `--${options.has('fix') ? 'fix' : 'changed-since'} is for documents on disk, not for standard input.${seeHelp('check')}`,
    )
}

/** The documents named by the arguments, each once, in the order of their paths. Their shops are indexed. */
export async function filesOf(cli: CliHost, bench: Bench, options: Options, passedOver?: PassedOver): Promise<readonly string[]> {
  const paths = options.positionals.length > 0 ? options.positionals : ['.']
  if (paths[0] === STDIN && options.has('stdin-name')) return [await fromStandardInput(cli, bench, options.word('stdin-name')!)]
  const files = new Set<string>()
  const named = await Promise.all(paths.map(async (argument) => ({ argument, ...(await lookUp(cli, argument)) })))
  for (const { argument, path, kind } of named) {
    if (kind === 'file') files.add(documentAt(path, argument))
    else {
      const found = await bench.documentsBelow(path, passedOver?.take)
      if (found.length === 0) passedOver?.tellNames()
      if (found.length === 0 && bench.troubles.length === 0)
        throw new CannotRun(`There is nothing to check in '${argument}': no document named ${DOCUMENT_NAMES}.`)
      for (const file of found) files.add(file)
    }
    await bench.addShopsOf(path, kind)
  }
  return [...files].sort()
}

/** A document whose text comes from elsewhere, an editor or what is about to be committed, in the shop that its name lies in. */
async function fromStandardInput(cli: CliHost, bench: Bench, name: string): Promise<string> {
  if (kindOfFile(name) === undefined)
    throw new CannotRun(`'${name}' is no name for a Rollbook document: these are named ${DOCUMENT_NAMES}.`)
  const path = resolve(cli.cwd, name)
  const text = await cli.stdin()
  await bench.addShopsOf(path, 'file')
  const file = fileUri(path)
  bench.workspace.update(file, text)
  return file
}
