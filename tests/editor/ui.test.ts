// What a technician does in the workbench, with mouse and keyboard, on the extension under development. Pictures go to shots/.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { copyOfExtension } from './extension.ts'
import { type Host, startHost } from './host/host.ts'
import { clickOn, command, hoverOn, isThere, openFile, pickFix, quickFixes, saveUntil, webview, writeInBox } from './host/ui.ts'
import { PROFILE, profile, temporaryFolder, writeShop } from './shop.ts'

const SHOTS = join(import.meta.dirname, 'shots')

const work = temporaryFolder()
const extension = copyOfExtension(work)
const shop = writeShop(work, 'tern-quay')
const file = join(shop, PROFILE)
let host: Host
let page: Page

beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true })
  // A stock that nobody prints on yet.
  writeFileSync(join(shop, 'canvas.stock.yaml'), 'stock: canvas\ntitle: Canvas\nfamily: canvas\nthickness: 380 µm\n')
  host = await startHost({ extensions: [extension], folder: shop })
  page = host.page
})

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return
  await shot(`failed ${task.name.replaceAll(/\W+/g, '-')}`)
  // The next one begins where every test does.
  await page.keyboard.press('Escape')
  await command(page, 'View: Show Explorer')
})

afterAll(async () => {
  await host?.close()
  rmSync(work, { recursive: true, force: true, maxRetries: 5 })
})

test('the wrong number is underlined, explained, shown corrected before it is, and corrected, by the keyboard', async () => {
  await openFile(page, PROFILE)
  const squiggle = page.locator('.view-overlays :is(.squiggly-warning, .squiggly-error, .squiggly-info)').first()
  await squiggle.waitFor()
  expect(await hoverOn(page, '0 %', '+0.12 %')).toContain('+0.12 %')
  await shot('hover')
  await page.keyboard.press('Escape')
  await clickOn(page, '0 %')
  const titles = await quickFixes(page)
  await shot('quick-fix')
  const wanted = titles.find((title) => title.includes('+0.12 %'))
  expect(wanted, titles.join('; ')).toBeDefined()
  await pickFix(page, wanted ?? '', 'Control+Enter')
  const preview = page.locator('.bulk-edit-panel')
  await preview.getByText('0 %+0.12 %').waitFor()
  await shot('preview')
  await preview.getByRole('button', { name: 'Discard' }).click()
  expect(readFileSync(file, 'utf8')).toBe(profile('0 %'))
  await clickOn(page, '0 %')
  await quickFixes(page)
  await pickFix(page, wanted ?? '')
  expect(await saveUntil(page, file, profile('+0.12 %'))).toBe(profile('+0.12 %'))
})

test('F2 renames a stock in every document, and its file', async () => {
  const renameTo = async (from: string, to: string): Promise<void> => {
    await clickOn(page, `stock: ${from}`)
    await page.keyboard.press('End')
    await page.keyboard.press('F2')
    const name = page.locator('.rename-box input:focus')
    await name.waitFor()
    await name.fill(to)
    await name.press('Enter')
    await page.locator('.explorer-folders-view .monaco-list-row', { hasText: `${to}.stock.yaml` }).waitFor()
  }
  const stock = (id: string): string => join(shop, `${id}.stock.yaml`)
  const text = readFileSync(stock('film-pet'), 'utf8')
  await renameTo('film-pet', 'pet-clear')
  const renamed = profile('+0.12 %').replaceAll('stock: film-pet', 'stock: pet-clear')
  expect(await saveUntil(page, file, renamed)).toBe(renamed)
  // The editor saves the other documents of a rename by itself, a moment later.
  const saved = (id: string) => expect.poll(() => readFileSync(stock(id), 'utf8'), { timeout: 10_000 })
  await saved('pet-clear').toBe(text.replace('film-pet', 'pet-clear'))
  await shot('renamed')
  await renameTo('pet-clear', 'film-pet')
  expect(await saveUntil(page, file, profile('+0.12 %'))).toBe(profile('+0.12 %'))
  await saved('film-pet').toBe(text)
})

