// Tables as CSV (RFC 4180): read whatever separates their cells, where that is beyond doubt; written so that no spreadsheet runs a cell as a formula.
import { type CsvError, parse } from 'csv-parse/sync'
import { CannotRun } from './host.ts'

export const DELIMITERS = { comma: ',', semicolon: ';', tab: '\t' } as const

export type Delimiter = keyof typeof DELIMITERS

export type DecimalSign = 'point' | 'comma'

export interface TableRow {
  /** The line it begins in, from 1. */
  readonly line: number
  readonly cells: readonly string[]
}

export interface CsvTable {
  readonly header: readonly string[]
  /** Those that hold anything. */
  readonly rows: readonly TableRow[]
  readonly delimiter: Delimiter
}

/** Larger tables are not read: it is as much as two of the largest documents hold. */
export const MAX_CSV = 4 * 2 ** 20

/** Nor are those of more rows: a document of two years of hourly checks has no more. */
export const MAX_ROWS = 20_000

/** Reads a table. Cells come without blanks around them, and without the sign that keeps formulas from running. Throws `CannotRun`. */
export function readCsv(bytes: Uint8Array, name: string, given: Delimiter | undefined): CsvTable {
  const text = decoded(bytes, name)
  const delimiter = given ?? delimiterOf(text, name)
  const rows = recordsOf(text, DELIMITERS[delimiter], name)
  const [header, ...others] = rows
  if (!header) throw new CannotRun(`${name} holds no table: its first line has to name the columns.`)
  if (others.length > MAX_ROWS)
    throw new CannotRun(`${name} has ${others.length} rows, and at most ${MAX_ROWS} are read at once. Take it in parts.`)
  return { header: header.cells, rows: others, delimiter }
}

function decoded(bytes: Uint8Array, name: string): string {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    if (!text.includes('\0')) return text
  } catch {
    // As for a text with a sign that no text holds.
  }
  throw new CannotRun(`${name} is not UTF-8 text. Save it from the spreadsheet as "CSV UTF-8".`)
}

/** What separates the names of the columns; nothing of the rows is looked at, where a comma may stand in a number. */
function delimiterOf(text: string, name: string): Delimiter {
  const head = /^\s*((?:"(?:[^"]|"")*"|[^"\r\n])*)/.exec(text)?.[1] ?? ''
  const bare = head.replace(/"(?:[^"]|"")*"/g, '')
  const found = (Object.keys(DELIMITERS) as Delimiter[]).filter((one) => bare.includes(DELIMITERS[one]))
  if (found.length > 1)
    throw new CannotRun(`What separates the columns of ${name} is not clear: ${found.join(' or ')}. Say --delimiter ${found[0]}.`)
  return found[0] ?? 'comma'
}

function recordsOf(text: string, delimiter: string, name: string): readonly TableRow[] {
  try {
    const records = parse(text, {
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    })
    return (records as unknown as { record: string[]; info: { lines: number } }[])
      .map(({ record, info }) => ({
        line: info.lines - record.join('').split(/\r\n|\n|\r/).length + 1,
        cells: record.map((cell) => unguarded(cell).trim()),
      }))
      .filter(({ cells }) => cells.some((cell) => cell !== ''))
  } catch (error) {
    const { code, lines } = error as CsvError & { lines?: number }
    if (code === undefined) throw error
    const what =
      code === 'CSV_QUOTE_NOT_CLOSED' ? 'a quotation mark is opened and never closed' : 'a quotation mark stands where none can'
    throw new CannotRun(`${name} cannot be read as a table: ${what}${lines === undefined ? '' : `, in or before line ${lines}`}.`)
  }
}

/**
 * What a table's numbers have for a decimal sign. Where cells are not separated by commas it may be a comma, and a point may part thousands: then
 * only what can mean one thing is taken. Throws `CannotRun` for the rest.
 */
export function decimalSign(numbers: readonly string[], delimiter: Delimiter, name: string): DecimalSign {
  if (delimiter === 'comma') return 'point'
  const having = (sign: RegExp): readonly string[] => numbers.filter((number) => sign.test(number))
  const [points, commas] = [having(/\d\.\d/), having(/\d,\d/)]
  const unclear = (one: string): CannotRun =>
    new CannotRun(
      `Whether '${one}' in ${name} has a decimal sign or thousands set apart is not clear. Say --decimal point or --decimal comma.`,
    )
  if (points[0] !== undefined && commas[0] !== undefined) throw unclear(commas[0])
  const some = commas.length > 0 ? commas : points
  if (some[0] !== undefined && some.every((number) => /^[-+−]?[1-9]\d{0,2}([.,])\d{3}(?:\1\d{3})*$/.test(number)))
    throw unclear(some[0])
  return commas.length > 0 ? 'comma' : 'point'
}

/** A number with a decimal point; undefined where it has one though commas are the sign: thousands set apart are no number of ours. */
export const withPoint = (number: string, sign: DecimalSign): string | undefined =>
  sign === 'point' ? number : number.includes('.') ? undefined : number.replaceAll(',', '.')

/** A cell to write: a number in plain digits, or a text. */
export interface CsvCell {
  readonly text: string
  readonly isNumber: boolean
}

/** A table as text, each line ended as RFC 4180 has it. */
export function csvText(header: readonly string[], rows: readonly (readonly (CsvCell | undefined)[])[]): string {
  const line = (cells: readonly string[]): string => `${cells.map(quoted).join(',')}\r\n`
  const cell = (one: CsvCell | undefined): string => (one === undefined ? '' : one.isNumber ? one.text : guarded(one.text))
  return [line(header.map(guarded)), ...rows.map((row) => line(row.map(cell)))].join('')
}

const quoted = (text: string): string => (/[",;\r\n\t]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)

/** Begins as a formula does, in the narrow or the wide form of its sign; apostrophes before it are those of this guard, or of a text like it. */
const RUNS = /^[\s']*[=+\-@＝＋－＠]|^'*[\t\r\n]/

/** A text that spreadsheets show and do not run: an apostrophe before it says that it is one. */
const guarded = (text: string): string => (RUNS.test(text) ? `'${text}` : text)

const unguarded = (text: string): string => (text.startsWith("'") && RUNS.test(text.slice(1)) ? text.slice(1) : text)
