// The handbook in a browser, under its own policy: the box finds pages by any name, nothing is fetched, axe finds nothing in light and dark, and paper has the pages alone.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { handbookHtml } from '../../server/src/cli/handbook.ts'
import { openBrowser } from './host/browser.ts'

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let browser: Browser

beforeAll(async () => {
  browser = await openBrowser()
})

afterAll(() => browser?.close())

test('pages are found by what the trade calls them, and axe finds nothing', async () => {
  const page = await browser.newPage({ viewport: { width: 460, height: 800 } })
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.setContent(handbookHtml())
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(460)
  const find = (words: string): Promise<void> => page.locator('input').fill(words)
  const found = (): Promise<readonly string[]> => page.locator('form li').allTextContents()
  await find('Vacuum')
  expect((await found()).slice(0, 2)).toEqual([
    'suction (profile) · Settings of a profile (*.media.yaml)',
    'suction (printer) · Settings of a printer (*.printer.yaml)',
  ])
  await find('feed correction')
  expect((await found())[0]).toBe('feed.correction (profile) · Settings of a profile (*.media.yaml)')
  await find('<img src=x>')
  expect([await page.locator('output').textContent(), await found()]).toEqual(['0 pages', []])
  await find('ghosting')
  await page.keyboard.press('Enter')
  expect(await page.evaluate("document.querySelector(':target').id")).toBe('fault.double-edges')
  expect(await page.locator('form ol').isVisible()).toBe(false)
  expect(asked).toEqual([])

  // All of it is a minute of axe; what pages are made of is in one of each part.
  const more = 'article:nth-of-type(n + 2), details li:nth-child(n + 2), #cautions + ul li:nth-child(n + 5)'
  await page.evaluate(`for (const one of document.querySelectorAll('${more}')) if (!one.querySelector(':target')) one.remove()`)
  await find('ghosting')
  await page.evaluate(AXE)
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    const { passes, violations } = (await page.evaluate(
      `axe.run(${colorScheme === 'light' ? '' : "{ runOnly: ['color-contrast'] }"})`,
    )) as {
      readonly passes: readonly { readonly nodes: readonly unknown[] }[]
      readonly violations: readonly { readonly id: string }[]
    }
    expect(violations.map(({ id }) => id)).toEqual([])
    expect(passes.flatMap(({ nodes }) => nodes).length).toBeGreaterThan(100)
  }
  await page.emulateMedia({ media: 'print' })
  expect([await page.locator('.bar').isVisible(), await page.locator('article h3').first().isVisible()]).toEqual([false, true])
  await page.close()
})
