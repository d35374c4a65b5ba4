// Which documents belong to one shop, while files and folders come and go.
import { expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'

const ROOT = 'file:///all/'

function open(...files: readonly string[]): Workspace {
  const text = (file: string): string => {
    const id = /([^/]+)\.(stock|media)\.yaml$/.exec(file)
    return id ? `${id[2] === 'stock' ? 'stock' : 'profile'}: ${id[1]}\n` : 'shop: Tern Quay Print Works\n'
  }
  return new Workspace(new MemoryHost(new Map(files.map((file) => [ROOT + file, text(file)]))))
}

const stocksBeside = (workspace: Workspace, file: string): readonly string[] =>
  [...workspace.shelf(ROOT + file).all('stock')].map((facts) => facts.file.slice(ROOT.length)).sort()

const disk = (workspace: Workspace): Map<string, string> => (workspace.host as MemoryHost).files

test('a shop within a shop is one of its own, whichever of its files is read first', async () => {
  const workspace = open(
    'a.stock.yaml',
    'inner/b.stock.yaml',
    'inner/deep/c.stock.yaml',
    'inner/rollbook.yaml',
    'rollbook.yaml',
    'z/d.stock.yaml',
  )
  const read = workspace.host.read.bind(workspace.host)
  workspace.host.read = async (file) => {
    for (let i = 0; file.endsWith('rollbook.yaml') && i < 20; i++) await Promise.resolve()
    return read(file)
  }
  await workspace.addFolder(ROOT)
  expect(stocksBeside(workspace, 'x.media.yaml')).toEqual(['a.stock.yaml', 'z/d.stock.yaml'])
  expect(stocksBeside(workspace, 'inner/deep/x.media.yaml')).toEqual(['inner/b.stock.yaml', 'inner/deep/c.stock.yaml'])
})

test('a rollbook.yaml that comes parts a shop, one that goes joins it again', async () => {
  const workspace = open('a.stock.yaml', 'inner/b.stock.yaml')
  await workspace.addFolder(ROOT)
  expect(stocksBeside(workspace, 'inner/x.media.yaml')).toEqual(['a.stock.yaml', 'inner/b.stock.yaml'])
  workspace.update(`${ROOT}inner/rollbook.yaml`, 'shop: Annex\n')
  expect(stocksBeside(workspace, 'inner/x.media.yaml')).toEqual(['inner/b.stock.yaml'])
  expect(workspace.shelf(`${ROOT}inner/x.media.yaml`).shop()?.text).toBe('shop: Annex\n')
  // Never saved, it is gone when its editor is closed.
  await workspace.close(`${ROOT}inner/rollbook.yaml`)
  expect(stocksBeside(workspace, 'inner/x.media.yaml')).toEqual(['a.stock.yaml', 'inner/b.stock.yaml'])
})

test('a document that is open before its folder is read belongs to the shop all the same', async () => {
  const workspace = open('inner/rollbook.yaml', 'inner/b.stock.yaml')
  workspace.update(`${ROOT}inner/new.stock.yaml`, 'stock: new\n')
  await workspace.addFolder(ROOT)
  expect(stocksBeside(workspace, 'inner/x.media.yaml')).toEqual(['inner/b.stock.yaml', 'inner/new.stock.yaml'])
})

test('a folder that is taken away takes its documents along, but for open ones and those of another folder', async () => {
  const workspace = open('one/a.stock.yaml', 'one/two/b.stock.yaml', 'one/c.stock.yaml')
  await workspace.addFolder(`${ROOT}one`)
  await workspace.addFolder(`${ROOT}one/two`)
  workspace.update(`${ROOT}one/a.stock.yaml`, 'stock: a\n')
  workspace.removeFolder(`${ROOT}one`)
  expect(stocksBeside(workspace, 'one/two/x.media.yaml')).toEqual(['one/two/b.stock.yaml'])
  expect(stocksBeside(workspace, 'one/x.media.yaml')).toEqual(['one/a.stock.yaml'])
})

test('a text that is read while it changes on disk is read again', async () => {
  const workspace = open('rollbook.yaml', 'a.stock.yaml')
  await workspace.addFolder(ROOT)
  const file = `${ROOT}a.stock.yaml`
  const loading = workspace.load(file)
  disk(workspace).set(file, 'stock: a\ntitle: changed\n')
  await workspace.changedOnDisk(file)
  await loading
  expect((await workspace.load(file))?.text).toContain('changed')
})

test('a folder that is no place on this disk is told of and left out', async () => {
  const workspace = open()
  workspace.host.list = async () => {
    throw new Error('vfs://x is not a place on this disk.')
  }
  await workspace.addFolder('vfs://x/')
  expect((workspace.host as MemoryHost).logged).toEqual(['error: vfs://x is not a place on this disk.'])
})

test('a document makes no room for what it is judged by, however long ago it was read', async () => {
  const stocks = Array.from({ length: 200 }, (_, i) => `film-${i}.stock.yaml`)
  const workspace = open('a.media.yaml', 'z.stock.yaml', 'rollbook.yaml', ...stocks)
  disk(workspace).set(`${ROOT}a.media.yaml`, 'profile: a\nstock: z\n')
  await workspace.addFolder(ROOT)
  // As many as are kept, the profile the oldest of them.
  for (const file of ['a.media.yaml', ...stocks.slice(0, 199), 'a.media.yaml']) await workspace.load(ROOT + file)
  await workspace.prepare(`${ROOT}a.media.yaml`)
  for (const file of ['a.media.yaml', 'z.stock.yaml', 'rollbook.yaml'])
    expect(workspace.document(ROOT + file)?.file).toBe(ROOT + file)
})

test('a shop that is judged by more documents than are kept has all of them', async () => {
  const printers = Array.from({ length: 220 }, (_, i) => `bay-${i}.printer.yaml`)
  const workspace = open('rollbook.yaml', ...printers)
  for (const file of printers) disk(workspace).set(ROOT + file, `printer: ${file.replace(/\..*/, '')}\n`)
  await workspace.addFolder(ROOT)
  await workspace.load(`${ROOT}rollbook.yaml`)
  await workspace.prepare(`${ROOT}rollbook.yaml`)
  for (const file of ['rollbook.yaml', ...printers]) expect(workspace.document(ROOT + file)?.file).toBe(ROOT + file)
})
