// What comes of typing in the workbench with the settings a person starts with: keys go in one by one, and the file on disk is what counts.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { isWhole, some } from '../support/counts.ts'
import { copyOfExtension } from './extension.ts'
import { type Host, startHost } from './host/host.ts'
import { command, openAtEnd, openFile, saveUntil, typeKeys, typeText } from './host/ui.ts'
import { PROFILE, temporaryFolder, writeShop } from './shop.ts'

const SHOTS = join(import.meta.dirname, 'shots')
const HEAD = 'profile: x\nstock: film-pet\nprinter: bay-1\nmode: display\n'

const IN_LOTS = HEAD.replace('film-pet', 'in-lots')

interface Typing {
  /** What stands there before; the cursor is at its end. */
  readonly before: string
  /** Text, or a key in angle brackets. `<list>` waits for suggestions, `<no list>` for there being none. */
  readonly keys: readonly string[]
  readonly after: string
  /** Names the file; a profile where none is given. */
  readonly file?: string
}

const ENTER: Readonly<Record<string, Typing>> = {
  'behind the colon of a correction is a new line': {
    before: `${HEAD}feed:\n`,
    keys: ['  correction:', '<no list>', '<Enter>', 'x'],
    after: `${HEAD}feed:\n  correction:\n    x`,
  },
  'behind the colon of a measured length writes no length': {
    before: `${HEAD}feed:\n  checks:\n    - `,
    keys: ['{ measured:', '<no list>', '<Enter>'],
    after: `${HEAD}feed:\n  checks:\n    - { measured:\n    }`,
  },
  'behind a number leaves it, whatever was asked for before it': {
    before: `${HEAD}heat:\n`,
    keys: ['  before: ', '<Control+Space>', '<no list>', '40', '<Enter>', 'x'],
    after: `${HEAD}heat:\n  before: 40\n  x`,
  },
  'before a value was chosen takes none': { before: HEAD, keys: ['gap: ', '<list>', '<Enter>'], after: `${HEAD}gap: \n  ` },
  'behind a number of its own takes none of the list': {
    before: HEAD,
    keys: ['gap: ', '<list>', '1.8 mm', '<Enter>', 'x'],
    after: `${HEAD}gap: 1.8 mm\nx`,
  },
  'behind a whole value makes a line at once': {
    before: `${HEAD}feed:\n`,
    keys: ['  correction: ', '0 ', '<list>', '%', '<Enter>', 'x'],
    after: `${HEAD}feed:\n  correction: 0 %\n  x`,
  },
  'behind a lot that nobody knows yet keeps it': {
    before: `${IN_LOTS}feed:\n  checks:\n    - date: 2026-11-25\n`,
    keys: ['      lot: ', '<list>', 'L-1', '<Enter>', 'x'],
    after: `${IN_LOTS}feed:\n  checks:\n    - date: 2026-11-25\n      lot: L-1\n      x`,
  },
  'takes what was chosen': {
    before: HEAD,
    keys: ['gap: ', '<list>', '<ArrowDown>', '<ArrowDown>', '<Enter>', '<Enter>', 'x'],
    after: `${HEAD}gap: 2.4 mm\nx`,
  },
}

const LINES: Readonly<Record<string, Typing>> = {
  'below a section are indented': {
    before: HEAD,
    keys: ['heat:', '<Enter>', 'platen: 42 °C', '<Enter>', 'fan: true'],
    after: `${HEAD}heat:\n  platen: 42 °C\n  fan: true`,
  },
  'below the key of an item stand under its word, not its dash': {
    before: `${HEAD}feed:\n  checks:\n`,
    keys: ['    - date: 2026-11-25', '<Enter>', 'climate:', '<Enter>', 'temperature: 22 °C'],
    after: `${HEAD}feed:\n  checks:\n    - date: 2026-11-25\n      climate:\n        temperature: 22 °C`,
  },
  'below a section behind a dash': {
    before: `${HEAD}feed:\n  checks:\n`,
    keys: ['    - climate:', '<Enter>', 'temperature: 22 °C'],
    after: `${HEAD}feed:\n  checks:\n    - climate:\n        temperature: 22 °C`,
  },
  'below a value of a list begin with its dash': {
    before: `${HEAD}feed:\n  fine:\n    picks:\n`,
    keys: ['      - 0', '<Enter>', '1'],
    after: `${HEAD}feed:\n  fine:\n    picks:\n      - 0\n      - 1`,
  },
  'of a text': {
    before: HEAD,
    keys: ['notes: |', '<Enter>', 'loose web', '<Enter>', 'x'],
    after: `${HEAD}notes: |\n  loose web\n  x`,
  },
  'behind an empty one begin at the margin': {
    before: `${HEAD}heat:\n  fan: true\n\n`,
    keys: ['<Enter>', 'suction: 3'],
    after: `${HEAD}heat:\n  fan: true\n\n\nsuction: 3`,
  },
  'that are moved keep their indentation': {
    before: `${HEAD}heat:\n  fan: true\nsuction: 3\n`,
    keys: ['<ArrowUp>', '<Alt+ArrowUp>'],
    after: `${HEAD}heat:\nsuction: 3\n  fan: true\n`,
  },
}

