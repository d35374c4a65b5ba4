// A table of evidence: its file, what its columns mean, and its rows as cells of entries, each for a profile and a list of it.
import { resolve } from 'node:path'
import { CannotRead } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { COLUMNS_FILE } from '../model/columns.ts'
import { EVIDENCE, type EvidenceKind, evidenceKind } from '../model/evidence.ts'
import type { Given } from '../model/evidence-new.ts'
import { demandName } from './bench.ts'
import { type CsvTable, type DecimalSign, type Delimiter, decimalSign, MAX_CSV, readCsv, withPoint } from './csv.ts'
import { CannotRun, type CliHost } from './host.ts'
import {
  type CellColumn,
  type Column,
  columnFault,
  columnName,
  hasKey,
  isDay,
  isNumeric,
  kindOf,
  LIST,
  PROFILE,
  readColumn,
} from './import-columns.ts'
import { type Options, seeHelp } from './options.ts'

export interface EvidenceRow {
  readonly line: number
  /** The id of its profile, where the table says it. */
  readonly profile: string | undefined
  readonly kind: EvidenceKind
  readonly given: readonly Given[]
}

export interface EvidenceTable {
  /** The table as a person knows it. */
  readonly name: string
  readonly rows: readonly EvidenceRow[]
  /** Rows that are no evidence, and why. */
  readonly refused: readonly { readonly line: number; readonly reason: string }[]
  /** How many rows name a profile and say nothing of it, as in a form that was filled in for some. */
  readonly blank: number
  readonly delimiter: Delimiter
  readonly decimal: DecimalSign
}

/** Reads the table named, or standard input. Throws `CannotRun` where its columns are not understood whole. */
export async function evidenceTable(cli: CliHost, options: Options, names: ReadonlyMap<string, string>): Promise<EvidenceTable> {
  const [argument, ...others] = options.positionals
  if (argument === undefined || others.length > 0)
    throw new CannotRun(`rollbook import takes one table: a CSV file, or - for standard input.${seeHelp('import')}`)
  demandName(argument)
  const name = argument === '-' ? 'Standard input' : argument
  const bytes = argument === '-' ? new TextEncoder().encode(await cli.stdin()) : await bytesOf(cli, resolve(cli.cwd, argument))
  const table = readCsv(bytes, name, options.word('delimiter') as Delimiter | undefined)
  if (table.rows.length === 0) throw new CannotRun(`${name} has no rows below the names of its columns.`)
  const columns = columnsOf(table, names, name)
  const cells = columns.filter((column) => column.is === 'cell')
  const list = columns.findIndex(({ is }) => is === 'evidence')
  const as = options.word('as')
  if (as !== undefined && list >= 0) throw new CannotRun(`${name} says in its column '${LIST}' what each row is: leave --as out.`)
  const only = list >= 0 ? undefined : as === undefined ? kindOf(cells, name) : evidenceKind(as)!
  const kinds = only ? [only] : EVIDENCE.filter((kind) => table.rows.some((row) => row.cells[list] === kind.name))
  if (only) demandFit(only, cells, name)
  const numeric = columns.map((column) => column.is === 'cell' && isNumeric(kinds, column))
  const numbers = table.rows.flatMap(({ cells: row }) => row.filter((text, i) => numeric[i] && text !== ''))
  const decimal = (options.word('decimal') as DecimalSign | undefined) ?? decimalSign(numbers, table.delimiter, name)
  const rows: EvidenceRow[] = []
  const refused: { line: number; reason: string }[] = []
  let blank = 0
  for (const { line, cells: row } of table.rows) {
    if (saysNothing(row, columns)) {
      blank++
      continue
    }
    const read = readRow(row, columns, only, (text, i) => (numeric[i] ? withPoint(text, decimal) : text), options.word('dates'))
    if (typeof read === 'string') refused.push({ line, reason: read })
    else rows.push({ line, ...read })
  }
  return { name, rows, refused, blank, delimiter: table.delimiter, decimal }
}

async function bytesOf(cli: CliHost, path: string): Promise<Uint8Array> {
  try {
    return await cli.host.readBytes(fileUri(path), MAX_CSV)
  } catch (error) {
    if (error instanceof CannotRead) throw new CannotRun(`${path} cannot be read: ${error.reason}.`)
    throw error
  }
}

