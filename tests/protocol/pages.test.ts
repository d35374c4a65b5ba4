// Pages for panels, the questions of a sheet, and a profile like another one: what the server answers to the client's commands.
import { afterEach, expect, test } from 'vitest'
import type { TextEdit } from 'vscode-languageserver'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { Revisions } from '../../server/src/host/revisions.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

const printer = (id: string, level: string): string => `#- ${id}.printer.yaml
printer: ${id}
title: <i>${id}</i>
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
carriage: {gaps: [1.5 mm, 2 mm]}
feed: {range: [-1 %, 1 %], step: 0.05 %, entry: percent, pattern-lengths: [1 m]}
suction: {levels: {1: 100 Pa, 2: ${level}}, depth: 120 mm}
cautions: [The bar stays hot.]
`
const PROFILE = `profile: one
stock: film
printer: gull
mode: quick
gap: 2 mm
suction: 2
feed:
  correction: +0.20 %
`
const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 80 µm
${printer('gull', '200 Pa')}${printer('heron', '300 Pa')}#- one.media.yaml
${PROFILE}`
const URI = `${ROOT}one.media.yaml`

interface Page {
  readonly title: string
  readonly html: string
  readonly choices?: readonly { readonly id: string }[]
}

let client: Client
afterEach(() => client.stop())

async function start(fixture = SHOP): Promise<void> {
  const { files } = parseFixture(fixture)
  ;({ client } = await Client.start('', { host: new MemoryHost(files, '2026-03-26') }))
  await client.open('one.media.yaml', files.get(URI)!)
}

const page = (kind: string, of?: string, uri = URI): Promise<Page | null> => client.request('rollbook/page', { uri, kind, of })
const read = (html: string): string =>
  html
    .replace(/<(style|title)>.*?<\/\1>/gs, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ')

test('the sheet of a profile, and of nothing else', async () => {
  await start()
  const sheet = (await page('sheet'))!
  expect(sheet.title).toBe('Sheet of one')
  expect(read(sheet.html)).toMatch(/film on gull in quick.*Slot|No slot/)
  expect(read(sheet.html)).toContain('The bar stays hot.')
  // Git is asked only in a folder that somebody trusts, and here is none.
  expect(read(sheet.html)).toContain('one · not in git')
  expect(await page('sheet', undefined, `${ROOT}film.stock.yaml`)).toBeNull()
  expect(await page('nothing')).toBeNull()
})

test('the revision at its foot is that of the text on it: what is typed and not saved has none', async () => {
  const { files } = parseFixture(SHOP)
  const host = new MemoryHost(files, '2026-03-26')
  const history = { commit: async () => 'head', changedSince: async () => [], newest: async () => 'a1b2c3d' }
  const revisions = { of: async () => history, unmerged: async () => [] } as unknown as Revisions
  ;({ client } = await Client.start('', { host, disk: { host, revisions } }))
  await client.open('one.media.yaml', files.get(URI)!)
  const foot = async (trusted: boolean): Promise<string | undefined> => {
    const sheet = await client.request<Page>('rollbook/page', { uri: URI, kind: 'sheet', trusted })
    return /one · ([\w ]+?) *(?:<|$)/m.exec(sheet.html)?.[1]
  }
  expect([await foot(true), await foot(false)]).toEqual(['a1b2c3d', 'not in git'])
  await client.change('one.media.yaml', 2, { text: PROFILE.replace('+0.20', '+0.25') })
  expect(await foot(true)).toBe('not committed')
})

test('a text that is broken proves no number on its sheet', async () => {
  await start(`${SHOP}web: [\n`)
  const sheet = (await page('sheet'))!
  expect(read(sheet.html)).toContain('Settle first: one.media.yaml is read in part: its text is broken.')
})

test('what to key in at a printer, one stock on its printers, the shop: chosen first where nobody said which', async () => {
  await start()
  expect((await page('to-key'))?.choices?.map(({ id }) => id)).toEqual(['gull', 'heron'])
  expect((await page('to-key', 'gone'))?.choices).toHaveLength(2)
  expect(read((await page('to-key', 'gull'))!.html)).toMatch(/To Key In at gull .*\[ \] suction 2/)
  expect((await page('differences'))?.choices?.map(({ id }) => id)).toEqual(['film'])
  expect(read((await page('differences', 'film'))!.html)).toContain('one: gull, quick')
  expect(read((await page('shop'))!.html)).toMatch(/Tern Quay Print Works, 2026-03-26.*gull.*heron/)
})

test('in every page a document stays text, nothing runs and nothing is fetched', async () => {
  await start()
  for (const [kind, of] of [['sheet'], ['to-key', 'gull'], ['differences', 'film'], ['shop']] as const) {
    const { html } = (await page(kind, of))!
    expect(html).not.toMatch(/<i>gull|<script|https?:(?!\/\/www\.w3\.org)/)
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`)
  }
})

test('the questions of a sheet, one answer further each time, and at the end the edit', async () => {
  await start()
  const ask = (answers: readonly string[]) =>
    client.request<{ question?: { part: string; ask: string; fault?: string }; edits?: TextEdit[]; told?: string[] }>(
      'rollbook/enterSheet',
      { textDocument: { uri: URI }, answers },
    )
  expect(await ask([])).toMatchObject({ question: { part: 'Read back from the machine' } })
  expect(await ask(['', 'soon'])).toMatchObject({
    question: { part: 'Length, printed 1 m', fault: expect.stringContaining('soon') },
  })
  const answers = ['', 'today', '', '998', '', '', '23', '', '', '', '', 'yes']
  const { edits = [], told } = await ask(answers)
  expect(told).toHaveLength(1)
  const lines = new LineIndex(PROFILE)
  const after = applyEdits(
    PROFILE,
    edits.map(({ range: { start, end }, newText }) => ({ start: lines.offset(start), end: lines.offset(end), newText })),
  )
  expect(after).toMatch(
    /- \{ date: 2026-03-26, commanded: 1 m, measured: 998 mm, applied: \+0\.20 %, web: 23 °C, under: \w+ \}\n/,
  )
  expect(await ask([...answers.slice(0, -1), 'no'])).toEqual({ edits: [], told: [] })
  await client.change('one.media.yaml', 2, { text: `${PROFILE}web: [\n` })
  expect(await ask([])).toBeNull()
})

test('a profile like this one: its stock, carried by what the web feels', async () => {
  await start()
  const like = await client.request<{ refused?: string; uri: string; text: string }>('rollbook/start', {
    uri: URI,
    like: URI,
    printer: 'heron',
  })
  expect(like.uri).toBe(`${ROOT}film-heron.media.yaml`)
  expect(like.text).toMatch(/^stock: film\nprinter: heron$/m)
  expect(like.text).toMatch(/^suction: 2\b/m)
  expect(like.text).toContain('Like one on gull')
  const other = { uri: URI, stock: 'other', printer: 'heron', like: URI }
  expect((await client.request<{ refused: string }>('rollbook/start', other)).refused).toMatch(/no stock 'other'/)
})
