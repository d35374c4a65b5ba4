// Hints beside the text: what each feed check asks for.
import { expect, test } from 'vitest'
import { hints } from '../support/render.ts'
import { inShop, SHOP } from './example-shop.ts'

const HEAD = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

const feedOf = async (fixture: string): Promise<string> => {
  const text = await hints(fixture)
  return text.slice(text.indexOf('feed:'))
}

test('beside checks in one line and over several', async () => {
  expect(
    await feedOf(
      inShop(`${HEAD}feed:
  correction: +0.10 %
  checks:
    - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.5 mm, applied: 0 %}
    # printed twice
    - date: 2026-03-30
      commanded: 2000 mm
      measured: 1997.0 mm
      applied: +0.05 % # as keyed in

heat: {platen: 40 °C}
`),
    ),
  ).toMatchInlineSnapshot(`
    "feed:
      correction: +0.10 %⟦doubtful: expect +0.19 %⟧
      checks:
        - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.5 mm, applied: 0 %}⟦→ +0.18 % ±0.08 %, proves nothing now⟧
        # printed twice
        - date: 2026-03-30
          commanded: 2000 mm
          measured: 1997.0 mm
          applied: +0.05 %⟦→ +0.20 % ±0.08 %, proves nothing now⟧ # as keyed in

    heat: {platen: 40 °C}
    "
  `)
})

test('of a check that is left out, and of one that cannot be reckoned', async () => {
  expect(
    await feedOf(
      inShop(`${HEAD}feed:
  correction: +0.15 %
  checks:
    - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.5 mm, applied: 0 %, skip: the web slipped}
    - {date: 2026-03-28, commanded: 2000 mm, measured: 1997.0 mm, applied: 0 %}
    - {date: 2026-03-29, commanded: 2000 mm, measured: , applied: 0 %}
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1997.1 mm, applied: 0 %}
`),
    ),
  ).toMatchInlineSnapshot(`
    "feed:
      correction: +0.15 %⟦doubtful⟧
      checks:
        - {date: 2026-03-20, commanded: 2000 mm, measured: 1996.5 mm, applied: 0 %, skip: the web slipped}⟦→ +0.18 % ±0.08 %, not counted⟧
        - {date: 2026-03-28, commanded: 2000 mm, measured: 1997.0 mm, applied: 0 %}⟦→ +0.15 % ±0.08 %, proves nothing now⟧
        - {date: 2026-03-29, commanded: 2000 mm, measured: , applied: 0 %}
        - {date: 2026-03-30, commanded: 2000 mm, measured: 1997.1 mm, applied: 0 %}⟦→ +0.15 % ±0.08 %, proves nothing now⟧
    "
  `)
})

test('of a printer that is told the measured length', async () => {
  const shop = SHOP.replace('entry: percent}', 'entry: measured-length, pattern-lengths: [1000 mm]}').replace(
    'step: 0.01 %',
    'step: 0.1 mm',
  )
  const profile = `${HEAD}feed:\n  correction: +0.05 %\n  checks:\n    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}\n`
  expect(await feedOf(`#- example.media.yaml\n${profile}${shop}`)).toMatchInlineSnapshot(`
    "feed:
      correction: +0.05 %⟦doubtful: expect 998.0 mm⟧
      checks:
        - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}⟦→ +0.251 % ±0.08 %, proves nothing now⟧
    "
  `)
})

test('none in documents without checks', async () => {
  expect(await hints(HEAD)).toBe(HEAD)
  expect(await hints('#- film.stock.yaml\nstock: film\n')).toBe('stock: film\n')
  expect(await hints('')).toBe('')
})

test('beside fine picks the rows they were picked in, where the printer names as many', async () => {
  const printer = (rows: string) => `#- eye.printer.yaml\nprinter: eye\nfeed: {fine: {rows: ${rows}, patches: 9, step: 1 µm}}\n`
  const text = (rows: string) =>
    feedOf(
      `#- e.media.yaml\nprofile: e\nprinter: eye\nfeed: {fine: {date: 2026-03-20, applied: 0 %, picks: [0, -0.5]}}\n${printer(rows)}`,
    )
  expect(await text('[left, right]')).toMatchInlineSnapshot(`
    "feed: {fine: {date: 2026-03-20, applied: 0 %, picks: [0⟦left⟧, -0.5⟦right⟧]}}
    "
  `)
  expect(await text('[left, middle, right]')).not.toContain('⟦')
})
