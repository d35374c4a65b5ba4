// The page of pictures in a browser, as it is opened and printed: nothing that axe finds wrong in any theme, nothing fetched, all of it at the width of a panel.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { PICTURE_SCRIPT } from '../../client/src/picture-page.ts'
import { pageBody, pageHtml } from '../../server/src/picture/page.ts'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { shopWith, TODAY } from '../picture/shop.ts'
import { setupFrom } from '../support/setups.ts'
import { openBrowser } from './host/browser.ts'

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let browser: Browser
let html = ''

beforeAll(async () => {
  browser = await openBrowser()
  html = pageHtml(picturesOf(await setupFrom(shopWith(), TODAY)))
})

afterAll(() => browser?.close())

/** Only the test's own axe runs in the page: the page's policy lets no script in. */
async function opened(media: Parameters<Page['emulateMedia']>[0]): Promise<{ page: Page; asked: readonly string[] }> {
  const page = await browser.newPage({ viewport: { width: 460, height: 800 }, bypassCSP: true })
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.emulateMedia(media)
  await page.setContent(html)
  return { page, asked }
}

const THEMES = {
  light: { colorScheme: 'light', contrast: 'no-preference', forcedColors: 'none' },
  dark: { colorScheme: 'dark' },
  'high contrast': { contrast: 'more' },
  'forced colours': { forcedColors: 'active' },
} as const

interface Found {
  readonly violations: readonly { readonly id: string }[]
  readonly passes: readonly { readonly id: string; readonly nodes: readonly unknown[] }[]
}

test('axe finds nothing in four themes, nothing is fetched, and nothing is wider than a panel', async () => {
  const { page, asked } = await opened(THEMES.light)
  await page.evaluate(AXE)
  const all = (await page.evaluate('axe.run()')) as Found
  expect(all.passes.length).toBeGreaterThan(15)
  expect(all.violations.map(({ id }) => id)).toEqual([])
  // What differs by theme are the colours.
  for (const [theme, media] of Object.entries(THEMES)) {
    await page.emulateMedia(media)
    const { passes, violations } = (await page.evaluate("axe.run({ runOnly: ['color-contrast'] })")) as Found
    expect([theme, violations.map(({ id }) => id)]).toEqual([theme, []])
    // Text in forced colours is the system's own, and axe leaves it alone or passes it.
    expect([theme, passes.flatMap(({ nodes }) => nodes).length > 20]).toEqual([theme, true])
  }
  expect(asked).toEqual([])
  expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(460)
  // It would find what is wrong.
  await page.evaluate(
    "for (const point of document.querySelectorAll('.point')) { point.removeAttribute('aria-label'); point.querySelector('title').remove() }",
  )
  const { violations } = (await page.evaluate("axe.run({ runOnly: ['link-name'] })")) as Found
  expect(violations.map(({ id }) => id)).toEqual(['link-name'])
  await page.close()
})

test('points are reached by the Tab key, and Enter leads to the row that says the same', async () => {
  const { page } = await opened({})
  const focused = (): Promise<unknown> =>
    page.evaluate("document.activeElement.id || document.activeElement.getAttribute('href')")
  await page.keyboard.press('Tab')
  expect(await focused()).toBe('feed-1-point')
  await page.keyboard.press('Tab')
  expect(await focused()).toBe('feed-2-point')
  await page.keyboard.press('Enter')
  expect(await page.evaluate("document.querySelector(':target').id")).toBe('feed-2')
  await page.close()
})

test('one ink is enough: printed, every line and edge is black, and no two looks have one dash', async () => {
  const { page } = await opened({ media: 'print', colorScheme: 'dark' })
  const looks = (await page.evaluate(`[...document.querySelectorAll('path[class^=k-]')].map((one) => {
    const style = getComputedStyle(one)
    return [one.getAttribute('class'), style.stroke, style.strokeDasharray, style.strokeWidth].join(' | ')
  })`)) as string[]
  expect(looks.length).toBeGreaterThan(20)
  expect(looks.filter((look) => !look.includes('rgb(0, 0, 0)'))).toEqual([])
  const widest = new Map<string, string>()
  for (const look of looks.map((one) => one.split(' | '))) {
    const before = widest.get(look[0]!)
    if (before === undefined || Number.parseFloat(look[3]!) > Number.parseFloat(before.split(' | ')[1]!))
      widest.set(look[0]!, `${look[2]} | ${look[3]}`)
  }
  expect(new Set(widest.values()).size, [...widest].join('; ')).toBe(widest.size)
  const pale = await page.evaluate(
    "[...document.querySelectorAll('[class^=f-]')].filter((one) => getComputedStyle(one).fill !== 'none').length",
  )
  expect(pale).toBe(0)
  await page.close()
})

test('in a panel the part under the cursor is marked, the smallest first, and a click says which part was meant', async () => {
  const page = await browser.newPage({ viewport: { width: 460, height: 800 } })
  const body = pageBody(picturesOf(await setupFrom(shopWith(), TODAY)))
  await page.setContent(
    `<div id="page"></div><script>const told = []; const acquireVsCodeApi = () => ({ postMessage: (message) => told.push(message) });${PICTURE_SCRIPT}</script>`,
  )
  const parts = [
    { id: 'feed', from: 10, to: 30 },
    { id: 'feed-3', from: 14, to: 14 },
    { id: 'path', from: 32, to: 32 },
    { id: 'path-platen', from: 32, to: 32 },
    { id: 'settings', from: 0, to: 40 },
    { id: 'settings-7', from: 32, to: 32 },
  ]
  const marked = async (line: number): Promise<unknown> => {
    await page.evaluate(`postMessage({ line: ${line} })`)
    await page.waitForFunction(`line === ${line}`)
    return page.evaluate("[...document.querySelectorAll('.here')].map(({ id }) => id)")
  }
  await page.evaluate(`postMessage(${JSON.stringify({ body, parts, line: 14, other: true })})`)
  await page.waitForFunction('line === 14')
  expect(await marked(14)).toEqual(['feed-3-point', 'feed-3'])
  expect(await marked(32)).toEqual(['path-platen'])
  expect(await marked(20)).toEqual([])
  await page.locator('#feed-5-point').focus()
  await page.keyboard.press('Enter')
  await page.locator('#feed-6 a').click()
  expect(await page.evaluate('told')).toEqual([{ ready: true }, { go: 'feed-5' }, { go: 'feed-6' }])
  // What is drawn anew leaves the keyboard where it was.
  await page.locator('#feed-5-point').focus()
  await page.evaluate(`postMessage(${JSON.stringify({ body, parts, line: 33 })})`)
  await page.waitForFunction('line === 33')
  expect(await page.evaluate('document.activeElement.id')).toBe('feed-5-point')
  await page.close()
})
