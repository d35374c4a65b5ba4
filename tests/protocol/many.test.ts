// Many documents open, and many messages at once: what is told again, how often texts are parsed and rules run, and who is answered first.
// Nothing is measured by a clock; where the server looks at one, the test holds it.
import { afterEach, beforeEach, expect, type MockInstance, test, vi } from 'vitest'
import { rule as feedStale } from '../../server/src/areas/feed/rules/feed-stale.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { RecordedRun } from '../../server/src/workspace/recorded-run.ts'
import { ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 50 µm
#- bay-1.printer.yaml
printer: bay-1
slots: 200
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters: {platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
`

const name = (i: number): string => `p-${i}.media.yaml`

/** Profiles of one stock and printer, each with a slot of its own; `gap` lacks its unit. */
const profile = (i: number, more = ''): string =>
  `profile: p-${i}\ntitle: Film\nstock: film\nprinter: bay-1\nmode: standard\nslot: ${i}\ngap: 2\n${more}`

const uri = (i: number): string => ROOT + name(i)
const opened = (i: number, text: string) => ({
  method: 'textDocument/didOpen',
  params: { textDocument: { uri: uri(i), languageId: 'rollbook', version: 1, text } },
})
const changed = (i: number, version: number, contentChange: object) => ({
  method: 'textDocument/didChange',
  params: { textDocument: { uri: uri(i), version }, contentChanges: [contentChange] },
})
const closed = (i: number) => ({ method: 'textDocument/didClose', params: { textDocument: { uri: uri(i) } } })

let client: Client
let now: number
let step: number
/** Documents that were checked, and runs of one rule. */
let checked: MockInstance
let ruleRuns: MockInstance
let parses: MockInstance

beforeEach(() => {
  now = 0
  step = 0
  vi.spyOn(performance, 'now').mockImplementation(() => {
    now += step
    return now
  })
  checked = vi.spyOn(RecordedRun.prototype, 'findings')
  ruleRuns = vi.spyOn(feedStale, 'check')
  parses = vi.spyOn(SyntaxTree, 'parse')
})

afterEach(async () => {
  await client.stop()
  vi.restoreAllMocks()
})

/** A server over a shop of profiles, all of them open and told of. */
async function manyOpen(texts: readonly string[]): Promise<void> {
  const files = texts.map((text, i) => `#- ${name(i)}\n${text}`).join('')
  client = (await Client.start(SHOP + files)).client
  client.together(...texts.map((text, i) => opened(i, text)))
  for (const i of texts.keys()) await client.diagnostics(name(i))
  await quiet()
  client.published.length = 0
  checked.mockClear()
  ruleRuns.mockClear()
  parses.mockClear()
}

/** Until the server has nothing left to tell: two questions in a row are answered, and nothing was told between them. */
async function quiet(): Promise<void> {
  for (let before = -1; before !== client.published.length; ) {
    before = client.published.length
    for (let i = 0; i < 20; i++) await client.request('rollbook/explain', { topic: 'feed' })
  }
}

const toldOf = (): readonly string[] => client.published.map((p) => p.uri.slice(ROOT.length)).sort()

const TWENTY = Array.from({ length: 20 }, (_, i) => profile(i + 1))

test.each([
  ['title', 'Film', 'Films'],
  ['slot', 'slot: 1\n', 'slot: 150\n'],
  ['stock', 'stock: film', 'stock: films'],
  ['mode', 'mode: standard', 'mode: standar'],
])(
  'a letter typed in the %s of one profile is told of that profile alone, and no other is checked again',
  async (_, from, to) => {
    await manyOpen(TWENTY)
    await client.change(name(0), 2, { text: TWENTY[0]!.replace(from, to) })
    await client.diagnostics(name(0), (p) => p.version === 2)
    await quiet()
    expect(toldOf()).toEqual([name(0)])
    expect(checked).toHaveBeenCalledTimes(1)
    expect(ruleRuns).not.toHaveBeenCalled()
    expect(parses).not.toHaveBeenCalled()
  },
)

test('a slot that is taken is told of both profiles that claim it, and of no other', async () => {
  await manyOpen(TWENTY)
  await client.change(name(0), 2, { text: TWENTY[0]!.replace('slot: 1\n', 'slot: 5\n') })
  await client.diagnostics(name(4), ({ diagnostics }) => diagnostics.some((d) => d.code === 'slot-taken'))
  await quiet()
  expect(toldOf()).toEqual([name(0), name(4)].sort())
  client.published.length = 0
  await client.change(name(0), 3, { text: TWENTY[0]! })
  await client.diagnostics(name(4), ({ diagnostics }) => !diagnostics.some((d) => d.code === 'slot-taken'))
  await quiet()
  expect(toldOf()).toEqual([name(0), name(4)].sort())
})

test('a stock that changes has every profile checked again, and those told of again of which something else is to be said', async () => {
  await manyOpen(TWENTY.map((text, i) => (i === 3 ? `${text}heat: {platen: 42 °C}\n` : text)))
  const stock = client.host.files.get(`${ROOT}film.stock.yaml`)!
  client.host.files.set(`${ROOT}film.stock.yaml`, `${stock}max-web-temperature: 30 °C\n`)
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: `${ROOT}film.stock.yaml`, type: 2 }],
  })
  await client.diagnostics(name(3), ({ diagnostics }) => diagnostics.some((d) => String(d.message).includes('30 °C')))
  await quiet()
  expect(toldOf()).toEqual([name(3)])
  expect(checked).toHaveBeenCalledTimes(20)
  expect(ruleRuns).not.toHaveBeenCalled()
})