test('a quantity is coloured unlike a name', async () => {
  const colourOf = async (key: string, text: string): Promise<string | undefined> => {
    const line = page.locator('.view-line', { hasText: `${key}:` })
    const classes = await line.locator('span > span', { hasText: text }).last().getAttribute('class')
    return /\bmtk\d+\b/.exec(classes ?? '')?.[0]
  }
  const name = await colourOf('stock', 'film-pet')
  expect(name).toBeDefined()
  for (const part of ['1.6', 'mm']) expect(await colourOf('gap', part)).not.toBe(name)
})

test('the status item tells how the server is, with the log one click away', async () => {
  await page.locator('.statusbar-item', { has: page.locator('[aria-label^="Editor Language Status"]') }).hover()
  const status = page.locator('.hover-language-status', { hasText: 'Rollbook' })
  await status.waitFor()
  await shot('status')
  expect(await status.textContent()).toMatch(/version \d/)
  await status.getByText('Show Log').click()
  await page.locator('.panel .output-view-container, .panel [id="workbench.panel.output"]').first().waitFor()
  await command(page, 'View: Toggle Panel Visibility')
})

test('the feed reckoning opens as a page beside the profile, and follows it', async () => {
  await clickOn(page, 'correction')
  await command(page, 'Rollbook: Show the Feed Reckoning')
  await webview(page).getByText('+0.12 %').first().waitFor()
  await shot('feed-reckoning')
  // A colleague's change arrives, as with a pull.
  writeFileSync(file, profile('+0.12 %').replace('499.4 mm', '499.0 mm'))
  await webview(page).getByText('+0.20 %').first().waitFor()
  writeFileSync(file, profile('+0.12 %'))
  await webview(page).getByText('+0.12 %').first().waitFor()
})

test('the picture stands beside the text, follows it and the cursor, and a point leads to its line', async () => {
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
  await command(page, 'Rollbook: Show Picture Beside')
  const picture = webview(page)
  await picture.locator('#feed .k-asked').first().waitFor()
  expect(await picture.locator('#feed').textContent()).toContain('set +0.12 %')
  await shot('picture')
  // By keyboard alone: the point is a link with a name.
  const point = picture.locator('#feed-1-point')
  expect(await point.getAttribute('aria-label')).toMatch(/^\d{4}-\d\d-\d\d: \+0\.12 % ±.*steel-rule-1m, counts for 100 %$/)
  await point.focus()
  await page.keyboard.press('Enter')
  const line =
    profile('')
      .split('\n')
      .findIndex((text) => text.includes('commanded:')) + 1
  await page.locator('.statusbar-item').getByText(`Ln ${line}, Col 7`, { exact: true }).waitFor()
  // The cursor's section is the one that is marked.
  await picture.locator('#feed-1.here').waitFor()
  await clickOn(page, 'platen: 42')
  await picture.locator('#path-platen.here').waitFor()
  await shot('picture-follows')
  writeFileSync(file, profile('+0.12 %').replace('499.4 mm', '499.0 mm'))
  await picture.locator('#feed', { hasText: 'Key in +0.20 %' }).waitFor()
  writeFileSync(file, profile('+0.12 %'))
  await picture.locator('#feed', { hasText: 'asked for +0.12 %' }).waitFor()
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
})

test('the sheet stands beside the text and follows it; what to key in is of a printer that is picked', async () => {
  await command(page, 'Rollbook: Show the Wall Sheet')
  await webview(page).locator('body', { hasText: 'film-pet on bay-1 in display' }).waitFor()
  await shot('sheet')
  writeFileSync(file, profile('+0.12 %').replace('platen: 42', 'platen: 44'))
  await webview(page).locator('body', { hasText: '44 °C' }).waitFor()
  writeFileSync(file, profile('+0.12 %'))
  await webview(page).locator('body', { hasText: '42 °C' }).waitFor()
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
  await command(page, 'Rollbook: What to Key In')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'bay-1' }).first().waitFor()
  await page.keyboard.press('Enter')
  await webview(page).locator('pre', { hasText: 'heat.platen' }).waitFor()
  await shot('to-key')
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
})

