// The left side of a comparison: hover, hints and findings of the text as it was, in the shop it is in, and nothing of it in the shop itself.
import { afterEach, expect, test } from 'vitest'
import type { Diagnostic, DocumentDiagnosticReport, Hover, InlayHint, WorkspaceDiagnosticReport } from 'vscode-languageserver'
import { inShop } from '../features/example-shop.ts'
import { ROOT } from '../support/fixture.ts'
import { Client, FULL } from './client.ts'

const PULLS = { ...FULL, textDocument: { ...FULL.textDocument, diagnostic: { relatedInformation: true } } }
const NOW = `profile: example
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
heat: { platen: 40 °C }
feed:
  correction: 0 %
  checks:
    - { date: 2026-03-30, commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: tape-5m }
`
/** A mode that the printer does not have, and another gap. */
const THEN = NOW.replace('standard', 'quick').replace('gap: 2.0', 'gap: 1.5')
const git = (name: string): string =>
  `git:/shop/${name}?${encodeURIComponent(JSON.stringify({ path: `/shop/${name}`, ref: 'HEAD' }))}`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

async function start(): Promise<Client> {
  running = (await Client.start(inShop(NOW), { capabilities: PULLS })).client
  await running.open('example.media.yaml', NOW)
  await open(running, git('example.media.yaml'), THEN)
  return running
}

const open = (client: Client, uri: string, text: string): Promise<void> =>
  client.connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'rollbook', version: 1, text } })

const findings = async (client: Client, uri: string): Promise<readonly Diagnostic[]> => {
  const report = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument: { uri } })
  return report.kind === 'full' ? report.items : []
}
const codes = async (client: Client, uri: string): Promise<readonly unknown[]> =>
  (await findings(client, uri)).map(({ code }) => code)

test('it is judged with the stock and the printer of its shop, and is not taken for a second document of its name', async () => {
  const client = await start()
  const own = `${ROOT}example.media.yaml`
  const then = await codes(client, git('example.media.yaml'))
  expect(then).toContain('missing-mode')
  expect(then).not.toContain('duplicate-id')
  const now = await codes(client, own)
  expect(now).not.toContain('missing-mode')
  expect(now).not.toContain('duplicate-id')
  const shop = await client.request<WorkspaceDiagnosticReport>('workspace/diagnostic', { previousResultIds: [] })
  expect(shop.items.map(({ uri }) => uri).filter((uri) => uri.startsWith('git:'))).toEqual([])
})

test('hover and hints tell of the text as it was', async () => {
  const client = await start()
  const textDocument = { uri: git('example.media.yaml') }
  const hover = await client.request<Hover>('textDocument/hover', { textDocument, position: { line: 4, character: 6 } })
  expect((hover.contents as { value: string }).value).toContain('1.5 mm')
  expect(hover.range).toEqual({ start: { line: 4, character: 5 }, end: { line: 4, character: 11 } })
  const range = { start: { line: 0, character: 0 }, end: { line: 20, character: 0 } }
  const hints = await client.request<InlayHint[]>('textDocument/inlayHint', { textDocument, range })
  expect(hints.map(({ position }) => position.line)).toEqual([7, 9])
})

test('what stands open and unsaved beside it counts, and another text is judged anew', async () => {
  const client = await start()
  const uri = git('example.media.yaml')
  await client.open('film.stock.yaml', 'stock: foil\nfamily: film-pvc-cast\nthickness: 50 µm\n')
  expect(await codes(client, uri)).toContain('missing-stock')
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri, version: 2 },
    contentChanges: [{ text: THEN.replace('stock: film', 'stock: foil') }],
  })
  expect(await codes(client, uri)).not.toContain('missing-stock')
})

test('it is not worked on, and what is none of ours or not open is answered with nothing', async () => {
  const client = await start()
  const textDocument = { uri: git('example.media.yaml') }
  const range = { start: { line: 3, character: 8 }, end: { line: 3, character: 8 } }
  const context = { diagnostics: [] }
  expect(await client.request('textDocument/codeAction', { textDocument, range, context })).toBeNull()
  expect(await client.request('textDocument/rename', { textDocument, position: range.start, newName: 'x' })).toBeNull()
  expect(await client.request('textDocument/formatting', { textDocument, options: {} })).toBeNull()
  for (const uri of [git('other.media.yaml'), git('notes.txt'), 'git:', 'git:/%?', 'git:/a.media.yaml'])
    expect(await client.request('textDocument/hover', { textDocument: { uri }, position: range.start }), uri).toBeNull()
  await client.connection.sendNotification('textDocument/didClose', { textDocument })
  expect(await client.request('textDocument/hover', { textDocument, position: range.start })).toBeNull()
  expect(client.host.logged.filter((line) => line.startsWith('error'))).toEqual([])
})
