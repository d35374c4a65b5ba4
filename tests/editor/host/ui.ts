// What a person does in the workbench, through Playwright: open, point, click, type, pick a fix.
import { readFileSync } from 'node:fs'
import type { FrameLocator, Locator, Page } from 'playwright-core'

const WAIT = { timeout: 20_000 }

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** Opens a file from the Explorer. */
export async function openFile(page: Page, name: string): Promise<void> {
  await page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).dblclick(WAIT)
  await page.locator('.tabs-container .tab.active', { hasText: name }).waitFor(WAIT)
}

/** Opens a file that holds `text`, and puts the cursor at its end: by way of its beginning, since the place shown may be that of another file. */
export async function openAtEnd(page: Page, name: string, text: string): Promise<void> {
  await openFile(page, name)
  const lines = text.split('\n')
  await goTo(page, 'Control+Home', 'Ln 1, Col 1')
  await goTo(page, 'Control+End', `Ln ${lines.length}, Col ${(lines.at(-1)?.length ?? 0) + 1}`)
}

async function goTo(page: Page, key: string, shown: string): Promise<void> {
  const place = page.locator('.statusbar-item').getByText(shown, { exact: true })
  for (let tries = 1; tries <= 20; tries++) {
    await page.locator('.editor-instance .view-lines').first().click()
    await page.keyboard.press(key)
    if (await isThere(place, 500)) return
  }
  throw new Error(`${key}: the cursor does not reach ${shown}`)
}

/** Whether it is shown within that time. */
export const isThere = (what: Locator, timeout: number): Promise<boolean> =>
  what.waitFor({ timeout }).then(
    () => true,
    () => false,
  )

export async function clickOn(page: Page, text: string): Promise<void> {
  const box = await boxOf(page, text)
  await page.mouse.click(box.x + 2, box.y + box.height / 2)
}

/**
 * Rests the mouse on `text` and returns what the hover widget says, once that holds `wanted`. A hover that was asked for before
 * the server had its answer stays empty, so the mouse leaves and comes back, as a person's would.
 */
export async function hoverOn(page: Page, text: string, wanted: string): Promise<string> {
  const widget = page.locator('.monaco-hover:not(.hidden) .markdown-hover', { hasText: wanted })
  for (let tries = 1; ; tries++) {
    const box = await boxOf(page, text)
    await page.mouse.move(box.x + 200, box.y + 120)
    await page.mouse.move(box.x + 4, box.y + box.height / 2, { steps: 5 })
    try {
      await widget.first().waitFor({ timeout: 3000 })
      return (await widget.allTextContents()).join('\n')
    } catch (error) {
      if (tries === 6) throw error
    }
  }
}

/** Runs a command from the command palette. Its title comes at once, as from the clipboard: at each letter the workbench looks through all it has. */
export async function command(page: Page, title: string): Promise<void> {
  for (let tries = 1; ; tries++) {
    await page.keyboard.press('F1')
    try {
      await writeInBox(page, title, '>', 5000)
      break
    } catch (error) {
      // A page that is shown takes the keyboard a moment after it is seen, and closes the box.
      if (tries === 4) throw error
    }
  }
  // What was typed comes in late, and another may stand above it: the row is taken by its whole title.
  const name = page.locator('.label-name').getByText(title, { exact: true })
  const row = page.locator('.quick-input-list .monaco-list-row').filter({ has: name }).first()
  await row.click({ timeout: WAIT.timeout })
  await row.waitFor({ state: 'hidden', ...WAIT })
}

/** Writes into the box at the top, behind what it begins with, once the keyboard is there: it is shown a moment before, while keys still go into the document. */
export async function writeInBox(page: Page, text: string, prefix = '', timeout = WAIT.timeout): Promise<void> {
  const box = page.locator('.quick-input-widget .quick-input-box input:focus')
  await box.waitFor({ timeout })
  await box.fill(`${prefix}${text}`, { timeout })
}

/** Opens the quick-fix menu at the cursor by the keyboard, once there are fixes: its entries' titles. */
export async function quickFixes(page: Page): Promise<string[]> {
  const rows = page.locator('.action-widget .monaco-list-row.action')
  for (let tries = 1; ; tries++) {
    await page.keyboard.press('Control+.')
    try {
      await rows.first().waitFor({ timeout: 3000 })
      return rows.allTextContents()
    } catch (error) {
      if (tries === 6) throw error
      await page.keyboard.press('Escape')
    }
  }
}