test('what was written on a sheet is asked for one by one, and stands in the profile at the end', async () => {
  await command(page, 'Rollbook: Enter the Values of a Sheet')
  const box = page.locator('.quick-input-widget .quick-input-box input')
  const LAST = 'All of it'
  const title = page.locator('.quick-input-titlebar')
  const message = page.locator('.quick-input-message')
  const question = async (): Promise<string> => `${await title.textContent()}: ${await message.textContent()}`
  const answer = async (part: string, text?: string): Promise<void> => {
    await title.filter({ hasText: part }).waitFor()
    if (text !== undefined) await box.fill(text)
    const asked = await question()
    await page.keyboard.press('Enter')
    if (part !== LAST) await expect.poll(question, { timeout: 10_000, interval: 25 }).not.toBe(asked)
  }
  await answer('Read back')
  await answer('Length', 'today')
  // The pattern of the last check stands there; what was measured is typed.
  expect(await box.inputValue()).toBe('500 mm')
  await answer('Length')
  await answer('Length', '499.9')
  for (let rest = 0; rest < 4; rest++) await answer('Length')
  await answer('Length')
  expect(await page.locator('.quick-input-widget').textContent()).toContain('Was it made under these settings?')
  await answer('Length')
  await answer('Length')
  for (const part of ['Alignment', 'Web']) if (await title.filter({ hasText: part }).isVisible()) await answer(part)
  await shot('sheet-enter')
  await answer(LAST)
  await page.locator('.view-line', { hasText: 'measured: 499.9' }).waitFor()
  await command(page, 'File: Revert File')
})

test('the shop stands in the side bar: by keyboard and screen reader, in the five words, and an empty pair starts a profile', async () => {
  await openFile(page, PROFILE)
  await page.locator('.view-overlays :is(.squiggly-warning, .squiggly-info)').first().waitFor()
  const focus = async (): Promise<void> => {
    // The first time the view is still being made, and does not take the keyboard.
    const taken = async (): Promise<boolean> => {
      await command(page, 'View: Show Rollbook')
      return isThere(page.locator('.customview-tree .monaco-list:focus'), 1000)
    }
    await expect.poll(taken, { timeout: 30_000 }).toBe(true)
  }
  await focus()
  const row = (label: RegExp) => page.locator('.customview-tree .monaco-list').getByRole('treeitem', { name: label })
  await row(/^Printer bay-1, The printer by the window: 1 profile, 1 due\.$/).waitFor()
  const pair = row(/^film-pet on bay-1, display: doubtful, due today\. Doubtful: /)
  await pair.waitFor()
  const empty = row(/^1 stock without a profile on bay-1: open the list to start one\.$/)
  await empty.waitFor()
  await shot('shop')
  await command(page, 'View: Close All Editors')
  await focus()
  for (const key of ['Home', 'ArrowDown', 'Enter']) await page.keyboard.press(key)
  await page.locator('.tabs-container .tab.active', { hasText: PROFILE }).waitFor()
  await page.locator('.editor-instance .monaco-editor.focused').waitFor()
  await focus()
  // A list that is drawn anew just then takes no key.
  const unfolded = async (): Promise<boolean> => {
    for (const key of ['End', 'ArrowRight']) await page.keyboard.press(key)
    return row(/^canvas on bay-1: .*Open it to start one\.$/).isVisible()
  }
  await expect.poll(unfolded, { timeout: 20_000, interval: 1000 }).toBe(true)
  for (const key of ['End', 'Enter']) await page.keyboard.press(key)
  await page.locator('.tabs-container .tab.active', { hasText: 'canvas-bay-1.media.yaml' }).waitFor()
  await shot('shop-started')
  await command(page, 'View: Revert and Close Editor')
  // The editor keeps the text of a closed tab for a while, and the shop with it.
  rmSync(join(shop, 'canvas-bay-1.media.yaml'))
  await command(page, 'View: Show Explorer')
})

