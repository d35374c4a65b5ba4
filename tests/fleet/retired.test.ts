// Stocks and profiles out of use: nothing is due on them, their place is free, they are offered last, and a new profile on them is told.
import { expect, test } from 'vitest'
import { ran, run } from '../cli/shell.ts'
import { cursorOf, openFixture, parseFixture } from '../support/fixture.ts'

const SHOP = `#- rollbook.yaml
shop: S
#- old.stock.yaml
stock: old
family: banner-pvc
thickness: 300 µm
retired: 2026-02-01
replaced-by: zeal
#- zeal.stock.yaml
stock: zeal
title: Frontlit banner
family: banner-pvc
thickness: 300 µm
#- bay-1.printer.yaml
printer: bay-1
modes: {m: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
feed: {range: [-2 %, 2 %], step: 0.01 %, pattern-lengths: [1 m]}
slots: 4
`

const stale = (id: string, stock: string, more = ''): string => `#- ${id}.media.yaml
profile: ${id}
stock: ${stock}
printer: bay-1
mode: m
slot: 1
${more}feed:
  correction: 0 %
  checks:
    - {date: 2025-06-30, commanded: 1000 mm, measured: 1000 mm, applied: 0 %}
`

test('nothing is due on a profile or a stock out of use, and the list says how many it left out', async () => {
  const source = `${stale('a', 'zeal', 'retired: 2026-03-01\n')}${stale('b', 'old')}${SHOP}`
  expect(await run('due', source)).toMatchInlineSnapshot(`
    "2 profiles out of use are left out: nothing is due on what is retired.
    4 documents looked at as on 2026-03-31: nothing is due.
    exit 0"
  `)
  const before = await ran('due --today 2026-01-31 --json', source)
  expect([JSON.parse(before.out).retired, JSON.parse(before.out).due.length > 0]).toEqual([0, true])
})

test('a check of one tells no old age either', async () => {
  const { out } = await ran('check a.media.yaml --due --format json', `${stale('a', 'zeal', 'retired: 2026-03-01\n')}${SHOP}`)
  expect(JSON.parse(out).findings.map(({ code }: { code: string }) => code)).not.toContain('feed-stale')
  const used = await ran('check a.media.yaml --due --format json', `${stale('a', 'zeal')}${SHOP}`)
  expect(JSON.parse(used.out).findings.map(({ code }: { code: string }) => code)).toContain('feed-stale')
})

test('completion offers what is in use first, and says what replaced the rest', async () => {
  const fixture = parseFixture(`#- c.media.yaml\nprofile: c\nstock: $0\n${SHOP}`)
  const analysis = await openFixture(fixture)
  const found = analysis
    .completions(fixture.file, cursorOf(fixture))
    .toSorted((a, b) => ((a.sort ?? '') < (b.sort ?? '') ? -1 : 1))
  expect(found.map(({ label, detail }) => `${label}: ${detail}`)).toEqual([
    'zeal: Frontlit banner',
    'old: retired on 2026-02-01, replaced by zeal',
  ])
})

test('a new profile takes the place of one out of use; on a stock out of use it is told', async () => {
  const source = `${stale('a', 'zeal', 'retired: 2026-03-01\n')}${SHOP}`
  const fresh = await ran('start --stock zeal --printer bay-1', source)
  expect(fresh.out).toMatch(/^slot: 1$/m)
  const { err, code } = await ran('start --stock old --printer bay-1', source)
  expect([err.split('\n')[0], code]).toEqual([
    'old is out of use, retired on 2026-02-01, replaced by zeal: start on what is in use.',
    1,
  ])
})
