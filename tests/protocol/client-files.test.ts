// Files that the server has no way to, as in a browser or a virtual folder: the client reads and lists them, and each look is a journey.
import { PassThrough } from 'node:stream'
import { afterEach, describe, expect, test } from 'vitest'
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node'
import { hereAndNow } from '../../server/src/host/host.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { OwnHost } from '../../server/src/lsp/client-files.ts'
import { serve } from '../../server/src/lsp/server.ts'
import { FULL } from './client.ts'

const BASE = 'far-away://host/shop/'

const SHOP: Readonly<Record<string, string>> = {
  'rollbook.yaml': 'shop: Tern Quay\n',
  'stocks/film.stock.yaml': 'stock: film\nfamily: film-pet\nthickness: 100 µm\n',
  'stocks/paper.stock.yaml': 'stock: paper\nthickness: 200 µm\n',
  'printers/bay-1.printer.yaml': 'printer: bay-1\nmodes:\n  fine: { resolution: 720 x 720 dpi, passes: 8 }\n',
  'printers/bay-2.printer.yaml': 'printer: bay-2\n',
  'profiles/base.media.yaml': 'profile: base\nprinter: bay-1\nmode: fine\n',
  'profiles/film.media.yaml': 'profile: film\nbase: base\nstock: film\ngap: 30 mm\n',
  'profiles/other.media.yaml': 'profile: other\nstock: paper\nprinter: bay-2\n',
}

/** The reads in the order in which they were asked for; `answered` is how many of them had been when the first findings came. */
interface Far {
  readonly connection: MessageConnection
  readonly reads: string[]
  readonly findings: (name: string) => Promise<readonly string[]>
}

let near: { dispose(): void } | undefined
afterEach(() => near?.dispose())

async function far(
  texts: Readonly<Record<string, string>>,
  answer: (name: string) => object | undefined = () => undefined,
  {
    own = hereAndNow(() => undefined),
    files = true,
    roots = [''],
  }: { own?: OwnHost; files?: boolean; roots?: readonly string[] } = {},
): Promise<Far> {
  const [up, down] = [new PassThrough(), new PassThrough()]
  serve(createMessageConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), own, 'test')
  const connection = createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
  near = connection
  const reads: string[] = []
  const nameOf = (uri: string): string => uri.slice(BASE.length)
  connection.onRequest('rollbook/read', ({ uri }: { uri: string }) => {
    const name = nameOf(uri)
    reads.push(name)
    const text = texts[name]
    const read =
      text === undefined ? { reason: 'there is no such file', gone: true } : { base64: Buffer.from(text).toString('base64') }
    return answer(name) ?? read
  })
  const all = Object.keys(texts).map((name) => BASE + name)
  connection.onRequest('rollbook/list', ({ uri }: { uri: string }) => ({
    files: all.filter((file) => file.startsWith(uri)),
    unlisted: [],
  }))
  connection.listen()
  const folders = roots.map((root) => ({ uri: (BASE + root).replace(/\/$/, ''), name: root }))
  const capabilities = { ...FULL, textDocument: { ...FULL.textDocument, diagnostic: {} } }
  const initializationOptions = { files }
  await connection.sendRequest('initialize', {
    processId: null,
    rootUri: null,
    workspaceFolders: folders,
    capabilities,
    initializationOptions,
  })
  await connection.sendNotification('initialized', {})
  const findings = async (name: string): Promise<readonly string[]> => {
    const textDocument = { uri: BASE + name, languageId: 'rollbook', version: 1, text: texts[name] ?? '' }
    await connection.sendNotification('textDocument/didOpen', { textDocument })
    const { items } = await connection.sendRequest<{ items: { code: string; message: string }[] }>('textDocument/diagnostic', {
      textDocument,
    })
    return items.map(({ message }) => message)
  }
  return { connection, reads, findings }
}

describe('a shop that is far away', () => {
  test('what an open profile rests on is read once, by the names of the files, before all others and before its findings', async () => {
    const { findings, reads } = await far(SHOP)
    const told = await findings('profiles/film.media.yaml')
    expect(told.join('\n')).toContain('30 mm')
    const needed = ['rollbook.yaml', 'stocks/film.stock.yaml', 'profiles/base.media.yaml', 'printers/bay-1.printer.yaml']
    expect([...reads].sort()).toEqual([...needed].sort())
  })

  test('of another shop beside it nothing is read before its findings', async () => {
    const both = Object.entries(SHOP).flatMap(([name, text]) => ['quay/', 'harbour/'].map((root) => [root + name, text]))
    const { findings, reads } = await far(Object.fromEntries(both), undefined, { roots: ['quay/', 'harbour/'] })
    expect((await findings('quay/profiles/film.media.yaml')).join('\n')).toContain('30 mm')
    const needed = ['rollbook.yaml', 'stocks/film.stock.yaml', 'profiles/base.media.yaml', 'printers/bay-1.printer.yaml']
    expect([...reads].sort()).toEqual(needed.map((name) => `quay/${name}`).sort())
  })

  test('a stock whose file is called otherwise is looked for in all of them, and not told to be missing', async () => {
    const { 'stocks/film.stock.yaml': film = '', ...others } = SHOP
    const { findings, reads } = await far({ ...others, 'stocks/pet.stock.yaml': film })
    const told = await findings('profiles/film.media.yaml')
    expect(told.join('\n')).toContain('30 mm')
    expect(told.filter((message) => message.includes('film'))).toEqual([])
    expect(reads).toContain('stocks/pet.stock.yaml')
  })

  test.each([
    ['that the editor does not get at', { reason: 'permission is denied' }, 'permission is denied'],
    ['that is no UTF-8 text', { base64: 'c3RvY2s6IOQK' }, 'it is not UTF-8 text'],
    ['that is larger than any document', { size: 9 * 2 ** 20 }, 'it is 9 MB large, and at most 8 MB are read'],
  ])('a stock %s is not judged by, and the log says why', async (_what, answer, reason) => {
    const log: string[] = []
    const own = hereAndNow((_level, message) => log.push(message))
    const { findings } = await far(SHOP, (name) => (name === 'stocks/film.stock.yaml' ? answer : undefined), { own })
    expect(await findings('profiles/film.media.yaml')).toContain("The document of stock 'film', film.stock.yaml, cannot be read.")
    expect(log.join('\n')).toContain(`film.stock.yaml cannot be read: ${reason}`)
  })
})

test('a client that does not read files is not asked to', async () => {
  const files = new Map(Object.entries(SHOP).map(([name, text]) => [BASE + name, text]))
  const { findings, reads } = await far(SHOP, undefined, { own: new MemoryHost(files), files: false })
  expect((await findings('profiles/film.media.yaml')).join('\n')).toContain('30 mm')
  expect(reads).toEqual([])
})