test('what is typed and not saved is reviewed beside the text, and a line of it leads to its place', async () => {
  await openFile(page, PROFILE)
  await clickOn(page, 'gap: 1.6')
  await page.keyboard.press('End')
  for (let n = 0; n < '1.6 mm'.length; n++) await page.keyboard.press('Backspace')
  await page.keyboard.type('2.4 mm')
  await page.keyboard.press('Escape')
  await command(page, 'Rollbook: Review Changes')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Saved version' }).waitFor()
  await page.keyboard.press('Enter')
  const review = webview(page)
  await review.locator('h1', { hasText: /^Review of / }).waitFor()
  const line = review.locator('tr', { hasText: /^\s*profile film-pet-bay-1\s*gap\s*1\.6 mm\s*2\.4 mm/ })
  await line.waitFor()
  // Nothing is wider than the page but its tables, which scroll by themselves.
  expect(await review.locator('body').evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true)
  await shot('review')
  await clickOn(page, 'platen: 42')
  await line.getByRole('link').first().click()
  await page
    .locator('.statusbar-item')
    .getByText(/^Ln 7, /)
    .waitFor()
  await command(page, 'File: Revert File')
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
})

test('a topic is picked and explained', async () => {
  await clickOn(page, 'correction')
  await command(page, 'Rollbook: Explain a Setting or a Rule')
  await page.locator('.quick-input-list .monaco-list-row').first().waitFor()
  // What the cursor stands on is there to be taken at once.
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'At the cursor' }).waitFor()
  expect(await page.locator('.quick-input-list .monaco-list-row').first().textContent()).toContain('feed')
  await writeInBox(page, 'vacuum')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'suction' }).first().waitFor()
  await shot('explain-topics')
  await page.keyboard.press('Enter')
  await webview(page).locator('h1', { hasText: 'suction' }).first().waitFor()
  await shot('explanation')
})

test('the link beside a finding opens the page of its rule, and a setting named there opens its own', async () => {
  await command(page, 'View: Close All Editors')
  await openFile(page, PROFILE)
  await command(page, 'Problems: Focus on Problems View')
  const link = page.locator('.markers-panel a', { hasText: 'alignment-missing' }).first()
  await link.waitFor()
  const heading = webview(page).locator('h1', { hasText: 'alignment-missing' }).first()
  // In the first seconds of a window the editor does not know yet that it can show Markdown: it opens the page as text, which reads as well.
  for (let tries = 1; ; tries++) {
    await link.click({ modifiers: ['ControlOrMeta'] })
    if (await isThere(heading, 10_000)) break
    expect(tries, 'the page is shown as a page').toBeLessThan(4)
    await command(page, 'View: Close Editor')
    await command(page, 'Problems: Focus on Problems View')
  }
  await shot('rule-page')
  await command(page, 'View: Toggle Panel Visibility')
  await command(page, 'Rollbook: Explain a Setting or a Rule')
  await page.locator('.quick-input-list .monaco-list-row').first().waitFor()
  await writeInBox(page, 'white lines')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'bands-light' }).first().waitFor()
  await page.keyboard.press('Enter')
  await webview(page).locator('h1', { hasText: 'bands-light' }).first().waitFor()
  await webview(page).locator('a', { hasText: 'web.tension' }).first().click()
  await webview(page).locator('h1', { hasText: 'web.tension' }).first().waitFor()
  await shot('setting-page')
  await command(page, 'View: Close All Editors')
})

