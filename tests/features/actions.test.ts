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