/** Picks an entry of the open quick-fix menu by the keyboard; with Control+Enter it is shown before it is done. */
export async function pickFix(page: Page, title: string, key = 'Enter'): Promise<void> {
  const rows = page.locator('.action-widget .monaco-list-row.action')
  for (let left = await rows.count(); ; left--) {
    if (left === 0) throw new Error(`no quick fix ${title}`)
    if (await rows.and(page.locator('.focused')).filter({ hasText: title }).count()) break
    await page.keyboard.press('ArrowDown')
  }
  await page.keyboard.press(key)
  await rows.first().waitFor({ state: 'hidden', ...WAIT })
}

/** Saves the active editor until its file holds `text` (a command's edit may come after the first save); returns what it holds. */
export async function saveUntil(page: Page, file: string, text: string): Promise<string> {
  for (let tries = 0; readFileSync(file, 'utf8') !== text && tries < 20; tries++) {
    await page.keyboard.press('Control+S')
    for (let looks = 0; readFileSync(file, 'utf8') !== text && looks < 10; looks++) await page.waitForTimeout(25)
  }
  return readFileSync(file, 'utf8')
}

/** The suggestions that are shown: their labels, with a star at the one that Enter would take. */
export function suggestions(page: Page): Promise<string[]> {
  const rows = page.locator('.suggest-widget.visible .monaco-list-row')
  return rows.evaluateAll((all) =>
    all.map((row) => `${row.classList.contains('focused') ? '*' : ''}${row.getAttribute('aria-label')?.split(', ')[0]}`),
  )
}

/**
 * Types texts and presses keys in angle brackets, as fast as a person. `<list>` waits until suggestions are shown, `<no list>` as long as
 * they would take, to find none.
 */
export async function typeKeys(page: Page, keys: readonly string[]): Promise<void> {
  const list = page.locator('.suggest-widget.visible .monaco-list-row')
  for (const key of keys) {
    if (key === '<list>') await list.first().waitFor(WAIT)
    else if (key === '<no list>') {
      await page.waitForTimeout(700)
      const found = await suggestions(page)
      if (found.length > 0) throw new Error(`suggested: ${found.join(', ')}`)
    } else if (/^<.+>$/.test(key)) await page.keyboard.press(key.slice(1, -1))
    else await page.keyboard.type(key, { delay: 40 })
    await page.waitForTimeout(150)
  }
}

/** Types a whole text into an empty document. Of what the editor puts on a new line, what is not the line's is taken away first, as a person does. */
export async function typeText(page: Page, text: string): Promise<void> {
  for (const [n, line] of text.split('\n').entries()) {
    if (n > 0) await page.keyboard.press('Enter')
    await page
      .locator('.statusbar-item')
      .getByText(new RegExp(`^Ln ${n + 1}, Col`))
      .waitFor(WAIT)
    let there = await lineAtCursor(page)
    for (; !line.startsWith(there); there = await lineAtCursor(page)) {
      await page.keyboard.press('Backspace')
      await page.waitForTimeout(100)
    }
    await page.keyboard.type(line.slice(there.length), { delay: 10 })
  }
}

const lineAtCursor = (page: Page): Promise<string> =>
  page
    .locator('.editor-instance .lines-content')
    .first()
    .evaluate(new Function('element', LINE_AT_CURSOR) as (element: unknown) => string)

const LINE_AT_CURSOR = `
  const { top } = element.querySelector('.cursors-layer .cursor').style
  const line = [...element.querySelectorAll('.view-line')].find(({ style }) => style.top === top)
  return line.textContent.replaceAll('\\u00a0', ' ')`

/** The document inside the first webview. */
export function webview(page: Page): FrameLocator {
  return page.frameLocator('iframe.webview.ready').frameLocator('#active-frame')
}

/** Where `text` stands in the active editor: the page box of its first match in a rendered line. */
async function boxOf(page: Page, text: string): Promise<Box> {
  const line = page.locator('.editor-instance .view-line', { hasText: text }).first()
  await line.waitFor(WAIT)
  // Passed as text, since it runs in the page: the compiler of this file knows no DOM.
  return line.evaluate(new Function('element', 'wanted', BOX_OF) as (element: unknown, wanted: string) => Box, text)
}

const BOX_OF = `
  const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT)
  const nodes = []
  let all = ''
  while (walker.nextNode()) { nodes.push([all.length, walker.currentNode]); all += walker.currentNode.data }
  const at = all.replaceAll('\\u00a0', ' ').indexOf(wanted)
  const place = (offset) => { const [start, node] = nodes.findLast(([s]) => s <= offset); return [node, offset - start] }
  const range = document.createRange()
  range.setStart(...place(at))
  range.setEnd(...place(at + wanted.length - 1))
  const { x, y, width, height } = range.getBoundingClientRect()
  return { x, y, width, height }`
