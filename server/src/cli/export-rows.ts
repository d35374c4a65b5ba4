// The tables of `rollbook export`, a row a setting, an entry of evidence, or a quantity. Rows are by column name; columns that a row lacks are empty.

import { reckon } from '../areas/reckon.ts'
import type { RollDocument } from '../model/document.ts'
import { type Cell, EVIDENCE, evidenceIn, settingCells } from '../model/evidence.ts'
import type { Setup } from '../model/setup.ts'
import { siSymbol } from '../quantities/si-symbols.ts'
import type { CsvCell } from './csv.ts'
import { columnName, LIST, PROFILE } from './import-columns.ts'

export type Row = ReadonlyMap<string, CsvCell>

export type TableName = 'settings' | 'evidence' | 'quantities'

interface Export {
  /** What the rows rest on: the profile's own text, its bases too, or all that it names. */
  readonly rests: 'alone' | 'bases' | 'all'
  rows(document: RollDocument<'media'>, setup: Setup | undefined): readonly Row[]
}

export const EXPORTS: Readonly<Record<TableName, Export>> = {
  settings: { rests: 'bases', rows: settings },
  evidence: { rests: 'alone', rows: evidence },
  quantities: { rests: 'all', rows: quantities },
}

const text = (words: string): CsvCell => ({ text: words, isNumber: false })

const idOf = ({ content, baseName }: RollDocument<'media'>): CsvCell => text(content?.profile?.value ?? baseName)

/** The columns of rows: as they come, and those of evidence as the schema orders their keys, so that the units of one stand together. */
export function columnsOf(rows: readonly Row[], what: TableName): readonly string[] {
  const names = [...new Set(rows.flatMap((row) => [...row.keys()]))]
  if (what !== 'evidence') return names
  const order = EVIDENCE.flatMap(({ entry }) => [...entry.properties.keys()])
  const place = (name: string): number => order.indexOf(/^[^ .]*/.exec(name)![0])
  const rank = (name: string): number => (name === PROFILE || name === LIST ? -1 : place(name) < 0 ? order.length : place(name))
  return names.sort((a, b) => rank(a) - rank(b))
}

/** Columns always there, so that a table has the same ones whatever is in it. */
function settings(document: RollDocument<'media'>, setup: Setup | undefined): readonly Row[] {
  if (!setup) return []
  const cells = settingCells(setup.profile)
  return cells
    .filter(({ part }) => part === 'value')
    .map((cell) => {
      const spread = cells.find(({ key, part }) => part === 'spread' && key === cell.key)
      const base = setup.bases.find(({ file }) => file === cell.place.file)
      return new Map([
        [PROFILE, idOf(document)],
        ['key', text(cell.key)],
        ['value', plain(cell)],
        ['±', spread ? plain(spread) : text('')],
        ['unit', text(cell.unit ?? '')],
        ['origin', text(base ? 'base' : 'own')],
        ['base', base ? idOf(base) : text('')],
      ])
    })
}

const plain = ({ text, isNumber }: Cell): CsvCell => ({ text, isNumber })

function evidence(document: RollDocument<'media'>): readonly Row[] {
  return evidenceIn(document).map(
    ({ kind, cells }) =>
      new Map([
        [PROFILE, idOf(document)],
        [LIST, text(kind.name)],
        ...cells.map((cell) => [columnName(cell), plain(cell)] as const),
      ]),
  )
}

function quantities(document: RollDocument<'media'>, setup: Setup | undefined): readonly Row[] {
  if (!setup) return []
  return reckon(setup).map(({ key, title, value, dimension, unit, problem }) => {
    const { typical, low, high } = typeof value === 'object' ? value : { typical: value, low: undefined, high: undefined }
    return new Map([
      [PROFILE, idOf(document)],
      ['key', text(key)],
      ['title', text(title)],
      ['value', number(typical)],
      ['low', number(low)],
      ['high', number(high)],
      ['unit', text(unit ?? siSymbol(dimension))],
      ['problem', text(problem?.reason ?? '')],
    ])
  })
}

/** Twelve digits; the rest is binary dust. */
const number = (value: number | undefined): CsvCell =>
  value === undefined ? text('') : { text: String(Number(value.toPrecision(12)) + 0), isNumber: true }