const LISTS: Readonly<Record<string, Typing>> = {
  'takes no Enter while keys are typed': { before: HEAD, keys: ['ga', '<list>', '<Enter>', 'x'], after: `${HEAD}ga\nx` },
  'opens by itself behind a key that was completed by Tab': {
    before: HEAD,
    keys: ['ga', '<list>', '<Tab>', '<list>', '<ArrowDown>', '<Enter>', '<Enter>', 'x'],
    after: `${HEAD}gap: 1.6 mm\nx`,
  },
  'that opened so does not take Enter': {
    before: HEAD,
    keys: ['ga', '<list>', '<Tab>', '<list>', '<Enter>'],
    after: `${HEAD}gap: \n  `,
  },
  'that is about to open lets digits through': {
    before: HEAD,
    keys: ['ga', '<list>', '<Tab>', '1.8 mm', '<Enter>', 'x'],
    after: `${HEAD}gap: 1.8 mm\nx`,
  },
  'of a section and of a list in it, indented once': {
    before: HEAD,
    keys: ['hea', '<list>', '<Tab>', '<list>', 'rea', '<list>', '<Tab>', '<list>', '<Escape>'],
    after: `${HEAD}heat:\n  readings:\n    - `,
  },
  'does not open on a line that was just made': {
    before: `${HEAD}heat:\n`,
    keys: ['  fan: true', '<Enter>', '<no list>', '<ArrowUp>', '<End>', ' # on', '<ArrowDown>', 'x'],
    after: `${HEAD}heat:\n  fan: true # on\nx`,
  },
  'holds no word of the page': { before: HEAD, keys: ['title: fil', '<no list>', '<Enter>', 'x'], after: `${HEAD}title: fil\nx` },
  'leads through a new profile': {
    before: '',
    file: 'whole.media.yaml',
    keys: [
      ...[
        '<Control+Space>',
        '<list>',
        '<Enter>',
        '<list>',
        '<ArrowDown>',
        '<Enter>',
        '<Tab>',
        '<list>',
        '<ArrowDown>',
        '<Enter>',
      ],
      ...['<Tab>', '<list>', '<ArrowDown>', '<Enter>', '<Tab>'],
    ],
    after: 'profile: whole\nstock: film-pet\nprinter: bay-1\nmode: display\n',
  },
  'leads through a new printer': {
    before: '',
    file: 'bay-9.printer.yaml',
    keys: [
      ...['<Control+Space>', '<list>', '<Enter>', '<list>', '<ArrowDown>', '<Enter>', '70 µm', '<Tab>'],
      ...['<list>', '<ArrowDown>', '<Enter>', 'fast', '<Tab>', '720 x 720 dpi', '<Tab>', '4', '<Tab>', '<Tab>'],
      ...['<list>', '<Escape>', 'turnaround: 0.4 s', '<Tab>', '<list>', '<Escape>', 'step: 0.1 %'],
    ],
    after: `printer: bay-9
heads:
  nozzle-pitch: 70 µm
modes:
  fast:
    resolution: 720 x 720 dpi
    passes: 4
carriage:
  turnaround: 0.4 s
feed:
  step: 0.1 %
`,
  },
}

/** One of each kind, the shop's own last: it takes the place of the one that the others are typed in. */
const WHOLE = ['profiles/film-90-south.media.yaml', 'stocks/film-90.stock.yaml', 'printers/south.printer.yaml', 'rollbook.yaml']
const SAMPLES = join(import.meta.dirname, '..', '..', 'samples', 'saltmarsh')

const work = temporaryFolder()
const shop = writeShop(work, 'tern-quay')
const cases = [ENTER, LINES, LISTS].flatMap((group) => Object.values(group))
const files = new Map(cases.map((typing, n) => [typing, typing.file ?? `t${n}.media.yaml`]))
let host: Host
let page: Page

beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true })
  writeFileSync(
    join(shop, 'in-lots.stock.yaml'),
    'stock: in-lots\nfamily: film-pet\nthickness: 100 µm\nlots:\n  - { lot: L-17 }\n',
  )
  for (const [{ before }, name] of files) writeFileSync(join(shop, name), before)
  for (const name of WHOLE) if (name !== 'rollbook.yaml') writeFileSync(join(shop, basename(name)), '')
  host = await startHost({ extensions: [copyOfExtension(work)], folder: shop })
  page = host.page
  // High enough for the Explorer to show a file of every case.
  await page.setViewportSize({ width: 1280, height: 1400 })
  await openFile(page, PROFILE)
  await page.locator('.view-overlays :is(.squiggly-warning, .squiggly-error, .squiggly-info)').first().waitFor()
})

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail')
    await page.screenshot({ path: join(SHOTS, `failed ${task.name.replaceAll(/\W+/g, '-')}.png`) })
})

afterAll(async () => {
  await host?.close()
  rmSync(work, { recursive: true, force: true, maxRetries: 5 })
})

test('a check is added by digits and Tab alone, and is not red while it is measured', async () => {
  await openFile(page, PROFILE)
  await command(page, 'Rollbook: Record a Feed Check')
  // The new check stands there: a warning is on the page from the start.
  await page.locator('.editor-instance .view-line', { hasText: 'commanded: 500' }).nth(1).waitFor()
  await page.locator('.view-overlays .squiggly-warning').first().waitFor()
  expect(await page.locator('.view-overlays .squiggly-error').count()).toBe(0)
  await page.screenshot({ path: join(SHOTS, 'adding-a-check.png') })
  await typeKeys(page, ['<Tab>', '499.9', '<Tab>', '<Tab>', '<Tab>', '23', '<Tab>'])
  const text = readFileSync(join(shop, PROFILE), 'utf8')
  const [first] = text.match(/^ *- \{.*$/m)!
  const second = first.replace('499.4', '499.9')
  const after = text.replace(first, `${first}\n${second}`)
  expect(await saveUntil(page, join(shop, PROFILE), after)).toBe(after)
})

test('an alignment is recorded by a key a pick', async () => {
  await openFile(page, PROFILE)
  await command(page, 'Rollbook: Record an Alignment')
  const box = page.locator('.quick-input-widget .quick-input-box input')
  const asked = page.locator('.quick-input-widget .quick-input-message')
  await asked.getByText('c, m, y, k').waitFor()
  // What a screen reader says of the box: what is recorded, which row of how many, and how it is typed.
  expect(await box.getAttribute('aria-label')).toContain('Record an Alignment: one-way (1 of 2)')
  expect(await asked.getAttribute('id')).toBe(await box.getAttribute('aria-describedby'))
  await box.pressSequentially('001')
  await asked.getByText('k?').waitFor()
  await page.screenshot({ path: join(SHOTS, 'recording-an-alignment.png') })
  await box.pressSequentially('-1')
  await box.press('Enter')
  await page.locator('.quick-input-widget').getByText('2 of 2').waitFor()
  await box.pressSequentially('0000')
  await box.press('Enter')
  await page.locator('.view-line', { hasText: 'two-way:' }).first().waitFor()
  // The edit may come after the first save.
  const saved = async (): Promise<string> => {
    await page.keyboard.press('Control+S')
    return readFileSync(join(shop, PROFILE), 'utf8')
  }
  const patient = { timeout: 20_000, interval: 250 }
  await expect.poll(saved, patient).toContain('  one-way: { c: 0, m: 0, y: 1, k: -1 }\n  two-way: { c: 0, m: 0, y: 0, k: 0 }\n')
})

describe.each(Object.entries({ Enter: ENTER, lines: LINES, 'a list': LISTS }))('%s', (_, group) => {
  test.each(some(Object.entries(group), 8))('%s', async (_, typing) => {
    const name = files.get(typing)!
    await openAtEnd(page, name, typing.before)
    await typeKeys(page, typing.keys)
    expect(await saveUntil(page, join(shop, name), typing.after)).toBe(typing.after)
  })
})

// Minutes of keys: `npm run test:long` types them, and the protocol's replay of each sample stands in `npm test`.
for (const sample of isWhole ? WHOLE : [])
  test(`all of a sample, ${sample}`, async () => {
    const text = readFileSync(join(SAMPLES, sample), 'utf8')
    const name = basename(sample)
    writeFileSync(join(shop, name), '')
    await openAtEnd(page, name, '')
    await typeText(page, text)
    expect(await saveUntil(page, join(shop, name), text)).toBe(text)
  })
