// `rollbook export`: settings, evidence or quantities of profiles as one flat table, for spreadsheets and programs.
import { resolve } from 'node:path'
import type { RollDocument } from '../model/document.ts'
import { kindOfFile } from '../schema/schema.ts'
import { VERSION } from '../version.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { filesOf } from './check.ts'
import { csvText } from './csv.ts'
import { columnsOf, EXPORTS, type Row, type TableName } from './export-rows.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile } from './profile.ts'
import { unjudgedOf, unreadOf } from './unjudged.ts'

export const WHAT = Object.keys(EXPORTS) as readonly TableName[]

export const TABLE_FORMATS = ['csv', 'json'] as const

/** Spreadsheets that take a file for another encoding are told by it. */
const BYTE_ORDER_MARK = '\ufeff'

export async function exportTable(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const what = options.word('what') as TableName | undefined
  if (what === undefined) throw new CannotRun(`Say what to export: --what ${WHAT.join(' or ')}.${seeHelp('export')}`)
  const json = options.word('format') === 'json'
  if (json && options.has('bom')) throw new CannotRun(`--bom is for CSV: JSON has no byte order mark.${seeHelp('export')}`)
  const bench = openBench(cli)
  at('looking for the profiles')
  const rows: Row[] = []
  for (const file of await profilesOf(cli, bench, options)) {
    at(`exporting ${bench.shown(file)}`)
    rows.push(...(await rowsOf(bench, file, what)))
  }
  const header = columnsOf(rows, what)
  if (json)
    cli.out(`${JSON.stringify({ version: VERSION, what, rows: rows.map(asObject), notExported: bench.troubles }, null, 2)}\n`)
  else if (rows.length > 0) {
    const text = csvText(
      header,
      rows.map((row) => header.map((name) => row.get(name))),
    )
    cli.out(`${options.has('bom') ? BYTE_ORDER_MARK : ''}${cli.isTty ? text.replace(/(?![\r\n])\p{Cc}/gu, '\ufffd') : text}`)
  }
  if (rows.length === 0 && bench.troubles.length === 0) cli.err(`There are no ${what} to export.\n`)
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return rows.length > 0 ? EXIT.clean : EXIT.findings
}

async function profilesOf(cli: CliHost, bench: Bench, options: Options): Promise<readonly string[]> {
  const files = new Set<string>()
  const [argument, ...others] = options.positionals
  // One that is no path is an id, as everywhere.
  if (argument && others.length === 0 && (await cli.look(resolve(cli.cwd, argument))) === undefined)
    return [await profileFile(cli, bench, argument, WHAT.join(', '))]
  for (const file of await filesOf(cli, bench, options)) if (kindOfFile(file) === 'media') files.add(file)
  if (files.size === 0) throw new CannotRun('There is no profile to export: these are named *.media.yaml.')
  return [...files]
}

async function rowsOf(bench: Bench, file: string, what: TableName): Promise<readonly Row[]> {
  const { workspace, analysis } = bench
  const document = (await workspace.load(file)) as RollDocument<'media'> | undefined
  if (!document) {
    bench.trouble(bench.unreadText({ place: file, kind: 'media', reason: workspace.whyUnreadable(file) ?? '' }))
    return []
  }
  const { rests, rows } = EXPORTS[what]
  if (rests === 'alone') for (const { text } of unreadOf(bench, document)) bench.trouble(text)
  else {
    await workspace.prepare(file)
    for (const { text, lacking } of await unjudgedOf(bench, file))
      if (!lacking || rests === 'all' || lacking.kind === 'media')
        bench.trouble(`${bench.shown(file)} is exported without what it names. ${text}`)
  }
  if (what !== 'quantities' && hasUnread(document))
    bench.trouble(
      `${bench.shown(file)} has values that cannot be read, and are not exported: 'rollbook check ${bench.shown(file)}' lists them.`,
    )
  const found = rows(document, rests === 'alone' ? undefined : analysis.context(file)?.setup)
  workspace.release(file)
  return found
}

/** Whether something that is written is not in the model: a word or a key that is not known, a value that cannot be read. */
const hasUnread = (document: RollDocument<'media'>): boolean =>
  document.structure().some(({ issue }) => issue.issue !== 'missing-key') ||
  document.read().bad.some(({ problem }) => problem.code !== 'implausible')

/** Numbers as numbers, and what is empty left out. */
const asObject = (row: Row): object =>
  Object.fromEntries(
    [...row].flatMap(([name, { text, isNumber }]) => (text === '' ? [] : [[name, isNumber ? Number(text) : text]])),
  )
