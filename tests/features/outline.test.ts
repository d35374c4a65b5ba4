// The outline: sections and settings by name, items by what a person would call them.
import { expect, test } from 'vitest'
import { outline } from '../support/render.ts'

test('a profile', async () => {
  expect(
    await outline(`profile: example
title: Film, everyday
stock: film
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-02, commanded: 2000 mm, measured: 1996 mm, applied: 0 %}
    - date: 2026-03-30
      commanded: 1000 mm
      measured: 999.4 mm
heat: {platen: 40 °C, fan: true}
observed:
  - {date: 2026-03-30, fault: skew}
notes: |
  The first line.
  The second.
`),
  ).toMatchInlineSnapshot(`
    "title · Film, everyday
    stock · film
    feed · +0.05 %
      correction · +0.05 %
      checks · 2
        2026-03-02 · 2026-03-02, 2000 mm, 1996 mm, 0 %
        2026-03-30 · 2026-03-30, 1000 mm, 999.4 mm
    heat · 40 °C, true
      platen · 40 °C
      fan · true
    observed · 1
      2026-03-30 · 2026-03-30, skew
    notes · The first line."
  `)
})

test('a printer', async () => {
  expect(
    await outline(`#- bay-1.printer.yaml
printer: bay-1
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8}
suction: {levels: {1: 100 Pa, 2: 200 Pa}}
panel:
  - {key: gap, where: lever behind the cover}
`),
  ).toMatchInlineSnapshot(`
    "modes
      standard · 720 x 360 dpi, 8
        resolution · 720 x 360 dpi
        passes · 8
    suction
      levels · 100 Pa, 200 Pa
        1 · 100 Pa
        2 · 200 Pa
    panel · 1
      gap · gap, lever behind the cover"
  `)
})

test('half typed, with aliases, with CRLF', async () => {
  expect(
    await outline(
      'profile: example\r\nheat: &h {platen: 40 °C}\r\nx-heat: *h\r\nx-all: {<<: *h, fan: true}\r\nfeed:\r\n  checks:\r\n    - \r\n',
    ),
  ).toMatchInlineSnapshot(`
    "heat · 40 °C
      platen · 40 °C
    x-heat · 40 °C
    x-all · true
      << · 40 °C
      fan · true
    feed
      checks · 1"
  `)
  expect(await outline('profile: example\nfeed:\n  corr\nga\n')).toMatchInlineSnapshot(`"feed · corr"`)
})

test('of a long list, the newest items', async () => {
  const list = Array.from({ length: 250 }, (_, i) => `    - {date: 2026-01-01, lot: L${i}}\n`).join('')
  const lines = (await outline(`feed:\n  checks:\n${list}`)).split('\n')
  expect(lines.slice(0, 3)).toEqual(['feed', '  checks · 250', '    2026-01-01 · 2026-01-01, L50'])
  expect(lines).toHaveLength(202)
})

test('nothing where there is nothing', async () => {
  expect(await outline('')).toBe('')
  expect(await outline('- a list\n')).toBe('')
  expect(await outline('just words\n')).toBe('')
})
