// Reads measurement files as text (CGATS.17, ISO 28178): all tables with their keywords and columns, whatever they hold.

export interface CgatsRow {
  /** From 1. */
  readonly line: number
  /** One text a field. */
  readonly cells: readonly string[]
}

export interface CgatsTable {
  /** What is said before the data, in capitals: 'CREATED', 'MEASUREMENT_SOURCE'. Of a keyword given twice, the last. */
  readonly keywords: ReadonlyMap<string, string>
  /** The columns' names, in capitals. */
  readonly fields: readonly string[]
  readonly rows: readonly CgatsRow[]
}

export interface CgatsProblem {
  /** From 1. */
  readonly line: number
  /** A clause without a full stop: "this row has 8 values, and there are 9 columns". */
  readonly reason: string
}

export interface CgatsFile {
  /** The word in the first line: 'CGATS.17', 'ISO28178', or another. */
  readonly identifier: string | undefined
  readonly tables: readonly CgatsTable[]
  /** In the order of the lines; some tens at most. */
  readonly problems: readonly CgatsProblem[]
}

/** Larger than any chart's measurement with its spectra. */
export const MAX_CGATS_BYTES = 8 * 1024 * 1024
const MAX_CELLS = 1_000_000
const MAX_TABLES = 100
const MAX_FIELDS = 1000
const MAX_KEYWORDS = 1000
const MAX_PROBLEMS = 30

