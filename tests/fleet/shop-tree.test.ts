// The shop as a tree: what stands in each line, in which order, and what is read out of it.
import { expect, test } from 'vitest'
import type { ShopTable } from '../../server/src/report/fleet/shop-table.ts'
import { type ShopNode, type ShopWish, shopTree } from '../../server/src/report/fleet/shop-tree.ts'
import { shopTableOf } from '../../server/src/workspace/fleet.ts'
import { sampleWorkspace } from '../../server/tools/samples.ts'
import { ROOT } from '../support/fixture.ts'

const { workspace, files } = await sampleWorkspace('tern-quay')
const table = await shopTableOf(workspace, `${ROOT}rollbook.yaml`)

const all = (nodes: readonly ShopNode[]): readonly ShopNode[] => nodes.flatMap((node) => [node, ...all(node.children ?? [])])

const drawn = (nodes: readonly ShopNode[], indent = ''): string =>
  nodes
    .map(({ label, says, children }) => `${indent}${label}${says && ` | ${says}`}\n${drawn(children ?? [], `${indent}  `)}`)
    .join('')

const tree = (wish: ShopWish = {}, of: ShopTable = table): readonly ShopNode[] => shopTree(of, wish)

test('by printer: what is due first, and what has no profile together at the end', () => {
  expect(drawn(tree().slice(0, 1))).toMatchInlineSnapshot(`
    "bay-1 | 7 profiles, 6 due
      banner-510 | off, due today
      pp-film-180 | doubtful, due today
      calendered-film-80 | doubtful, due today
      pet-film-clear-100 | doubtful, due today
      cast-film-gloss-50-fine-bay-1 | doubtful, due today
      cast-film-gloss-50-fine-one-way-bay-1 | unknown, due today
      cast-film-gloss-50-bay-1 | proven, next by 2026-12-10
      5 stocks without a profile
        canvas-380 | no profile
        coated-paper-200 | no profile
        flag-polyester-110 | no profile
        knit-polyester-220 | no profile
        uncoated-paper-120 | no profile
    "
  `)
})

test('by stock', () => {
  expect(drawn(tree({ order: 'stock' }).slice(0, 3))).toMatchInlineSnapshot(`
    "banner-510 | 1 profile, 1 due
      bay-1 | off, due today
      2 printers without a profile
        bay-2 | no profile
        bay-3 | no profile
    calendered-film-80 | 2 profiles, 2 due
      bay-1 | doubtful, due today
      bay-2 | doubtful, due today
      1 printer without a profile
        bay-3 | no profile
    canvas-380 | 2 profiles, 2 due
      bay-2 | doubtful, due today
      bay-3 | doubtful, due today
      1 printer without a profile
        bay-1 | no profile
    "
  `)
})

test('due first: the profiles alone', () => {
  expect(drawn(tree({ order: 'due' }))).toMatchInlineSnapshot(`
    "banner-510-bay-1 | off, due today
    coated-paper-200-bay-2 | doubtful, due today
    pp-film-180-bay-1 | doubtful, due today
    calendered-film-80-bay-1 | doubtful, due today
    knit-polyester-220-bay-3 | doubtful, due today
    canvas-380-bay-2 | doubtful, due today
    canvas-380-bay-3 | doubtful, due today
    pp-film-180-bay-2 | doubtful, due today
    pet-film-clear-100-bay-1 | doubtful, due today
    flag-polyester-110-bay-3 | doubtful, due today
    calendered-film-80-bay-2 | doubtful, due today
    cast-film-gloss-50-fine-bay-1 | doubtful, due today
    cast-film-gloss-50-fine-one-way-bay-1 | unknown, due today
    uncoated-paper-120-bay-2 | unknown, due today
    cast-film-gloss-50-bay-1 | proven, next by 2026-12-10
    pet-film-clear-100-bay-2 | carried, next by 2026-12-18
    "
  `)
})

test('with some of the words alone there is nothing else, and no empty pair', () => {
  const words = ['off', 'proven'] as const
  for (const order of ['printer', 'stock', 'due'] as const) {
    const found = all(tree({ order, words })).flatMap(({ word }) => word ?? [])
    expect(new Set(found)).toEqual(new Set(words))
  }
  expect(tree({ words: [] })).toEqual([])
})

test.each(['printer', 'stock'] as const)(
  'by %s every profile stands once, every pair is there, and keys are each its own',
  (order) => {
    const nodes = all(tree({ order }))
    expect(nodes.flatMap(({ file }) => (file?.endsWith('.media.yaml') ? [file] : [])).sort()).toEqual([...files].sort())
    const pairs = new Set(table.rows.flatMap(({ cells }) => cells.flatMap((cell) => cell.map((c) => `${c.stock} ${c.printer}`))))
    const empty = nodes.flatMap(({ start }) => (start ? [`${start.stock} ${start.printer}`] : []))
    expect(empty.filter((pair) => pairs.has(pair))).toEqual([])
    expect(pairs.size + empty.length).toBe(table.rows.length * table.columns.length)
    expect(new Set(nodes.map(({ key }) => key)).size).toBe(nodes.length)
  },
)

test('what is read out names the pair, its word and its day, and then what to do', () => {
  const nodes = all(tree())
  expect(nodes.find(({ word }) => word === 'off')!.spoken).toMatchInlineSnapshot(
    `"banner-510 on bay-1, banner-4-pass: off, due today. Off: under 1 % of prints come out within 0.5 mm per metre: key in +0.24 %, then 95 % do."`,
  )
  expect(nodes.find(({ start }) => start)!.spoken).toMatchInlineSnapshot(
    `"canvas-380 on bay-1: no profile. Open it to start one."`,
  )
  expect(nodes[0]!.spoken).toMatchInlineSnapshot(`"Printer bay-1, Bay 1, solvent, by the roller door: 7 profiles, 6 due."`)
  for (const { spoken, says } of nodes) {
    expect(spoken).toMatch(/[.]$/)
    expect(spoken).toContain(says)
  }
})

test('out of use, with no document, or in no pair: each says so, and offers no start', () => {
  const [row] = table.rows
  const cell = row!.cells.flat()[0]!
  const gone = { stock: 'gone', title: undefined, file: undefined, retired: undefined, replacedBy: undefined }
  const old = { stock: 'old', title: 'An *old* one', file: `${ROOT}old.stock.yaml`, retired: '2026-10-01', replacedBy: undefined }
  const odd: ShopTable = {
    ...table,
    columns: [gone, old],
    rows: [
      {
        ...row!,
        cells: [
          [{ ...cell, stock: 'gone' }],
          [{ ...cell, stock: 'old', file: 'b', retired: 'retired on 2026-10-01', due: undefined }],
        ],
      },
    ],
    apart: [{ ...cell, file: 'c', stock: undefined }],
  }
  expect(drawn(tree({ order: 'stock' }, odd))).toMatchInlineSnapshot(`
    "gone | 1 profile, 1 due, there is no document of this stock
      bay-1 | off, due today
    old | 1 profile, retired on 2026-10-01
      bay-1 | out of use
    In no pair | 1 profile that name no stock or no printer
      banner-510-bay-1 | off, due today
    "
  `)
  expect(all(tree({ order: 'stock' }, odd)).filter(({ start }) => start)).toEqual([])
  expect(tree({ order: 'stock' }, odd)[1]!.more).toBe('An \\*old\\* one')
})
