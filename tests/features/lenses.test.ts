// Who uses a stock, a printer or an instrument: shown as `name: what stands above it`.
import { expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { SHOP } from './example-shop.ts'

async function above(file: string, more = ''): Promise<string> {
  const fixture = parseFixture(`${SHOP}${more}`)
  const at = `file:///shop/${file}`
  const text = fixture.files.get(at)!
  const analysis = await openFixture({ ...fixture, file: at, text })
  return analysis
    .lenses(at)
    .map(({ span, title }) => `${text.slice(span.start, span.end)}: ${title ?? 'to be counted'}`)
    .join('\n')
}

const heir = '#- heir.media.yaml\nprofile: heir\nbase: everyday\n'
const own = '#- own.media.yaml\nprofile: own\nstock: film\nprinter: bay-1\nbase: everyday\n'

test('profiles that name it, and those that do so through a base', async () => {
  expect(await above('film.stock.yaml')).toBe('film: used by 1 profile')
  expect(await above('film.stock.yaml', heir + own)).toBe('film: used by 3 profiles, 1 of them through a base')
  expect(await above('bay-1.printer.yaml', heir)).toBe('bay-1: used by 2 profiles, 1 of them through a base')
  expect(await above('canvas.stock.yaml', heir)).toBe('canvas: used by no profile')
  expect(await above('everyday.media.yaml')).toBe('')
})

test('instruments are counted where somebody looks', async () => {
  expect(await above('rollbook.yaml')).toBe('steel-rule-1m: to be counted\ntape-5m: to be counted')
})

test('no count where some document cannot be read', async () => {
  const { files } = parseFixture(SHOP)
  class Shut extends MemoryHost {
    override async read(file: string): Promise<string> {
      if (file.endsWith('everyday.media.yaml')) throw new Error('it is shut')
      return super.read(file)
    }
  }
  const workspace = new Workspace(new Shut(files, '2026-03-31'))
  await workspace.addFolder('file:///shop/')
  workspace.update('file:///shop/film.stock.yaml', 'stock: film\n')
  expect(new Analysis(workspace, true).lenses('file:///shop/film.stock.yaml')).toEqual([])
})
