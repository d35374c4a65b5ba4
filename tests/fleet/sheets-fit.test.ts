// Sheets of generated profiles take one page each on both papers, as a browser prints them: 500 in `npm run test:long`, a seeded tenth in `npm test`.
// All are measured, and a tenth of them is printed.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { type Browser, chromium } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { findChromium, printPdf } from '../../server/src/cli/node-pdf.ts'
import { type Sheet, sheetOf } from '../../server/src/report/fleet/sheet.ts'
import { PAPERS, sheetsHtml } from '../../server/src/report/fleet/sheet-html.ts'
import { onSheet } from '../../server/src/workspace/fleet.ts'
import { told } from '../long/told.ts'
import { isWhole, runs } from '../support/counts.ts'
import { openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { seed } from '../support/seed.ts'

const COUNT = runs(500)
const TODAY = '2026-11-25'

/** What people write in a list of reminders: up to a line and a half of it. */
const WORDS = [
  'the lever behind the left cover',
  'sheet 3',
  'turn it slowly',
  'Größe µm',
  'hot',
  'after the last roll',
  'with gloves',
  'two people',
]
const words = (most: number) =>
  fc.array(fc.constantFrom(...WORDS), { minLength: 1, maxLength: most }).map((some) => some.join(', '))
const list = (texts: readonly string[]): string => `[${texts.map((text) => JSON.stringify(text)).join(', ')}]`

const KEYS = [
  'heat.before',
  'heat.platen',
  'heat.after',
  'heat.fan',
  'suction',
  'gap',
  'web.tension',
  'slot',
  'feed.correction',
  'drying.pause',
  'drying.run-out',
]

const printer = fc.record({
  title: words(3),
  panel: fc
    .shuffledSubarray(KEYS)
    .chain((keys) => fc.tuple(...keys.map((key) => words(2).map((where) => `{key: ${key}, where: ${JSON.stringify(where)}}`)))),
  inks: fc.constantFrom(4, 6, 8),
  rows: fc.integer({ min: 0, max: 4 }),
  zones: fc.subarray(['before', 'platen', 'after']),
  cautions: fc.array(words(4), { maxLength: 4 }),
  ways: fc.constantFrom('one-way', 'two-way'),
})

const profile = fc.record({
  printer: fc.nat(9),
  title: words(4),
  checks: fc.array(
    fc.record({ day: fc.integer({ min: 1, max: 24 }), off: fc.integer({ min: -15, max: 15 }), state: fc.boolean() }),
    { maxLength: 8 },
  ),
  slot: fc.option(fc.integer({ min: 1, max: 20 })),
  gap: fc.option(fc.constantFrom('1.5 mm', '2 mm')),
  suction: fc.option(fc.constantFrom(1, 2)),
  platen: fc.option(fc.integer({ min: 30, max: 90 })),
  after: fc.option(fc.integer({ min: 30, max: 90 })),
  stockCautions: fc.nat(2),
  keyed: fc.boolean(),
})

const shopText = fc
  .tuple(fc.array(printer, { minLength: 10, maxLength: 10 }), fc.array(profile, { minLength: COUNT, maxLength: COUNT }))
  .map(([printers, profiles]) => {
    const stocks = [0, 1, 2].map(
      (n) => `#- stock-${n}.stock.yaml
stock: stock-${n}
title: A stock that is called by what it is
family: film-pvc-cast
thickness: 80 µm
max-web-temperature: 60 °C
widths: [1100 mm, 1372 mm, 1600 mm]
cautions: ${list(WORDS.slice(0, n))}
`,
    )
    const machines = printers.map(
      (one, n) => `#- printer-${n}.printer.yaml
printer: printer-${n}
title: ${JSON.stringify(one.title)}
heads: {channels: ${list(Array.from({ length: one.inks }, (_, i) => `ink-${i + 1}`))}}
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: ${one.ways}}}
carriage: {gaps: [1.5 mm, 2 mm]}
feed: {range: [-1 %, 1 %], step: 0.01 %, entry: percent, pattern-lengths: [800 mm]${one.rows > 0 ? `, fine: {rows: ${list(Array.from({ length: one.rows }, (_, i) => `row-${i + 1}`))}, patches: 11, step: 2 µm}` : ''}}
alignment: {patches: 11, step: 18 µm}
suction: {levels: {1: 100 Pa, 2: 200 Pa}, depth: 120 mm}
slots: 20
${one.zones.length > 0 ? `heaters: {${one.zones.map((zone) => `${zone}: {length: 300 mm, range: [20 °C, 90 °C], step: 1 K, coupling: 40 W/m²K}`).join(', ')}}\n` : ''}panel: [${one.panel.join(', ')}]
cautions: ${list(one.cautions)}
`,
    )
    const documents = profiles.map((one, n) => {
      const heats = (['platen', 'after'] as const).flatMap((zone) => (one[zone] === null ? [] : [`${zone}: ${one[zone]} °C`]))
      const checks = one.checks
        .toSorted((a, b) => a.day - b.day)
        .map(
          ({ day, off, state }) =>
            `    - {date: 2026-11-${String(day).padStart(2, '0')}, commanded: 800 mm, measured: ${(800 + off / 10).toFixed(1)} mm, applied: +0.10 %, with: rule${state ? ', under: now' : ''}}\n`,
        )
      return `#- profile-${n}.media.yaml
profile: profile-${n}
title: ${JSON.stringify(one.title)}
stock: stock-${one.stockCautions}
printer: printer-${one.printer}
mode: quick
${one.slot === null ? '' : `slot: ${one.slot}\n`}${one.gap === null ? '' : `gap: ${one.gap}\n`}${one.suction === null ? '' : `suction: ${one.suction}\n`}feed:
  correction: +0.10 %
${checks.length > 0 ? `  checks:\n${checks.join('')}` : ''}${heats.length > 0 ? `heat: {${heats.join(', ')}}\n` : ''}${one.keyed ? 'keyed:\n  - {date: 2026-11-20, correction: +0.05 %, suction: 1}\n' : ''}conditions:
  now: {from: profile, stock: stock-${one.stockCautions}, printer: printer-${one.printer}, mode: quick}
`
    })
    const shop =
      '#- rollbook.yaml\nshop: Tern Quay Print Works\ninstruments: {rule: {kind: rule, division: 0.5 mm, limit-of-error: class-1}}\n'
    return shop + [...stocks, ...machines, ...documents].join('')
  })

/** Made once for both papers. */
const sheets: Sheet[] = []
beforeAll(async () => {
  const [shop = ''] = fc.sample(shopText, { numRuns: 1, seed })
  const analysis = await openFixture(parseFixture(shop), TODAY)
  for (let n = 0; n < COUNT; n++) {
    const file = `${ROOT}profile-${n}.media.yaml`
    await analysis.workspace.load(file)
    await analysis.workspace.prepare(file)
    const setup = analysis.context(file)!.setup!
    sheets.push(sheetOf({ ...onSheet(analysis, setup), notRead: [], mark: `profile-${n} · a1b2c3d`, old: [] }))
  }
}, 600_000)

test.each(['A4', 'Letter'] as const)(`${COUNT} generated profiles take one page of %s each`, (size) => {
  const { html, tooLong } = sheetsHtml(sheets, size)
  expect(tooLong).toEqual([])
  expect(html.match(/<section class="watch">/g)).toHaveLength(COUNT)
})

/** One for both papers. */
let browser: Browser | undefined
afterAll(() => browser?.close())

/** mm of margin at the head and the foot of a page together, as the page says itself. */
const margins = (html: string): number => 2 * Number(/@page\{size:\w+;margin:(\d+)mm\}/.exec(html)![1])

// The layout is an estimate from above: a browser tells. How high each comes out it says of all at once; every tenth is printed too, which takes its time.
test.each(['A4', 'Letter'] as const)('as a browser lays them out, and prints them, on %s', async (size) => {
  const { html } = sheetsHtml(sheets, size)
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-sheets-'))
  const pdf = join(folder, 'sheets.pdf')
  const executablePath = findChromium()
  if (executablePath === undefined) return await expect(printPdf(html, pdf)).rejects.toThrow('Use --html FILE')
  try {
    browser ??= await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] })
    const page = await browser.newPage()
    await page.emulateMedia({ media: 'print' })
    await page.setContent(html, { timeout: 600_000 })
    const pixels = "[...document.querySelectorAll('article')].map((sheet) => sheet.getBoundingClientRect().height)"
    const heights = ((await page.evaluate(pixels)) as number[]).map((height) => (height * 25.4) / 96)
    const room = PAPERS[size].height - margins(html)
    expect(heights).toHaveLength(COUNT)
    expect(heights.filter((height) => height > room || height < room / 4)).toEqual([])
    const printed = sheets.filter((_, i) => i % 10 === 0)
    await printPdf(sheetsHtml(printed, size).html, pdf)
    expect(readFileSync(pdf, 'latin1').match(/\/Type \/Page\b(?!s)/g)).toHaveLength(printed.length)
    if (isWhole)
      told(
        `seed ${seed}: ${COUNT} sheets on ${size}, the highest ${Math.max(...heights).toFixed(1)} of ${room.toFixed(1)} mm; ${printed.length} printed on a page each`,
      )
    await page.close()
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
