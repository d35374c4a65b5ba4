// The fix of a profile that leaves settings open: they are filled in as a started profile has them, and no other byte is touched.
import { expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import type { Action } from '../../server/src/features/context.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { fillOpen, start } from '../../server/src/workspace/starting.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'

const TODAY = '2026-11-25'
const FILE = `${ROOT}profiles/mine.media.yaml`
const HEAD = 'profile: mine\nstock: canvas-380\nprinter: bay-1\nmode: fine-16-pass\n'

async function filled(text: string): Promise<{ analysis: Analysis; action: Action | undefined; after: string }> {
  const files = samples().filter(({ name }) => name.startsWith('tern-quay/'))
  const all = new Map(files.map(({ name, text: one }) => [`${ROOT}${name.slice('tern-quay/'.length)}`, one]))
  const workspace = new Workspace(new MemoryHost(new Map([...all, [FILE, text]]), TODAY))
  await workspace.addFolder(ROOT)
  workspace.update(FILE, text)
  await workspace.prepare(FILE)
  const analysis = new Analysis(workspace, true)
  const action = await fillOpen(analysis, FILE, { start: text.indexOf('mine'), end: text.indexOf('mine') })
  return { analysis, action, after: applyEdits(text, action?.edits ?? []) }
}

/** The findings of the text as the document. */
function codesOf(analysis: Analysis, text: string): readonly string[] {
  analysis.workspace.update(FILE, text)
  return analysis.findings(FILE).map(({ code }) => code)
}

/** The settings of a text, a line each, without comments and blank lines. */
const settingsOf = (text: string): readonly string[] =>
  text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.trim().startsWith('#'))

test('nothing is left open, and each number has its reason', async () => {
  const { analysis, action, after } = await filled(HEAD)
  expect(action?.title).toMatch(/^Fill in \d+ open settings as a started profile has them, with the reasons$/)
  expect(after.startsWith(HEAD)).toBe(true)
  expect(codesOf(analysis, after)).not.toContain('setting-missing')
  const lines = after.split('\n')
  const values = lines.flatMap((line, n) => (/^ *[a-z-]+: \S/.test(line) && n >= 4 ? [lines[n - 1] ?? ''] : []))
  expect(values.length).toBeGreaterThan(8)
  for (const above of values) expect(above).toMatch(/^ *# /)
})

test('the numbers are those of a started profile', async () => {
  const { analysis, after } = await filled(HEAD)
  const wish = { stock: 'canvas-380', printer: 'bay-1', mode: 'fine-16-pass', id: 'other' }
  const started = await start(analysis.workspace, FILE, wish)
  if (!started.ok) throw new Error(started.refused)
  const begun = settingsOf(started.text)
  expect(settingsOf(after).filter((line) => !HEAD.includes(line) && !begun.includes(line))).toEqual([])
})

test('what is given stays, and what is chosen stands on it', async () => {
  const given = `${HEAD}gap: 2.0 mm # by hand\nheat: { platen: 38 °C }\nweb:\n  # as last year\n  tension: 2\n\nnotes: |\n  dry\n`
  const { analysis, after } = await filled(given)
  for (const line of given.split('\n').filter((one) => !one.startsWith('heat'))) expect(after).toContain(line)
  expect(after).toMatch(/^heat: \{ platen: 38 °C, before: \d+ °C, after: \d+ °C[^\n]*\}$/m)
  expect(after).toMatch(/\n {2}tension: 2\n {2}# [^\n]+\n/)
  expect(after.match(/tension:/g)).toHaveLength(1)
  expect(codesOf(analysis, after)).not.toContain('setting-missing')
})

test('line ends stay as they are', async () => {
  const { after } = await filled(HEAD.replaceAll('\n', '\r\n'))
  expect(after.replaceAll('\r\n', '')).not.toContain('\n')
})

test('a second time there is nothing to do, nor away from the finding', async () => {
  const { analysis, after } = await filled(HEAD)
  codesOf(analysis, after)
  expect(await fillOpen(analysis, FILE, { start: 9, end: 9 })).toBeUndefined()
  analysis.workspace.update(FILE, HEAD)
  expect(await fillOpen(analysis, FILE, { start: HEAD.indexOf('canvas'), end: HEAD.indexOf('canvas') })).toBeUndefined()
})

test('a section that holds something else refuses the whole, with the reason', async () => {
  const { action, after } = await filled(`${HEAD}x-web: &d { tension: 2 }\nweb: *d\n`)
  expect(action?.refused).toMatch(/write it by hand/)
  expect(after).toBe(`${HEAD}x-web: &d { tension: 2 }\nweb: *d\n`)
})

test('a stock that cannot run on the printer gets no numbers', async () => {
  const { action } = await filled(HEAD.replace('canvas-380', 'knit-polyester-220'))
  expect(action).toBeUndefined()
})