/** Whether a text looks like one of this format: each has a line that begins its data or the names of its columns. */
export const isCgats = (text: string): boolean => /^[ \t]*BEGIN_DATA(?:_FORMAT)?(?=[\s#]|$)/im.test(text)

/** Reads any text. It ends in a time that grows with the text's length alone, and throws nothing. */
export const readCgats = (text: string): CgatsFile => new Reader(text).read()

interface Line {
  readonly number: number
  readonly tokens: readonly string[]
}

class Reader {
  private readonly problems: CgatsProblem[] = []
  private readonly tables: CgatsTable[] = []
  private keywords = new Map<string, string>()
  private fields: string[] | undefined
  private identifier: string | undefined
  private cells = 0

  constructor(private readonly text: string) {}

  read(): CgatsFile {
    let inside: 'preamble' | 'format' | 'data' = 'preamble'
    let data: Line[] = []
    let number = 0
    let began = 0
    let first = true
    for (const raw of linesOf(this.text)) {
      number++
      const tokens = this.tokensOf(raw, number)
      if (tokens.length === 0) continue
      if (first) {
        first = false
        if (tokens.length === 1 && !/^(?:BEGIN|END)_/i.test(tokens[0]!)) {
          this.identifier = tokens[0]!.slice(0, 40)
          continue
        }
      }
      // A line may begin a part, hold some of it and end it.
      for (let at = 0; at < tokens.length; ) {
        const word = tokens[at]!.toUpperCase()
        if (inside !== 'preamble') {
          const end = endOf(inside, tokens, at)
          const held = tokens.slice(at, end)
          at = end + 1
          if (inside === 'format') this.name(held, number)
          else {
            this.cells += held.length
            if (held.length > 0 && this.cells <= MAX_CELLS) data.push({ number, tokens: held })
          }
          if (end === tokens.length) continue
          if (inside === 'data') {
            this.endTable(data, began)
            data = []
          }
          inside = 'preamble'
        } else if (word === 'BEGIN_DATA_FORMAT' || word === 'BEGIN_DATA') {
          inside = word === 'BEGIN_DATA' ? 'data' : 'format'
          if (inside === 'format') this.fields = []
          began = number
          at++
        } else {
          this.keyword(word, tokens.slice(at + 1), number)
          break
        }
      }
    }
    if (inside === 'format') this.tell(began, 'the names of the columns begin here, and END_DATA_FORMAT is missing')
    if (inside === 'data') {
      this.tell(began, 'the data begin here, and END_DATA is missing, so the file was perhaps not copied whole')
      this.endTable(data, began)
    } else if (this.fields && inside === 'preamble') this.tell(Math.max(1, began), 'columns are named here, and no data follow')
    if (this.cells > MAX_CELLS) this.tell(began, `there are more than ${MAX_CELLS} values, and the rest are not read`)
    if (this.tables.length === 0) this.tell(1, 'there are no data')
    const problems = this.problems.sort((a, b) => a.line - b.line)
    return { identifier: this.identifier, tables: this.tables, problems }
  }

  private name(columns: readonly string[], number: number): void {
    const fields = this.fields!
    if (fields.length + columns.length > MAX_FIELDS)
      this.tell(number, `there are more than ${MAX_FIELDS} columns, and the rest are not read`)
    else for (const column of columns) fields.push(column.toUpperCase())
  }

  private keyword(word: string, values: readonly string[], number: number): void {
    // `KEYWORD "NAME"` only says that NAME is a keyword of the writer's own, and is followed by it.
    if (word === 'KEYWORD') return
    if (word === 'END_DATA' || word === 'END_DATA_FORMAT') this.tell(number, `${word} ends what nothing began`)
    else if (this.keywords.size < MAX_KEYWORDS) this.keywords.set(word.slice(0, 80), values.join(' ').slice(0, 2000))
  }

  private endTable(data: readonly Line[], began: number): void {
    const { keywords, fields = [] } = this
    this.keywords = new Map()
    this.fields = undefined
    if (this.tables.length >= MAX_TABLES) {
      this.tell(began, `there are more than ${MAX_TABLES} tables, and the rest are not read`)
      return
    }
    if (fields.length === 0) {
      this.tell(began, 'the data begin here, and no columns are named before them')
      return
    }
    const seen = new Set<string>()
    const twice = fields.find((field) => seen.size === seen.add(field).size)
    if (twice !== undefined) this.tell(began, `the column ${wordText(twice)} stands twice`)
    const width = this.counted(keywords, 'NUMBER_OF_FIELDS', began)
    if (width !== undefined && width !== fields.length)
      this.tell(began, `NUMBER_OF_FIELDS says ${width}, and ${fields.length} columns are named`)
    const sets = this.counted(keywords, 'NUMBER_OF_SETS', began)
    const rows = this.rowsOf(data, fields.length, sets)
    // Rows that are told by themselves are there all the same.
    const there = rows.length === sets ? sets : data.length
    if (sets !== undefined && sets !== there && this.cells <= MAX_CELLS)
      this.tell(began, `NUMBER_OF_SETS says ${sets}, and ${there} ${there === 1 ? 'row follows' : 'rows follow'}`)
    this.tables.push({ keywords, fields, rows })
  }

  private counted(keywords: ReadonlyMap<string, string>, name: string, began: number): number | undefined {
    const text = keywords.get(name)
    if (text === undefined) return undefined
    if (/^\d{1,9}$/.test(text)) return Number(text)
    this.tell(began, `${name} is '${wordText(text)}', which is no whole number`)
    return undefined
  }

  /** A row a line; or, where lines are broken otherwise and the values are as many as is said, a row for so many values. */
  private rowsOf(data: readonly Line[], width: number, sets: number | undefined): readonly CgatsRow[] {
    const uneven = data.filter(({ tokens }) => tokens.length !== width)
    if (uneven.length === 0) return data.map(({ number, tokens }) => ({ line: number, cells: tokens }))
    const values = data.flatMap(({ number, tokens }) => tokens.map((value) => ({ number, value })))
    if (sets !== undefined && sets * width === values.length) {
      return Array.from({ length: sets }, (_, i) => {
        const row = values.slice(i * width, (i + 1) * width)
        return { line: row[0]!.number, cells: row.map(({ value }) => value) }
      })
    }
    for (const { number, tokens } of uneven)
      this.tell(
        number,
        `this row has ${tokens.length} ${tokens.length === 1 ? 'value' : 'values'}, and there are ${width} columns`,
      )
    return data.filter(({ tokens }) => tokens.length === width).map(({ number, tokens }) => ({ line: number, cells: tokens }))
  }

  /** The words of a line: parted by blanks, or between double quotes. A hash where a word would begin starts a comment. */
  private tokensOf(line: string, number: number): readonly string[] {
    const tokens: string[] = []
    for (let at = 0; at < line.length; ) {
      const c = line[at]
      if (c === ' ' || c === '\t' || c === '\f' || c === '\v' || c === '\u00a0') at++
      else if (c === '#') break
      else if (c === '"') {
        const end = line.indexOf('"', at + 1)
        if (end < 0) this.tell(number, 'a quotation mark is not closed')
        tokens.push(line.slice(at + 1, end < 0 ? undefined : end))
        at = end < 0 ? line.length : end + 1
      } else {
        const start = at
        while (at < line.length && !BLANK.has(line[at]!)) at++
        tokens.push(line.slice(start, at))
      }
    }
    return tokens
  }

  private tell(line: number, reason: string): void {
    if (this.problems.length < MAX_PROBLEMS) this.problems.push({ line, reason })
  }
}

/** Where a part ends in a line, or the line's end where it goes on. */
function endOf(inside: 'format' | 'data', tokens: readonly string[], from: number): number {
  const word = inside === 'format' ? 'END_DATA_FORMAT' : 'END_DATA'
  let at = from
  while (at < tokens.length && tokens[at]!.toUpperCase() !== word) at++
  return at
}

const BLANK: ReadonlySet<string> = new Set([' ', '\t', '\f', '\v', '\u00a0'])

/** Lines end in LF, CR or both. */
function* linesOf(text: string): Generator<string> {
  let start = text.charCodeAt(0) === 0xfeff ? 1 : 0
  while (start <= text.length) {
    let end = start
    while (end < text.length && text[end] !== '\n' && text[end] !== '\r') end++
    yield text.slice(start, end)
    start = end + (text[end] === '\r' && text[end + 1] === '\n' ? 2 : 1)
  }
}

/** Columns that hold a spectrum: kept as they are, and used for nothing. */
export const isSpectral = (field: string): boolean => /^(?:SPECTRAL|SPEC|NM)_?\d|^SPECTRAL_|^R_?\d{3}$/.test(field)

/** A word of a file inside a sentence: short, on one line, without signs that nobody sees. */
export const wordText = (text: string): string =>
  text
    .slice(0, 200)
    .replace(/[\p{C}\s]+/gu, ' ')
    .trim()
    .slice(0, 40)

/** A number as these files write it, with a decimal point; undefined for anything else. */
export function cgatsNumber(text: string): number | undefined {
  if (text.length > 40 || !/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(text)) return undefined
  const value = Number(text)
  return Number.isFinite(value) ? value : undefined
}
