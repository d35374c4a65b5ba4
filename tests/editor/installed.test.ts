// What an end user has: the package installed from its file into an editor that knows nothing else, on a folder nobody trusts yet.
import { mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { UNITS } from '../../server/src/quantities/units.ts'
import { installExtension, startHost } from './host/host.ts'
import { hoverOn, openFile } from './host/ui.ts'
import { PROFILE, temporaryFolder, writeShop } from './shop.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const PACKAGE = join(ROOT, 'rollbook.vsix')
const SHOTS = join(import.meta.dirname, 'shots')
const MAX_BYTES = 700_000
const MAX_FILES = 30

const work = temporaryFolder()
afterAll(() => rmSync(work, { recursive: true, force: true, maxRetries: 5 }))

test('the package is small', () => {
  expect(statSync(PACKAGE).size).toBeLessThanOrEqual(MAX_BYTES)
})

test('no sign of a unit is boxed as a danger in Restricted Mode, but a letter that only looks like another is', async () => {
  const shop = writeShop(work, 'units')
  const signs = [
    ...new Set(
      UNITS.flatMap(({ spellings }) => spellings)
        .join('')
        .replace(/[ -~]/g, ''),
    ),
  ].join(' ')
  writeFileSync(
    join(shop, 'signs.media.yaml'),
    `title: Größe ${signs} 7 ±1 −2 720 × 360 –\ngap: 390 µm\nheat: { platen: 40 °C }\n`,
  )
  writeFileSync(join(shop, 'letters.media.yaml'), 'title: b\u0430nner\n')
  const extensionsDir = join(work, 'extensions')
  installExtension(PACKAGE, extensionsDir)
  const host = await startHost({ folder: shop, extensionsDir, restricted: true })
  try {
    const boxes = host.page.locator('.view-overlays .unicode-highlight')
    await openFile(host.page, 'letters.media.yaml')
    await boxes.first().waitFor()
    await openFile(host.page, 'signs.media.yaml')
    await host.page.locator('.view-overlays :is(.squiggly-warning, .squiggly-error, .squiggly-info)').first().waitFor()
    await host.page.screenshot({ path: join(SHOTS, 'signs.png') })
    expect(await boxes.count()).toBe(0)
  } finally {
    await host.close()
  }
})

test('the installed package checks and explains a profile in Restricted Mode', async () => {
  const extensionsDir = join(work, 'extensions')
  expect(installExtension(PACKAGE, extensionsDir)).toMatch(/successfully installed/)
  const files = readdirSync(extensionsDir, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.parentPath !== extensionsDir)
    .map((entry) => entry.name)
  expect(files.length).toBeLessThanOrEqual(MAX_FILES)
  expect(files).toContain('third-party-notices.txt')
  const host = await startHost({ folder: writeShop(work, 'tern-quay'), extensionsDir, restricted: true })
  try {
    await openFile(host.page, PROFILE)
    await host.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor()
    await host.page.locator('.view-overlays :is(.squiggly-warning, .squiggly-error, .squiggly-info)').first().waitFor()
    expect(await hoverOn(host.page, '0 %', '+0.12 %')).toContain('+0.12 %')
    mkdirSync(SHOTS, { recursive: true })
    await host.page.screenshot({ path: join(SHOTS, 'installed.png') })
    expect(host.requests).toEqual([])
  } finally {
    await host.close()
  }
})
