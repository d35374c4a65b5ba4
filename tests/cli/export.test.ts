// `rollbook export`: settings with their origin, evidence with units in the header, quantities; and that no spreadsheet runs a cell.
import { expect, test } from 'vitest'
import { ran, run } from './shell.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- a.media.yaml
profile: a
title: "=HYPERLINK(\\"x\\")"
base: b
gap: 2.0 mm
feed:
  checks:
    - { date: 2026-03-02, commanded: 1000 mm, measured: 499.40 ±0.3 mm, applied: -0.12 %, with: rule-1m, x-shift: early }
    - { date: 2026-03-03, commanded: 39 3/8 in, measured: 39.3 in, applied: +0.12 % }
observed:
  - { date: 2026-03-04, fault: grain, note: "-5 to +5, \\"everywhere\\"" }
  - { date: 2026-03-05, fault: grain, note: "two\\nlines" }
#- b.media.yaml
profile: b
stock: film
printer: bay-1
mode: standard
gap: 1.5 mm
heat: { platen: 40 ±1 °C, fan: true }
`

test('settings, and whose they are', async () => {
  expect((await ran('export a.media.yaml --what settings', SHOP)).out.replaceAll('\r', '')).toMatchInlineSnapshot(`
    "profile,key,value,±,unit,origin,base
    a,title,"'=HYPERLINK(""x"")",,,own,
    a,base,b,,,own,
    a,stock,film,,,base,b
    a,printer,bay-1,,,base,b
    a,mode,standard,,,base,b
    a,gap,2.0,,mm,own,
    a,heat.platen,40,1,°C,base,b
    a,heat.fan,true,,,base,b
    "
  `)
})

test('evidence: a column a unit, numbers bare, text that no spreadsheet runs', async () => {
  const { out, code } = await ran('export a --what evidence', SHOP)
  expect([out.replaceAll('\r', ''), code]).toMatchInlineSnapshot(`
    [
      "profile,evidence,date,commanded (mm),commanded (in),measured (mm),measured ± (mm),measured (in),applied (%),with,note,fault,x-shift
    a,feed.checks,2026-03-02,1000,,499.40,0.3,,-0.12,rule-1m,,,early
    a,feed.checks,2026-03-03,,39.375,,,39.3,0.12,,,,
    a,observed,2026-03-04,,,,,,,,"'-5 to +5, ""everywhere""",grain,
    a,observed,2026-03-05,,,,,,,,"two
    lines",grain,
    ",
      0,
    ]
  `)
  expect(out.match(/\r\n/g)).toHaveLength(5)
})

test('quantities of what can be reckoned, and as JSON', async () => {
  const { out, code, err } = await ran('export a --what quantities --format json', SHOP)
  const { rows, notExported } = JSON.parse(out)
  expect(rows.find(({ key }: { key: string }) => key === 'feed.check.2')).toMatchInlineSnapshot(`
    {
      "key": "feed.check.2",
      "profile": "a",
      "title": "Correction that the check of 2026-03-03 asks for",
      "unit": "1",
      "value": 0.0031106870229,
    }
  `)
  // What it names is not there.
  expect([code, notExported.length > 0, err]).toEqual([2, true, expect.stringContaining('film')])
})

test('of a folder', async () => {
  const { out, code } = await ran(
    'export more --what evidence',
    `${SHOP}#- more/c.media.yaml\nprofile: c\nbase: b\nalignment: { date: 2026-03-04 }\n`,
  )
  expect([out, code]).toEqual(['profile,evidence,date\r\nc,alignment,2026-03-04\r\n', 0])
})

test('a byte order mark only where it is asked for', async () => {
  expect((await ran('export a --what evidence --bom', SHOP)).out.startsWith('\ufeffprofile,evidence,')).toBe(true)
})

test('what cannot be read is told', async () => {
  const broken = SHOP.replace('gap: 2.0 mm', 'gap: 2.0').replace('fault: grain', 'fault: gravel')
  const { err, code } = await ran('export a.media.yaml --what settings', broken)
  expect([err, code]).toMatchInlineSnapshot(`
    [
      "a.media.yaml has values that cannot be read, and are not exported: 'rollbook check a.media.yaml' lists them.
    ",
      2,
    ]
  `)
})

test('what cannot be', async () => {
  expect(await run('export', SHOP)).toMatchInlineSnapshot(`
    "! Say what to export: --what settings or evidence or quantities. See 'rollbook export --help'.
    exit 2"
  `)
  expect(await run('export --what evidence --format json --bom', SHOP)).toMatchInlineSnapshot(`
    "! --bom is for CSV: JSON has no byte order mark. See 'rollbook export --help'.
    exit 2"
  `)
  expect(await run('export c --what evidence', SHOP)).toMatchInlineSnapshot(`
    "! There is no profile 'c' here, and no such file.
    exit 2"
  `)
  expect(await run('export rollbook.yaml --what evidence', SHOP)).toMatchInlineSnapshot(`
    "! There is no profile to export: these are named *.media.yaml.
    exit 2"
  `)
  expect(await run('export b --what evidence', SHOP)).toMatchInlineSnapshot(`
    "! There are no evidence to export.
    exit 1"
  `)
})
