// Findings for clients that ask for them: of one document, and of the whole shop, with what has not changed left out.
import { afterEach, expect, test, vi } from 'vitest'
import type {
  ClientCapabilities,
  Diagnostic,
  DocumentDiagnosticReport,
  WorkspaceDiagnosticReport,
  WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver'
import { CancellationTokenSource, ProgressType } from 'vscode-languageserver-protocol/node'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { Client, FULL, shown } from './client.ts'

const PULLS: ClientCapabilities = {
  ...FULL,
  workspace: { ...FULL.workspace, diagnostics: { refreshSupport: true } },
  textDocument: { ...FULL.textDocument, diagnostic: { relatedInformation: true, tagSupport: { valueSet: [1, 2] } } },
}

const STOCK = (limit: number): string => `stock: film
family: film-pvc-cast
thickness: 50 µm
max-web-temperature: ${limit} °C
`

/** The web leaves the platen at 48 °C at most. */
const profile = (id: string, stock = 'film'): string => `profile: ${id}
stock: ${stock}
printer: bay-1
mode: standard
gap: 2 mm
heat:
  platen: 48 °C
  readings:
    - { date: 2026-03-30, zone: platen, set: 48 °C, web: 47 °C }
`

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- film.stock.yaml
${STOCK(60)}#- other.stock.yaml
${STOCK(60).replace('stock: film', 'stock: other')}#- bay-1.printer.yaml
printer: bay-1
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters:
  platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
#- a.media.yaml
${profile('a')}#- b.media.yaml
${profile('b')}#- c.media.yaml
${profile('c', 'other')}`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

async function start(fixture = SHOP, capabilities = PULLS): Promise<Client> {
  const { client } = await Client.start(fixture, { capabilities })
  running = client
  return client
}

const ask = (client: Client, name: string, previousResultId?: string): Promise<DocumentDiagnosticReport> =>
  client.request('textDocument/diagnostic', {
    textDocument: { uri: ROOT + name },
    ...(previousResultId !== undefined && { previousResultId }),
  })

const itemsOf = (report: DocumentDiagnosticReport): readonly Diagnostic[] => {
  if (report.kind !== 'full') throw new Error('a whole answer was expected')
  return report.items
}

/** A question about the whole shop that stays open; what came of it, document by document. */
class Standing {
  readonly newest = new Map<string, WorkspaceDocumentDiagnosticReport>()
  readonly reports: WorkspaceDocumentDiagnosticReport[] = []
  private readonly source = new CancellationTokenSource()
  private readonly waiting: (() => void)[] = []
  readonly end: Promise<unknown>

  constructor(client: Client, has: readonly { uri: string; value: string }[] = []) {
    client.connection.onProgress(
      new ProgressType<WorkspaceDiagnosticReport>(),
      'shop',
      ({ items }: WorkspaceDiagnosticReport) => {
        for (const item of items) {
          this.newest.set(item.uri.replace(ROOT, ''), item)
          this.reports.push(item)
        }
        for (const wake of this.waiting.splice(0)) wake()
      },
    )
    const params = { previousResultIds: has, partialResultToken: 'shop' }
    this.end = client.connection.sendRequest('workspace/diagnostic', params, this.source.token).catch((error) => error)
  }

  async until(holds: () => boolean): Promise<void> {
    while (!holds()) await new Promise<void>((wake) => this.waiting.push(wake))
  }

  codes(name: string): readonly unknown[] {
    const report = this.newest.get(name)
    return report?.kind === 'full' ? report.items.map(({ code }) => code) : []
  }

  async stop(): Promise<unknown> {
    this.source.cancel()
    return this.end
  }
}

test('who asks is answered, told nothing unasked, and told that nothing has changed', async () => {
  const client = await start()
  const text = profile('a').replace('gap: 2 mm', 'gap: 2')
  await client.open('a.media.yaml', text, 3)
  const first = await ask(client, 'a.media.yaml')
  expect(shown(itemsOf(first))).toContain('missing-unit 4:5')
  const again = await ask(client, 'a.media.yaml', first.resultId)
  expect(again).toEqual({ kind: 'unchanged', resultId: first.resultId })
  await client.change('a.media.yaml', 4, { text: profile('a') })
  const mended = await ask(client, 'a.media.yaml', first.resultId)
  expect(shown(itemsOf(mended)).filter((one) => one.startsWith('missing-unit'))).toEqual([])
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: `${ROOT}a.media.yaml` } })
  await ask(client, 'a.media.yaml')
  expect(client.published).toEqual([])
})

test('who does not ask is offered nothing to ask for, and is told', async () => {
  const { client, answer } = await Client.start(SHOP)
  running = client
  expect(answer.capabilities.diagnosticProvider).toBeUndefined()
  await client.open('a.media.yaml', profile('a').replace('gap: 2 mm', 'gap: 2'))
  expect(shown(await client.diagnostics('a.media.yaml'))).toContain('missing-unit 4:5')
})

test('a limit of a stock is lowered: its closed profiles show what breaks, and no other is judged again', async () => {
  const client = await start()
  const shop = new Standing(client)
  await shop.until(() => ['a', 'b', 'c'].every((id) => shop.newest.has(`${id}.media.yaml`)))
  expect(['a', 'b', 'c'].flatMap((id) => shop.codes(`${id}.media.yaml`))).not.toContain('web-too-hot')
  const before = shop.reports.length
  await client.open('film.stock.yaml', STOCK(60))
  await client.change('film.stock.yaml', 2, { text: STOCK(40) })
  await shop.until(() => ['a', 'b'].every((id) => shop.codes(`${id}.media.yaml`).includes('web-too-hot')))
  const told = new Set(shop.reports.slice(before).map(({ uri }) => uri.replace(ROOT, '')))
  expect([...told].filter((name) => name.endsWith('.media.yaml')).sort()).toEqual(['a.media.yaml', 'b.media.yaml'])
  // And back again, as it was word for word.
  const was = shop.reports.find(({ uri }) => uri.endsWith('/a.media.yaml'))
  await client.change('film.stock.yaml', 3, { text: STOCK(60) })
  await shop.until(() => ['a', 'b'].every((id) => !shop.codes(`${id}.media.yaml`).includes('web-too-hot')))
  expect(shop.newest.get('a.media.yaml')).toEqual(was)
  expect(await shop.stop()).toMatchObject({ code: -32800 })
})

test('a document that comes is told of, one that goes is emptied, and one that is closed is told of anew', async () => {
  const client = await start()
  const shop = new Standing(client)
  await shop.until(() => shop.newest.has('c.media.yaml'))
  const { files } = client.host
  const changed = (name: string, type: number) =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: ROOT + name, type }] })
  files.set(`${ROOT}d.media.yaml`, profile('d').replace('gap: 2 mm', 'gap: 2'))
  await changed('d.media.yaml', 1)
  await shop.until(() => shop.codes('d.media.yaml').includes('missing-unit'))
  files.delete(`${ROOT}d.media.yaml`)
  await changed('d.media.yaml', 3)
  await shop.until(() => shop.codes('d.media.yaml').length === 0)

  await client.open('c.media.yaml', profile('c', 'other').replace('gap: 2 mm', 'gap: 2'))
  await shop.until(() => shop.codes('c.media.yaml').includes('missing-unit'))
  expect(shop.newest.get('c.media.yaml')).toMatchObject({ version: 1 })
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: `${ROOT}c.media.yaml` } })
  await shop.until(() => !shop.codes('c.media.yaml').includes('missing-unit'))
  expect(shop.newest.get('c.media.yaml')).toMatchObject({ version: null })
  await shop.stop()
})

test('without parts the answer comes when anything differs from what the client has', async () => {
  const client = await start()
  const whole = await client.request<WorkspaceDiagnosticReport>('workspace/diagnostic', { previousResultIds: [] })
  const has = whole.items.map(({ uri, resultId }) => ({ uri, value: resultId! }))
  expect(has.length).toBeGreaterThan(2)
  const next = client.request<WorkspaceDiagnosticReport>('workspace/diagnostic', { previousResultIds: has })
  await client.open('b.media.yaml', profile('b').replace('gap: 2 mm', 'gap: 2'))
  const { items } = await next
  expect(items.map(({ uri }) => uri)).toEqual([`${ROOT}b.media.yaml`])
})

test('closed profiles are let go of once they are judged', async () => {
  const spy = vi.spyOn(Workspace.prototype, 'everything')
  const client = await start()
  const shop = new Standing(client)
  await shop.until(() => shop.newest.has('c.media.yaml'))
  const workspace = spy.mock.contexts[0] as Workspace
  spy.mockRestore()
  const profiles = workspace.everything().filter(({ kind }) => kind === 'media')
  expect(profiles.filter(({ file }) => workspace.document(file)).map(({ file }) => file)).toEqual([])
  expect(profiles).toHaveLength(3)
  await shop.stop()
})

test('an open profile that another document changes is asked for anew', async () => {
  const client = await start()
  await client.open('a.media.yaml', profile('a'))
  const before = await ask(client, 'a.media.yaml')
  await client.open('film.stock.yaml', STOCK(40))
  await client.askedFor('workspace/diagnostic/refresh')
  const after = await ask(client, 'a.media.yaml', before.resultId)
  expect(itemsOf(after).map(({ code }) => code)).toContain('web-too-hot')
})
