// What an end user has: the package installed from its file into an editor that knows nothing else, on a folder nobody trusts yet.
import { mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { UNITS } from '../../server/src/quantities/units.ts'
import { type Host, installExtension, startHost } from './host/host.ts'
import { hoverOn, openFile } from './host/ui.ts'
import { PROFILE, temporaryFolder, writeShop } from './shop.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const PACKAGE = join(ROOT, 'rollbook.vsix')
const SHOTS = join(import.meta.dirname, 'shots')
const MAX_BYTES = 700_000
const MAX_FILES = 30

const SQUIGGLE = '.view-overlays :is(.squiggly-warning, .squiggly-error, .squiggly-info)'

const work = temporaryFolder()
const extensionsDir = join(work, 'extensions')
const shop = writeShop(work, 'tern-quay')
let said = ''
let host: Host

beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true })
  const signs = UNITS.flatMap(({ spellings }) => spellings)
    .join('')
    .replace(/[ -~]/g, '')
  writeFileSync(
    join(shop, 'signs.media.yaml'),
    `title: Größe ${[...new Set(signs)].join(' ')} 7 ±1 −2 720 × 360 –\ngap: 390 µm\nheat: { platen: 40 °C }\n`,
  )
  writeFileSync(join(shop, 'letters.media.yaml'), 'title: b\u0430nner\n')
  said = installExtension(PACKAGE, extensionsDir)
  host = await startHost({ folder: shop, extensionsDir, restricted: true })
})

afterAll(async () => {
  await host?.close()
  rmSync(work, { recursive: true, force: true, maxRetries: 5 })
})

test('the package is small, and holds the licences of what it ships', () => {
  expect(said).toMatch(/successfully installed/)
  expect(statSync(PACKAGE).size).toBeLessThanOrEqual(MAX_BYTES)
  const files = readdirSync(extensionsDir, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.parentPath !== extensionsDir)
    .map((entry) => entry.name)
  expect(files.length).toBeLessThanOrEqual(MAX_FILES)
  expect(files).toContain('third-party-notices.txt')
})

test('the installed package checks and explains a profile in Restricted Mode', async () => {
  await openFile(host.page, PROFILE)
  await host.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor()
  await host.page.locator(SQUIGGLE).first().waitFor()
  expect(await hoverOn(host.page, '0 %', '+0.12 %')).toContain('+0.12 %')
  await host.page.screenshot({ path: join(SHOTS, 'installed.png') })
  await host.page.keyboard.press('Escape')
})

test('no sign of a unit is boxed as a danger in Restricted Mode, but a letter that only looks like another is', async () => {
  const boxes = host.page.locator('.view-overlays .unicode-highlight')
  await openFile(host.page, 'letters.media.yaml')
  await boxes.first().waitFor()
  await openFile(host.page, 'signs.media.yaml')
  await host.page.locator('.view-line', { hasText: 'Größe' }).waitFor()
  await host.page.locator(SQUIGGLE).first().waitFor()
  await host.page.screenshot({ path: join(SHOTS, 'signs.png') })
  expect(await boxes.count()).toBe(0)
})

test('nothing is asked of another machine', () => {
  expect(host.requests).toEqual([])
})
