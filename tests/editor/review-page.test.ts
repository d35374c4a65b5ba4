// The page of a review in a browser, under its own policy: links and buttons say what was clicked, nothing of a document runs, and axe finds nothing wrong.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { reviewPage } from '../../client/src/review-page.ts'
import { reviewBody } from '../../server/src/review/html.ts'
import { openBrowser } from './host/browser.ts'

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

const at = { words: 'stock film', file: 'film.stock.yaml', line: 2, whole: { before: 'film.stock.yaml' } }
const PAGE = {
  title: 'Review of <b>main</b>',
  summary: ['1 document compared.'],
  sections: [
    {
      heading: 'What changed',
      blocks: [
        { kind: 'items', lines: ['stock film is changed <img src=x onerror="said.push(1)">.'], at: [at] },
        { kind: 'table', header: ['In', 'Setting'], rows: [['stock film', 'thickness']], at: [at] },
      ],
    },
  ],
} as const

let browser: Browser
beforeAll(async () => {
  browser = await openBrowser()
})
afterAll(() => browser?.close())

test('says what was clicked', async () => {
  const page = await browser.newPage({ viewport: { width: 460, height: 800 } })
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.addInitScript('window.said = []; window.acquireVsCodeApi = () => ({ postMessage: (it) => window.said.push(it) })')
  await page.goto('about:blank')
  await page.setContent(
    reviewPage(
      PAGE.title,
      reviewBody(PAGE, () => ({ to: '#4', compare: '#5' })),
      'word',
    ),
  )
  await page.getByRole('listitem').getByRole('link', { name: 'stock film', exact: true }).click()
  await page.getByRole('cell').getByRole('link', { name: 'Compare the texts of stock film' }).click()
  await page.getByRole('button', { name: 'Review again' }).click()
  await page.getByRole('button', { name: 'Show everything' }).click()
  expect(await page.evaluate('said')).toEqual([{ go: 4 }, { go: 5 }, { again: { all: false } }, { again: { all: true } }])
  expect(await page.locator('img, b').count()).toBe(0)
  expect(await page.evaluate("getComputedStyle(document.querySelector('a')).textDecorationLine")).toBe('underline')
  expect(asked.filter((url) => !url.startsWith('about:'))).toEqual([])
  await page.evaluate(AXE)
  const { violations } = (await page.evaluate('axe.run()')) as { violations: readonly { readonly id: string }[] }
  expect(violations.map(({ id }) => id)).toEqual([])
})
