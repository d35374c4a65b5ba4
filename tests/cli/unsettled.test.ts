// A merge that nobody has settled: no command names a number as proven while it rests on one, whether lines of the conflict stand in a document or
// git alone knows of it, as after a merge driver that died.

import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { commit, git, repository, rollbook, SHOP as SIMPLE, told } from './repository.ts'
import { PRINTER, run, shopWith } from './shell.ts'

const SHOP = `${shopWith('conflict-markers')}${PRINTER}#- stocks/film.stock.yaml
stock: film
#- profiles/film.media.yaml
profile: film
stock: film
printer: bay-1
feed:
  correction: +0.10 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: rule-1m, web: 24 °C}
#- profiles/paper.media.yaml
profile: paper
`

describe('git says so, and no line of the conflict stands in the file', () => {
  const unmerged = ['printers/bay-1.printer.yaml']

  test('check of what rests on it ends with 2, of anything else as always', async () => {
    expect(await run('check profiles/film.media.yaml', SHOP, { unmerged })).toMatchInlineSnapshot(`
      "1 document checked, and not everything could be judged. Nothing found in what was.
      ! printers/bay-1.printer.yaml may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it ('git diff -- printers/bay-1.printer.yaml'), then 'git add printers/bay-1.printer.yaml'.
      exit 2"
    `)
    expect(await run('check profiles/paper.media.yaml', SHOP, { unmerged })).toMatchInlineSnapshot(`
      "1 document checked: nothing found.
      exit 0"
    `)
  })

  test('feed says to settle it first, and the word is doubtful', async () => {
    const told = await run('feed film', SHOP, { unmerged })
    expect(told.split('\n').slice(3, 8)).toMatchInlineSnapshot(`
      [
        "In short",
        "  - Settle first: printers/bay-1.printer.yaml may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it ('git diff -- printers/bay-1.printer.yaml'), then 'git add printers/bay-1.printer.yaml'.",
        "  - What follows is reckoned without that, and may be another number with it: key in nothing before.",
        "  - Settle the merge first, and key in nothing before.",
        "  - Doubtful: a merge is not settled in bay-1.printer.yaml, and the number may be another with the other version.",
      ]
    `)
    expect(told.split('\n').slice(-2)).toMatchInlineSnapshot(`
      [
        "! printers/bay-1.printer.yaml may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it ('git diff -- printers/bay-1.printer.yaml'), then 'git add printers/bay-1.printer.yaml'.",
        "exit 2",
      ]
    `)
    expect(JSON.parse((await run('feed film --json', SHOP, { unmerged })).replace(/\n!.*\nexit.*$/, '')).verdict).toMatchObject({
      word: 'doubtful',
      doubtful: 'unsettled',
    })
  })

  test.each(['reckon film', 'export --what quantities', 'due', 'check'])('%s ends with 2', async (line) => {
    const told = await run(line, SHOP, { unmerged })
    expect(told).toContain('git has a merge of it that is not settled')
    expect(told).toMatch(/exit 2$/)
  })

  test('import writes nothing into it', async () => {
    const told = await run('import - --into film --write', SHOP, {
      unmerged: ['profiles/film.media.yaml'],
      stdin: 'date,commanded (mm),measured (mm),applied (%)\n2026-03-30,1000,998.2,0\n',
    })
    expect(told).toMatch(/is not read whole/)
    expect(told).toMatch(/exit 2$/)
  })
})

test('in a real repository, after a driver that died: known from wherever one stands, until it is added', async () => {
  const folder = repository(SIMPLE)
  git(folder, 'checkout', '-q', '-b', 'night')
  commit(folder, '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\n')
  git(folder, 'checkout', '-q', 'main')
  commit(folder, '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.2 mm\n')
  expect(() => git(folder, '-c', 'merge.dies.driver=false', '-c', 'merge.default=dies', 'merge', '-q', 'night')).toThrow()
  const stock = join(folder, 'stocks/film.stock.yaml')
  expect(readFileSync(stock, 'utf8')).toBe('stock: film\nthickness: 0.2 mm\n')

  const { code, notChecked } = await told(folder)
  expect([code, notChecked]).toEqual([2, [expect.stringContaining('stocks/film.stock.yaml may not be what it will be')]])
  const below = await rollbook(join(folder, 'profiles'), 'check', 'film-1.media.yaml')
  expect([below.code, below.err]).toEqual([2, expect.stringContaining("'git add ../stocks/film.stock.yaml'")])
  expect((await rollbook(folder, 'check', 'profiles/paper-1.media.yaml')).code).not.toBe(2)
  const staged = await told(folder, '--staged')
  expect([staged.code, staged.notChecked.join(' ')]).toEqual([2, expect.stringContaining('its merge is not settled')])

  // Of git's own markers the document tells, and nothing else.
  const markers = 'stock: film\n<<<<<<< HEAD\nthickness: 0.2 mm\n=======\nthickness: 0.3 mm\n>>>>>>> night\n'
  writeFileSync(stock, markers)
  expect((await told(folder)).notChecked).toEqual([expect.stringContaining('in line 2 a merge conflict is not settled')])

  writeFileSync(stock, 'stock: film\nthickness: 0.3 mm\n')
  git(folder, 'add', 'stocks/film.stock.yaml')
  expect((await told(folder)).notChecked).toEqual([])
})
