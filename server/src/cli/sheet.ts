// `rollbook sheet`: profiles as pages for the wall beside the machine, as text, as a page that prints right, or as PDF; and, from what stands at the foot of
// one, the sheet of that revision and what changed since.
import { resolve } from 'node:path'
import type { Setup } from '../model/setup.ts'
import { type Sheet, sheetOf } from '../report/fleet/sheet.ts'
import { PAPERS, type PaperSize, sheetsHtml } from '../report/fleet/sheet-html.ts'
import { sheetText } from '../report/fleet/sheet-text.ts'
import { onSheet } from '../workspace/fleet.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile, setupOf } from './profile.ts'
import { enterValues } from './sheet-enter.ts'
import { openedFrom, revisionMark } from './sheet-revision.ts'
import { printable } from './terminal.ts'
import { unjudgedOf } from './unjudged.ts'

export const PAPER_SIZES = Object.keys(PAPERS) as readonly PaperSize[]

export async function sheet(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const { positionals } = options
  if (options.has('enter')) return enterValues(cli, options, at)
  const from = options.word('from')
  if (from === undefined && positionals.length === 0)
    throw new CannotRun(`rollbook sheet takes profiles: their files or their ids.${seeHelp('sheet')}`)
  if (from !== undefined && positionals.length > 0)
    throw new CannotRun(`--from opens the one sheet that it names: name no profile beside it.${seeHelp('sheet')}`)
  if (options.has('html') && options.has('pdf'))
    throw new CannotRun(`Say where the sheet goes once: --html FILE or --pdf FILE.${seeHelp('sheet')}`)
  const { sheets, bench, old } = from === undefined ? await ofProfiles(cli, positionals, at) : await ofRevision(cli, from, at)
  const told = await put(cli, options, sheets)
  if (from !== undefined && (options.has('html') || options.has('pdf'))) for (const line of old) cli.err(`${printable(line)}\n`)
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0 || bench.workspace.unread().length > 0) return EXIT.failed
  const good = sheets.every(
    ({ keys, first }) => first.length === 0 && keys.every(({ mark }) => mark === 'key-in' || mark === 'has-it'),
  )
  return good && told && !sheets.some((one) => one.old.length > 0) ? EXIT.clean : EXIT.findings
}

interface Made {
  readonly sheets: readonly Sheet[]
  readonly bench: Bench
  /** What changed since the revision of the sheet, or that nothing did. */
  readonly old: readonly string[]
}

async function ofProfiles(cli: CliHost, named: readonly string[], at: (doing: string) => void): Promise<Made> {
  const bench = openBench(cli)
  const mark = revisionMark(cli)
  const sheets: Sheet[] = []
  for (const argument of named) {
    at(`looking for the profile ${argument}`)
    const file = await profileFile(cli, bench, argument, 'settings for a sheet').catch((error) => {
      tellTroubles(cli, bench)
      throw error
    })
    at(`making the sheet of ${bench.shown(file)}`)
    const { setup, notRead } = await readied(bench, file)
    sheets.push(sheetOf({ ...onSheet(bench.analysis, setup), notRead, mark: await mark(bench, setup), old: [] }))
  }
  return { sheets, bench, old: [] }
}

async function ofRevision(cli: CliHost, from: string, at: (doing: string) => void): Promise<Made> {
  at('opening the revision of the sheet')
  const { bench, file, mark, changed } = await openedFrom(cli, from)
  const { setup, notRead } = await readied(bench, file)
  at('looking for what changed since')
  const { isOld, told } = await changed(setup)
  return { sheets: [sheetOf({ ...onSheet(bench.analysis, setup), notRead, mark, old: isOld ? told : [] })], bench, old: told }
}

/** The setup of a profile with its findings' documents loaded, and what it rests on that cannot be read. */
async function readied(bench: Bench, file: string): Promise<{ readonly setup: Setup; readonly notRead: readonly string[] }> {
  const setup = await setupOf(bench, file, bench.shown(file))
  for (const base of setup.bases) await bench.workspace.prepare(base.file)
  const unjudged = await unjudgedOf(bench, file)
  for (const { text } of unjudged) bench.trouble(text)
  // What the profile names and nobody can read, its setup tells.
  const notRead = unjudged.flatMap(({ text, lacking }) => (lacking ? [] : text))
  return { setup, notRead }
}

/** Gives whether each sheet fits its page. */
async function put(cli: CliHost, options: Options, sheets: readonly Sheet[]): Promise<boolean> {
  const [html, pdf] = [options.word('html'), options.word('pdf')]
  if (html === undefined && pdf === undefined) {
    cli.out(sheets.map((one) => sheetText(one).split('\n').map(printable).join('\n')).join(`\n${'-'.repeat(40)}\n\n`))
    return true
  }
  const size = (options.word('size') ?? 'A4') as PaperSize
  const printed = sheetsHtml(sheets, size)
  if (html === '-') cli.out(printed.html)
  else if (html !== undefined) await cli.create(resolve(cli.cwd, html), printed.html)
  else await cli.printPdf(printed.html, resolve(cli.cwd, pdf!))
  for (const profile of printed.tooLong)
    cli.err(
      `${printable(`The sheet of ${profile} takes more than one page of ${size}: it goes on behind, and nothing is left out.`)}\n`,
    )
  return printed.tooLong.length === 0
}
