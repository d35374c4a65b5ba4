// The table of a shop: which word stands where, what is due first, and what a pair without a profile says.
import { expect, test } from 'vitest'
import { dueFirst, type ShopTable } from '../../server/src/report/fleet/shop-table.ts'
import { shopTableOf } from '../../server/src/workspace/fleet.ts'
import { sampleWorkspace } from '../../server/tools/samples.ts'
import { openFixture, parseFixture, ROOT } from '../support/fixture.ts'

const tableOf = async (source: string, today?: string): Promise<ShopTable> => {
  const fixture = parseFixture(source)
  const { workspace } = await openFixture(fixture, today)
  return shopTableOf(workspace, fixture.file)
}

const cell = ({ rows }: ShopTable, profile: string) =>
  rows.flatMap(({ cells }) => cells.flat()).find((c) => c.profile === profile)

test('the sample shop: a row a printer, a column a stock, each profile in its cell once', async () => {
  const { workspace, files } = await sampleWorkspace('tern-quay')
  const table = await shopTableOf(workspace, `${ROOT}rollbook.yaml`)
  expect(table.rows.map(({ printer }) => printer)).toEqual(['bay-1', 'bay-2', 'bay-3'])
  expect(table.columns).toHaveLength(10)
  expect(table.rows.every(({ cells }) => cells.length === table.columns.length)).toBe(true)
  expect(
    table.rows
      .flatMap(({ cells }) => cells.flat())
      .map(({ file }) => file)
      .sort(),
  ).toEqual([...files].sort())
  expect(table.apart).toEqual([])
  const rows = table.rows.map(
    ({ printer, cells }) => `${printer}: ${cells.map((c) => c.map(({ word }) => word).join('+') || '-').join(' ')}`,
  )
  expect(rows).toMatchInlineSnapshot(`
    [
      "bay-1: off doubtful - proven+doubtful+unknown - - - doubtful doubtful -",
      "bay-2: - doubtful doubtful - doubtful - - carried doubtful unknown",
      "bay-3: - - doubtful - - doubtful doubtful - - -",
    ]
  `)
  expect(table.rows[0]!.lots).toContainEqual({ stock: 'banner-510', lot: 'B-4502' })
  const first = dueFirst(table)
  expect(first.map(({ profile, due }) => `${due} ${profile}`)).toMatchInlineSnapshot(`
    [
      "2026-11-25 banner-510-bay-1",
      "2026-11-25 coated-paper-200-bay-2",
      "2026-11-25 pp-film-180-bay-1",
      "2026-11-25 calendered-film-80-bay-1",
      "2026-11-25 knit-polyester-220-bay-3",
      "2026-11-25 canvas-380-bay-2",
      "2026-11-25 canvas-380-bay-3",
      "2026-11-25 pp-film-180-bay-2",
      "2026-11-25 pet-film-clear-100-bay-1",
      "2026-11-25 flag-polyester-110-bay-3",
      "2026-11-25 calendered-film-80-bay-2",
      "2026-11-25 cast-film-gloss-50-fine-bay-1",
      "2026-11-25 cast-film-gloss-50-fine-one-way-bay-1",
      "2026-11-25 uncoated-paper-120-bay-2",
      "2026-12-10 cast-film-gloss-50-bay-1",
      "2026-12-18 pet-film-clear-100-bay-2",
    ]
  `)
  expect(cell(table, 'banner-510-bay-1')).toMatchInlineSnapshot(`
    {
      "chance": 0.004565592641952266,
      "due": "2026-11-25",
      "dueBy": undefined,
      "file": "file:///shop/profiles/banner-510-bay-1.media.yaml",
      "lot": "B-4502",
      "mode": "banner-4-pass",
      "printer": "bay-1",
      "profile": "banner-510-bay-1",
      "retired": undefined,
      "sentence": "Off: under 1 % of prints come out within 0.5 mm per metre: key in +0.24 %, then 95 % do.",
      "stock": "banner-510",
      "word": "off",
    }
  `)
})

const SHOP = `#- rollbook.yaml
shop: S
#- p.printer.yaml
printer: p
#- s.stock.yaml
stock: s
title: Film
#- t.stock.yaml
stock: t
retired: 2026-02-01
replaced-by: s
`
const profile = (id: string, more: string): string => `#- ${id}.media.yaml\nprofile: ${id}\nprinter: p\n${more}`

test('a pair without a profile is empty; a stock that is not there has a column without a file', async () => {
  const table = await tableOf(`${profile('a', 'stock: s\n')}${profile('b', 'stock: gone\n')}${SHOP}`)
  expect(table.columns.map(({ stock, file }) => `${stock} ${file === undefined ? 'no file' : 'there'}`)).toEqual([
    'gone no file',
    's there',
    't there',
  ])
  expect(table.rows.map(({ cells }) => cells.map((c) => c.length))).toEqual([[1, 1, 0]])
  expect(cell(table, 'a')).toMatchObject({ word: 'unknown', chance: undefined, due: '2026-03-31', retired: undefined })
})

test('a profile that names no stock is in no cell and not lost', async () => {
  const table = await tableOf(`${profile('a', '')}${SHOP}`)
  expect([table.rows[0]!.cells.flat(), table.apart.map((c) => c.profile)]).toEqual([[], ['a']])
  expect(dueFirst(table).map((c) => c.profile)).toEqual(['a'])
})

test('nothing is due of what is retired, by itself or by its stock; from its day on and not before', async () => {
  const source = `${profile('a', 'stock: s\nretired: 2026-03-31\nreplaced-by: b\n')}${profile('b', 'stock: s\nretired: 2026-04-01\n')}${profile('c', 'stock: t\n')}${SHOP}`
  const table = await tableOf(source)
  expect(dueFirst(table).map((c) => c.profile)).toEqual(['b'])
  expect(cell(table, 'a')?.sentence).toBe('Out of use: retired on 2026-03-31, replaced by b.')
  expect(cell(table, 'c')).toMatchObject({ retired: 'its stock was retired on 2026-02-01, replaced by s', due: undefined })
  expect(table.columns.map(({ stock, retired, replacedBy }) => [stock, retired, replacedBy])).toEqual([
    ['s', undefined, undefined],
    ['t', '2026-02-01', 's'],
  ])
})

test('of a merge that waits no number is told', async () => {
  const merge = '<<<<<<< ours\ngap: 1 mm\n=======\ngap: 2 mm\n>>>>>>> theirs\n'
  const table = await tableOf(`${profile('a', `stock: s\n${merge}`)}${SHOP}`)
  expect(cell(table, 'a')).toMatchObject({ word: 'doubtful', sentence: 'A merge waits in this profile: settle it first.' })
})
