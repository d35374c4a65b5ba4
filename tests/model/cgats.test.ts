// Measurement files as text (CGATS.17, ISO 28178): tables, keywords, quotes, comments and line ends as they are met; faults are told by line.
import { describe, expect, test } from 'vitest'
import { cgatsNumber, isCgats, isSpectral, readCgats } from '../../server/src/model/cgats.ts'
import { readColourFile } from '../../server/src/model/colour-file.ts'

const TEXT = `CGATS.17
# Invented.
ORIGINATOR "Tern Quay Print Works"
KEYWORD "SHIFT"
SHIFT "late # not a comment"
CREATED "2026-11-17"   # the next morning
NUMBER_OF_FIELDS 5
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B
END_DATA_FORMAT
NUMBER_OF_SETS 2
BEGIN_DATA
1 "deep red" 47.4 67.10 46.9
2\t""\t.5e2\t-1\t+2.
END_DATA
`

const problemsOf = (text: string): string[] => readCgats(text).problems.map(({ line, reason }) => `${line}: ${reason}`)

describe('a text', () => {
  test('is read whole, whatever ends its lines', () => {
    for (const text of [TEXT, TEXT.replaceAll('\n', '\r\n'), TEXT.replaceAll('\n', '\r'), `\ufeff${TEXT}`]) {
      const { identifier, tables, problems } = readCgats(text)
      expect(problems).toEqual([])
      expect(identifier).toBe('CGATS.17')
      expect(tables).toHaveLength(1)
      const [table] = tables
      expect(table!.keywords.get('SHIFT')).toBe('late # not a comment')
      expect(table!.keywords.get('CREATED')).toBe('2026-11-17')
      expect(table!.fields).toEqual(['SAMPLE_ID', 'SAMPLE_NAME', 'LAB_L', 'LAB_A', 'LAB_B'])
      expect(table!.rows.map(({ cells }) => cells)).toEqual([
        ['1', 'deep red', '47.4', '67.10', '46.9'],
        ['2', '', '.5e2', '-1', '+2.'],
      ])
      expect(table!.rows.map(({ line }) => line)).toEqual([13, 14])
    }
  })

  test('may hold several tables, each with keywords of its own, and no identifier', () => {
    const two = readCgats(
      `ORIGINATOR us\nBEGIN_DATA_FORMAT A B END_DATA_FORMAT\nBEGIN_DATA 1 2 END_DATA\nDESCRIPTOR next\nBEGIN_DATA_FORMAT\nC\nEND_DATA_FORMAT\nBEGIN_DATA\n3\n4\nEND_DATA\n`,
    )
    expect(two).toMatchObject({ identifier: undefined, problems: [] })
    expect(two.tables.map(({ fields, rows }) => [fields, rows.map((r) => r.cells)])).toEqual([
      [['A', 'B'], [['1', '2']]],
      [['C'], [['3'], ['4']]],
    ])
    expect(two.tables.map(({ keywords }) => [...keywords.keys()])).toEqual([['ORIGINATOR'], ['DESCRIPTOR']])
  })

  test('may break its rows otherwise, where the values are as many as is said', () => {
    const broken = TEXT.replace('1 "deep red" 47.4 67.10', '1 "deep red"\n47.4 67.10')
    expect(readCgats(broken)).toMatchObject({
      problems: [],
      tables: [{ rows: [{ line: 13 }, { line: 15, cells: ['2', '', '.5e2', '-1', '+2.'] }] }],
    })
  })

  test('keeps its spectral columns, and knows them', () => {
    const { tables } = readCgats(
      'X\nBEGIN_DATA_FORMAT\nSAMPLE_ID SPECTRAL_NM400 SPECTRAL_NM410\nEND_DATA_FORMAT\nBEGIN_DATA\n1 0.5 0.6\nEND_DATA\n',
    )
    expect(tables[0]!.rows[0]!.cells).toEqual(['1', '0.5', '0.6'])
    expect(tables[0]!.fields.map(isSpectral)).toEqual([false, true, true])
    expect(['NM_380', 'SPEC_400', 'R_560', 'LAB_L', 'CMYK_C', 'RGB_R'].map(isSpectral)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
    ])
  })
})