test('of many documents opened at once the one asked about is answered before the others are parsed, and told of first', async () => {
  const many = Array.from({ length: 200 }, (_, i) => profile(i + 1))
  client = (await Client.start(SHOP)).client
  await client.request('rollbook/explain', { topic: 'feed' })
  parses.mockClear()
  // Each look at the clock finds ten milliseconds gone: one document is told of at a time.
  step = 10
  let parsedBefore = Number.NaN
  const position = { line: 2, character: 8 }
  const hover = { id: 'asked', method: 'textDocument/hover', params: { textDocument: { uri: uri(120) }, position } }
  const answered = new Promise<void>((resolve) => {
    client.onHeard = (heard) => {
      if (!heard.includes('"id":"asked"') || !Number.isNaN(parsedBefore)) return
      parsedBefore = parses.mock.calls.length
      resolve()
    }
  })
  client.together(...many.map((text, i) => opened(i, text)), hover)
  await answered
  const toldBefore = client.published.length
  for (const i of many.keys()) await client.diagnostics(name(i))
  expect(client.heard).toMatch(/"id":"asked","result":\{/)
  expect(parsedBefore).toBeLessThan(40)
  expect(toldBefore).toBeLessThan(40)
  const order = client.published.map((p) => p.uri)
  expect(order.slice(toldBefore, toldBefore + 6)).toContain(uri(120))
})

test('closing many has none of those that stay open checked again', async () => {
  const half = Array.from({ length: 40 }, (_, i) => profile(i + 1))
  await manyOpen(half)
  client.together(...half.slice(0, 20).map((_, i) => closed(i)))
  await client.diagnostics(name(19), (p) => p.version === undefined)
  await quiet()
  expect(toldOf()).toEqual(
    half
      .slice(0, 20)
      .map((_, i) => name(i))
      .sort(),
  )
  expect(checked).not.toHaveBeenCalled()
})

test('closing many that were never saved has only those checked again that rest on what changes', async () => {
  const half = Array.from({ length: 40 }, (_, i) => profile(i + 1, i === 30 ? 'base: renamed\n' : ''))
  await manyOpen(half)
  client.together(
    ...half.slice(0, 20).map((text, i) => changed(i, 2, { text: text.replace(/p-\d+/, i ? `new-${i}` : 'renamed') })),
  )
  for (let i = 0; i < 20; i++) await client.diagnostics(name(i), (p) => p.version === 2)
  await quiet()
  client.published.length = 0
  checked.mockClear()
  client.together(...half.slice(0, 20).map((_, i) => closed(i)))
  await client.diagnostics(name(30), ({ diagnostics }) => diagnostics.some((d) => d.code === 'missing-base'))
  await quiet()
  expect(toldOf().filter((file) => file !== name(30))).toEqual(
    half
      .slice(0, 20)
      .map((_, i) => name(i))
      .sort(),
  )
  expect(checked.mock.calls.length).toBeLessThanOrEqual(2)
})

test('of many changes in a row the last is parsed, checked and told', async () => {
  await manyOpen(TWENTY)
  const update = vi.spyOn(SyntaxTree.prototype, 'update')
  const end = { line: 1, character: 11 }
  const letters = Array.from({ length: 200 }, (_, i) => changed(0, i + 2, { range: { start: end, end }, text: 'x' }))
  client.together(...letters)
  await client.diagnostics(name(0), (p) => p.version === 201)
  await quiet()
  expect(client.published.map((p) => p.version)).toEqual([201])
  expect(update.mock.calls.length + parses.mock.calls.length).toBe(1)
  expect(checked).toHaveBeenCalledTimes(1)
})

test('what is asked behind a change that nobody was told of yet is answered by it, in its own and in other documents', async () => {
  await manyOpen(TWENTY)
  const stock = client.host.files.get(`${ROOT}film.stock.yaml`)!
  const params = { uri: `${ROOT}film.stock.yaml`, languageId: 'rollbook', version: 1, text: stock.replace('50 µm', '70 µm') }
  const position = { line: 2, character: 8 }
  client.together(
    { method: 'textDocument/didOpen', params: { textDocument: params } },
    { id: 'asked', method: 'textDocument/hover', params: { textDocument: { uri: uri(0) }, position } },
  )
  await client.diagnostics('film.stock.yaml')
  expect(/"id":"asked".*/.exec(client.heard)![0]).toContain('70 µm')
})
