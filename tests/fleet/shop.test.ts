// `rollbook shop`: the table as a text, as a page and for programs.
import { expect, test } from 'vitest'
import { ran, run } from '../cli/shell.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay <Print> Works
tolerance: {length: 0.1 %, risk: 10 %}
recheck: {feed: 20 d}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1}
#- printers/gull.printer.yaml
printer: gull
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
feed: {range: [-1 %, 1 %], step: 0.01 %, entry: percent, pattern-lengths: [1 m], repeatability: {value: 0.01 %, freedom: 30}}
#- printers/heron.printer.yaml
printer: heron
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
feed: {range: [-1 %, 1 %], step: 0.01 %, entry: percent, pattern-lengths: [1 m]}
#- stocks/film.stock.yaml
stock: film
title: Film & liner
#- stocks/flag.stock.yaml
stock: flag
retired: 2026-03-01
replaced-by: film
`

const profile = (
  id: string,
  stock: string,
  printer: string,
  correction = '+0.21 %',
  measured = '1000 mm',
): string => `#- ${id}.media.yaml
profile: ${id}
stock: ${stock}
printer: ${printer}
mode: quick
feed:
  correction: ${correction}
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: ${measured}, applied: +0.21 %, with: rule-1m, web: 20 °C, lot: L-1, under: now}
    - {date: 2026-03-24, commanded: 1000 mm, measured: ${measured}, applied: +0.21 %, with: rule-1m, web: 20 °C, lot: L-1, under: now}
conditions: {now: {from: profile, stock: ${stock}, printer: ${printer}, mode: quick}}
`

const ALL = `${profile('a', 'film', 'gull')}${profile('b', 'film', 'heron', '-0.40 %')}${profile('c', 'flag', 'gull')}${SHOP}`

test('words with their chance, a pair without a profile neutral, due first below', async () => {
  expect(await run('shop', ALL)).toMatchInlineSnapshot(`
    "Tern Quay <Print> Works as on 2026-03-31: 2 printers, 2 stocks; 90 % are asked for
    Each word tells of the length of prints: unknown, doubtful, off, carried, proven; the share that comes out within tolerance beside it.

                    gull              heron
    film            proven over 99 %  off under 1 %
    flag (retired)  retired           -

    Lots on the machines:
      gull: film L-1
      heron: film L-1

    Out of use:
      flag: retired on 2026-03-01, replaced by film

    Due first:
      now         b  off under 1 %
        Off: under 1 % of prints come out within 1 mm per metre: key in +0.21 %, then 96 % do.
      2026-04-13  a  proven over 99 %
    exit 0"
  `)
})

test('for programs, with paths as a person knows them', async () => {
  const { out } = await ran('shop --format json', ALL)
  const { shop, goal, rows, columns, notChecked } = JSON.parse(out)
  expect([shop, goal, notChecked, columns[0].file]).toEqual(['Tern Quay <Print> Works', 0.9, [], 'stocks/film.stock.yaml'])
  expect(rows[1].cells).toMatchObject([[{ profile: 'b', word: 'off', due: '2026-03-31', file: 'b.media.yaml' }], []])
})

test('as a page: what stands in documents is text there, and nothing is fetched or run', async () => {
  const { out } = await ran('shop --format html', ALL)
  expect(out).toContain('<h1>Tern Quay &lt;Print&gt; Works, 2026-03-31</h1>')
  expect(out).toContain('title="Film &amp; liner"')
  expect(out).toContain('<span class="none">–</span>')
  expect(out).toContain('retired on 2026-03-01, replaced by film')
  expect(out).not.toMatch(/<script|https?:|url\(/)
})

test('of what a read-back contradicts no chance is told: it is that of another number', async () => {
  const apart = profile('a', 'film', 'gull').replace('conditions:', 'keyed: [{date: 2026-03-30, correction: 0 %}]\nconditions:')
  const { out } = await ran('shop --format json', `${apart}${SHOP}`)
  const [[cell]] = JSON.parse(out).rows[0].cells
  expect([cell.word, cell.chance]).toEqual(['doubtful', undefined])
})

test('what cannot be read is told, and the exit code is 2', async () => {
  const { err, code } = await ran('shop', ALL, { unreadable: ['a.media.yaml'] })
  expect([err, code]).toEqual(['a.media.yaml cannot be read: permission is denied\n', 2])
})