describe('what is wrong is told by its line', () => {
  test.each<[string, string, string[]]>([
    ['a row too short', TEXT.replace(' 46.9', ''), ['13: this row has 4 values, and there are 5 columns']],
    ['too few rows', TEXT.replace('SETS 2', 'SETS 3'), ['12: NUMBER_OF_SETS says 3, and 2 rows follow']],
    ['a count that is none', TEXT.replace('SETS 2', 'SETS many'), ["12: NUMBER_OF_SETS is 'many', which is no whole number"]],
    ['too few columns', TEXT.replace('FIELDS 5', 'FIELDS 6'), ['12: NUMBER_OF_FIELDS says 6, and 5 columns are named']],
    [
      'cut in the data',
      TEXT.replace('END_DATA\n', ''),
      ['12: the data begin here, and END_DATA is missing, so the file was perhaps not copied whole'],
    ],
    [
      'an open quote',
      TEXT.replace('red"', 'red'),
      ['13: a quotation mark is not closed', '13: this row has 2 values, and there are 5 columns'],
    ],
    [
      'no columns',
      'X\nBEGIN_DATA\n1 2\nEND_DATA\n',
      ['1: there are no data', '2: the data begin here, and no columns are named before them'],
    ],
    [
      'no data',
      TEXT.slice(0, TEXT.indexOf('NUMBER_OF_SETS')),
      ['1: there are no data', '8: columns are named here, and no data follow'],
    ],
    [
      'cut in the columns',
      'X\nBEGIN_DATA_FORMAT\nA B\n',
      ['1: there are no data', '2: the names of the columns begin here, and END_DATA_FORMAT is missing'],
    ],
    ['a column twice', TEXT.replace('LAB_B', 'LAB_A'), ['12: the column LAB_A stands twice']],
    ['an end of nothing', `X\nEND_DATA\n${TEXT.slice(9)}`, ['2: END_DATA ends what nothing began']],
  ])('%s', (_, text, problems) => {
    expect(problemsOf(text)).toEqual(problems)
  })

  test('and is not told without end', () => {
    expect(problemsOf(`X\nBEGIN_DATA_FORMAT A B END_DATA_FORMAT\nBEGIN_DATA\n${'1\n'.repeat(5000)}END_DATA\n`)).toHaveLength(30)
  })
})

describe('large and odd texts come to an end', () => {
  // Each of these would take a reader hours that looks back for every word it meets.
  test.each([
    ['many tables in a line', 'BEGIN_DATA_FORMAT A END_DATA_FORMAT BEGIN_DATA 1 END_DATA '.repeat(60_000)],
    ['many beginnings', 'BEGIN_DATA '.repeat(300_000)],
    ['many quotes', `X\nBEGIN_DATA\n${'"'.repeat(2_000_000)}`],
    ['many blanks', `${' '.repeat(4_000_000)}\nBEGIN_DATA`],
    ['many columns', `BEGIN_DATA_FORMAT\n${'A\n'.repeat(500_000)}`],
    ['many values', `BEGIN_DATA_FORMAT A END_DATA_FORMAT BEGIN_DATA\n${'1\n'.repeat(1_200_000)}END_DATA`],
    ['many keywords', 'K v\n'.repeat(500_000)],
  ])('%s', (_, text) => {
    expect(isCgats(text) || /^(?:K|BEGIN)/.test(text)).toBe(true)
    const { problems, tables } = readCgats(text)
    expect(problems.length).toBeGreaterThan(0)
    expect(tables.length).toBeLessThanOrEqual(100)
  })
})

test('numbers have a decimal point and nothing else', () => {
  expect(['1', '-1.5', '+.5', '2.', '1e3', '-1.2E-3'].map(cgatsNumber)).toEqual([1, -1.5, 0.5, 2, 1000, -0.0012])
  expect(['', '1,5', '1 5', 'NaN', '0x10', '1e999', '--1', '.', 'Infinity', '9'.repeat(50)].map(cgatsNumber)).toEqual(
    new Array(10).fill(undefined),
  )
})

test('a file is known by what it holds, whatever its name', () => {
  const of = (text: string): string => {
    const file = readColourFile(new TextEncoder().encode(text))
    return file.format === 'other' ? file.looks : file.format
  }
  expect(of(TEXT)).toBe('cgats')
  expect(of('')).toBe('an empty file')
  expect(of('%PDF-1.7')).toBe('a PDF file')
  expect(of('PK\u0003\u0004')).toBe('a ZIP archive or a spreadsheet')
  expect(of('<?xml version="1.0"?><a/>')).toBe('XML or HTML text')
  expect(of('Lab,1,2,3\n')).toBe('text of another sort')
  expect(of('a\0b')).toBe('binary data of another sort')
  expect(of(`${'x'.repeat(1024)}\n`.repeat(9 * 1024))).toBe('a text of 9 MB, where 8 MB at most are read')
})