/** The columns in their order. Those that no row fills do not matter, and are left out. */
function columnsOf({ header, rows }: CsvTable, names: ReadonlyMap<string, string>, file: string): readonly Column[] {
  const filled = header.map((_, i) => rows.some(({ cells }) => (cells[i] ?? '') !== ''))
  const unknown: string[] = []
  const seen = new Map<string, string>()
  const columns = header.map((text, i): Column => {
    const column = readColumn(names.get(text) ?? text)
    if (column === undefined || (column.is === 'cell' && !EVIDENCE.some((kind) => hasKey(kind, column)))) {
      if (filled[i]) unknown.push(text)
      return { is: 'left-out' }
    }
    const key = column.is === 'cell' ? columnName(column) : column.is
    if (column.is === 'left-out' || (!filled[i] && column.is === 'cell')) return { is: 'left-out' }
    if (seen.has(key))
      throw new CannotRun(`Two columns of ${file} are '${key}': '${seen.get(key)}' and '${text}'. Leave one out.`)
    seen.set(key, text)
    return column
  })
  if (unknown.length > 0) throw unknownColumns(unknown, file)
  return columns
}

function unknownColumns(unknown: readonly string[], file: string): CannotRun {
  const [first] = unknown
  const listed = unknown.map((text) => `'${text}'`).join(', ')
  return new CannotRun(
    `${unknown.length === 1 ? 'A column' : 'Some columns'} of ${file} ${unknown.length === 1 ? 'is' : 'are'} not known: ${listed}. ` +
      `Say what each is, as in --column '${first}=KEY (unit)', or --column '${first}=-' to leave it out; --write keeps it in ${COLUMNS_FILE}.`,
  )
}

/** Throws where a column is none of the kind that all rows are. */
function demandFit(kind: EvidenceKind, cells: readonly CellColumn[], file: string): void {
  for (const column of cells) {
    const fault = hasKey(kind, column) ? columnFault(kind, column) : `${kind.name} has no ${column.key}.`
    if (fault !== undefined) throw new CannotRun(`${file}: ${fault}`)
  }
}

/** Whether a row holds nothing but whose it is. */
const saysNothing = (row: readonly string[], columns: readonly Column[]): boolean =>
  row.every((text, i) => text === '' || columns[i]?.is === 'profile' || columns[i]?.is === 'left-out')

type Read = Omit<EvidenceRow, 'line'>

/** A row's cells, or why it is no evidence. */
function readRow(
  row: readonly string[],
  columns: readonly Column[],
  only: EvidenceKind | undefined,
  number: (text: string, column: number) => string | undefined,
  dates: string | undefined,
): Read | string {
  if (row.slice(columns.length).some((text) => text !== '')) return 'it has more cells than there are columns'
  const word = (is: Column['is']): string | undefined => row[columns.findIndex((column) => column.is === is)] || undefined
  const list = word('evidence')
  const kind = only ?? (list === undefined ? undefined : evidenceKind(list))
  if (!kind)
    return list === undefined ? `it does not say in '${LIST}' what it is` : `'${list}' is no evidence that a profile holds`
  const given: Given[] = []
  for (const [i, column] of columns.entries()) {
    const text = row[i] ?? ''
    if (column.is !== 'cell' || text === '') continue
    if (!hasKey(kind, column)) return `${kind.name} has no ${column.key}`
    const fault = columnFault(kind, column)
    if (fault !== undefined) return fault.replace(/\.$/, '')
    const read = number(text, i)
    if (read === undefined) return `${column.key}: '${text}' has a point, and the table's decimal sign is a comma`
    const { key, part, unit } = column
    given.push({ key, part, unit, text: isDay(kind, column) ? dayOf(read, dates) : read })
  }
  return { profile: word(PROFILE), kind, given }
}

/** A day as the documents write it, where it is written in the order said; else as it stands. */
function dayOf(text: string, order: string | undefined): string {
  const parts = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text)
  if (!parts || order === undefined) return text
  const [, first = '', , second = '', year = ''] = parts
  const [month, day] = order === 'day-first' ? [second, first] : [first, second]
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`
}