test('a server that ends too often says so, with the log and a restart at hand', async () => {
  await openFile(page, PROFILE)
  await clickOn(page, 'correction')
  const dead = new Set<number>()
  for (let crash = 0; crash < 5; crash++) {
    const living = (): number | undefined => host.processes('dist/server[.]cjs').find((id) => !dead.has(id))
    await expect.poll(living, { timeout: 20_000 }).toBeDefined()
    const pid = living() ?? Number.NaN
    process.kill(pid, 'SIGKILL')
    dead.add(pid)
  }
  // Under test the editor keeps its messages in the notification centre.
  await page.locator('.statusbar-item .codicon-bell-dot').waitFor()
  await command(page, 'Notifications: Show Notifications')
  const message = page.locator('.notifications-center .notification-list-item')
  await message.first().waitFor()
  expect(await message.count()).toBe(1)
  expect(await message.textContent()).toContain('stays off')
  await shot('stays-off')
  expect(await message.locator('.monaco-button').allTextContents()).toEqual(['Show Log', 'Restart'])
  await message.getByText('Restart', { exact: true }).click()
  expect(await hoverOn(page, '0.12 %', '+0.12 %')).toContain('+0.12 %')
})

test('a step of the walkthrough can be done while the Welcome page is in front, and is done only then', async () => {
  await command(page, 'View: Close All Editors')
  await openWalkthrough()
  const steps = page.locator('.gettingStartedContainer .getting-started-step')
  const step = steps.filter({ hasText: 'Record a feed check' })
  await step.click()
  expect(await step.locator('.codicon.complete').count()).toBe(0)
  await step.getByText('Record a Feed Check', { exact: true }).last().click()
  // No profile is open, so the shop's are offered.
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'film-pet' }).first().waitFor()
  await shot('walkthrough-profile')
  await page.keyboard.press('Enter')
  await page.locator('.view-line', { hasText: 'measured:' }).nth(1).waitFor()
  await shot('walkthrough-check')
  await page.keyboard.press('Escape')
  await command(page, 'File: Revert File')
  await openWalkthrough()
  await step.locator('.codicon.complete').waitFor()
  await command(page, 'View: Close All Editors')
})

test('the walkthrough leads to the sample shop, unpacked where the person says', async () => {
  await command(page, 'View: Close All Editors')
  await page.setViewportSize({ width: 1600, height: 900 }) // Wide enough for the step's picture beside it.
  await openWalkthrough()
  const steps = page.locator('.gettingStartedContainer .getting-started-step')
  await steps.getByText('Tern Quay Print Works').waitFor()
  expect(await steps.count()).toBe(5)
  await webview(page).locator('svg').waitFor()
  await shot('walkthrough')

  const target = join(work, 'mine')
  mkdirSync(target)
  await steps.getByText('Open the Sample Shop', { exact: true }).click()
  const path = page.locator('.quick-input-widget .quick-input-box input')
  // The dialog begins at the open folder, and takes no answer before it has looked that up.
  await expect.poll(() => path.inputValue(), { timeout: 20_000 }).toContain('tern-quay/')
  await path.fill(`${target}/`)
  const choose = page.locator('.quick-input-widget').getByText('Put It Here')
  const choosing = async (): Promise<boolean> => {
    await choose.click({ timeout: 500 }).catch(() => {})
    return choose.isVisible()
  }
  await expect.poll(choosing, { timeout: 20_000, interval: 500 }).toBe(false)
  await page.waitForURL((url) => decodeURIComponent(url.search).includes('/mine/tern-quay'))
  await page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'rollbook.yaml' }).waitFor()
  await shot('sample-shop')
  const texts: Record<string, string> = JSON.parse(readFileSync(join(extension, 'dist', 'samples.json'), 'utf8'))
  for (const [name, text] of Object.entries(texts)) expect(readFileSync(join(target, 'tern-quay', name), 'utf8')).toBe(text)
})

test('the page asks nothing of another machine', () => {
  expect(host.requests).toEqual([])
})

async function openWalkthrough(): Promise<void> {
  await command(page, 'Welcome: Open Walkthrough...')
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Start with Rollbook' }).first().waitFor()
  await writeInBox(page, 'Start with Rollbook')
  await page.keyboard.press('Enter')
}

async function shot(name: string): Promise<void> {
  await page.screenshot({ path: join(SHOTS, `${name}.png`) })
}
