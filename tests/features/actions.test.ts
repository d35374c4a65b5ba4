// What the light bulb offers at a place, and the document after taking it.
import { describe, expect, test } from 'vitest'
import { actionTitles, afterAction } from '../support/render.ts'
import { inShop } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

const titles = async (fixture: string): Promise<string> => (await actionTitles(fixture)).join('\n') || 'nothing'

test('on a bare number: every unit it may have been', async () => {
  expect(await titles(inShop(`${HEAD}gap: 2$0\n`))).toMatchInlineSnapshot(`
    "Add mm
    Record a feed check of today"
  `)
})

test('on a mistyped key: the key that was meant', async () => {
  const profile = `${HEAD}heat: {plat$0n: 40 °C} # warm\n`
  expect(await titles(inShop(profile))).toMatchInlineSnapshot(`
    "Write 'platen'
    Record a feed check of today"
  `)
  expect(await afterAction(inShop(profile), /platen/)).toBe(`${HEAD}heat: {platen: 40 °C} # warm\n`)
})

test('on a correction that its checks do not ask for', async () => {
  const profile = `${HEAD}feed:\n  correction: +0.0$05 % # keyed in\n  checks:\n    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}\n`
  expect(await titles(inShop(profile))).toMatchInlineSnapshot(`
    "Set the correction to +0.25 % (from 1 check)
    Record a feed check of today
    Accept 'feed-correction' until a day, with a reason"
  `)
  expect(await afterAction(inShop(profile), /^Set the correction/)).toBe(profile.replace('+0.0$05', '+0.25'))
})

test('on a value that is right: other ways to write it', async () => {
  expect(await titles(inShop(`${HEAD}gap: 2.0$0 mm\n`))).toMatchInlineSnapshot(`
    "Record a feed check of today
    Write it as 79 mil, rounded"
  `)
})

describe('through an alias nothing is edited, and it is said why', () => {
  test('a value that is shared', async () => {
    expect(await titles(inShop(`${HEAD}x-gap: &g 2\ngap: *$0g\n`))).toMatchInlineSnapshot(`
      "Add mm [refused: The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first.]
      Record a feed check of today"
    `)
  })
})

test('where nothing is to be done, nothing is offered', async () => {
  const feed = 'feed:\n  checks:\n    - {date: 2026-03-30, commanded: 2000 mm, measured: 2000.0 mm, applied: 0 %}\n'
  expect(await titles(inShop(`${HEAD}# a re$0mark\n${feed}`))).toBe('nothing')
  expect(await titles(inShop(`${HEAD}title: a na$0me\n${feed}`))).toBe('nothing')
})

test('a selection gathers the fixes of all it touches', async () => {
  expect(await titles(inShop(`${HEAD}$0gap: 2\nsuction: 3 Pb\n$0`))).toMatchInlineSnapshot(`
    "Add mm
    Write '3 Pa'
    Record a feed check of today"
  `)
})

describe('a list of evidence is put in the order of its dates', () => {
  const READINGS = `${HEAD}heat:
  platen: 40 °C
  readings:
    - { date: 2026-03-20, zone: platen, set: 40 °C, web: 38 °C }
    # Cold morning.
    - { date: 2026-03-02, zone: platen, set: 40 °C, web: 36 °C } # twice
    - { date: 2026-03-21, zone: platen, set: 40 °C, web: 38 °C }$0
`
  const SORTED = `${HEAD}heat:
  platen: 40 °C
  readings:
    # Cold morning.
    - { date: 2026-03-02, zone: platen, set: 40 °C, web: 36 °C } # twice
    - { date: 2026-03-20, zone: platen, set: 40 °C, web: 38 °C }
    - { date: 2026-03-21, zone: platen, set: 40 °C, web: 38 °C }
`
  const offer = /in the order of their dates/

  test('of any kind, each entry with its comments, and once', async () => {
    expect(await afterAction(inShop(READINGS), offer)).toBe(SORTED)
    expect(await titles(inShop(`${SORTED.slice(0, -1)}$0\n`))).not.toMatch(offer)
  })

  const checks = (...lines: string[]): string =>
    `${HEAD}feed:\n  checks:\n${lines.map((line) => `    - {${line}, commanded: 1000 mm, measured: 998 mm, applied: 0 %}\n`).join('')}`

  test('a strip that was measured twice stays below its first line', async () => {
    const [late, strip, again] = ['date: 2026-03-20', 'date: 2026-03-02', 'date: 2026-03-02, same-print: true'] as const
    expect(await afterAction(inShop(checks(late, `${strip}$0`, again)), offer)).toBe(checks(strip, again, late))
    expect(await afterAction(inShop(checks(`${strip}$0`, 'date: 2026-03-01', again.replace('-02', '-01'), late)), offer)).toBe(
      checks('date: 2026-03-01', again.replace('-02', '-01'), strip, late),
    )
  })

  test('not where the line above is of another day: which print is meant nobody knows', async () => {
    const torn = checks('date: 2026-03-02$0', 'date: 2026-03-20', 'date: 2026-03-02, same-print: true')
    expect(await titles(inShop(torn))).toContain("[refused: A line says 'same-print', which means the line above it")
  })

  test('nor where one has no day', async () => {
    expect(
      await titles(inShop(`${HEAD}observed:\n  - {date: 2026-03-02$0, fault: banding}\n  - {fault: banding}\n`)),
    ).not.toMatch(offer)
  })
})

describe('what is out of use', () => {
  test('a stock is retired on its name, once', async () => {
    const stock = '#- film.stock.yaml\nstock: fi$0lm\nfamily: film-pvc-cast\nthickness: 50 µm\nnotes: sold out\n'
    expect(await afterAction(stock, /^Retire this stock/)).toBe(
      `stock: film\nfamily: film-pvc-cast\nthickness: 50 µm\nretired: \${1:2026-03-31}\nnotes: sold out\n`,
    )
    expect(await titles(stock.replace('notes: sold out', 'retired: 2026-01-01'))).not.toMatch(/Retire/)
    expect(await titles(stock.replace('fi$0lm', 'film').replace('50 µm', '5$00 µm'))).not.toMatch(/Retire/)
  })

  test('a profile too, and not a printer', async () => {
    expect(await afterAction(inShop(`${HEAD.replace('example', 'exam$0ple')}notes: old\n`), /^Retire this profile/)).toBe(
      `${HEAD}retired: \${1:2026-03-31}\nnotes: old\n`,
    )
    expect(await titles('#- bay-1.printer.yaml\nprinter: bay$0-1\n')).not.toMatch(/Retire/)
  })
})
