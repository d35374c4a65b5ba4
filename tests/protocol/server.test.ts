// The language server as an editor meets it: over a real connection, from hello to shutdown.
import { afterEach, describe, expect, test } from 'vitest'
import {
  type ClientCapabilities,
  type CodeAction,
  type CompletionItem,
  type CompletionList,
  type InitializeResult,
  InsertTextMode,
  type PublishDiagnosticsParams,
  type TextEdit,
} from 'vscode-languageserver'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { LineIndex, type PositionEncoding } from '../../server/src/base/line-index.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { Client, FULL, has, type Start, shown } from './client.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 50 µm
max-web-temperature: 45 °C
#- bay-1.printer.yaml
printer: bay-1
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters:
  platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
`

const PROFILE = `profile: example
stock: film
printer: bay-1
mode: standard
gap: 2
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

async function start(fixture = SHOP, options: Start = {}): Promise<{ client: Client; answer: InitializeResult }> {
  const started = await Client.start(fixture, options)
  running = started.client
  return started
}

const at = (name: string) => ({ textDocument: { uri: ROOT + name } })

/** The text with a workspace edit's changes to one file, as an editor makes them. */
function applied(text: string, { edit }: CodeAction, name: string): string {
  const change = edit?.documentChanges?.[0] as { edits: TextEdit[] } | undefined
  return TextDocument.applyEdits(TextDocument.create(ROOT + name, 'rollbook', 1, text), change?.edits ?? [])
}

/** Where a word stands, in an encoding. */
function positionOf(text: string, word: string, encoding: PositionEncoding = 'utf-16') {
  const offset = text.indexOf(word)
  if (offset < 0) throw new Error(`no '${word}'`)
  return new LineIndex(text, encoding).position(offset)
}

test('a mistake is told, mended with its action, gone, and forgotten when the document is closed', async () => {
  const { client } = await start(SHOP, { initializationOptions: { explanationPage: 'pages/{topic}.md' } })
  await client.open('example.media.yaml', PROFILE, 7)
  const [finding] = (await client.diagnostics('example.media.yaml', has('missing-unit'))).filter((d) => d.code === 'missing-unit')
  expect(PROFILE.split('\n')[finding!.range.start.line]).toBe('gap: 2')
  expect(finding).toMatchObject({ source: 'rollbook', severity: 1, codeDescription: { href: 'pages/missing-unit.md' } })
  expect(client.published.at(-1)!.version).toBe(7)

  const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
    ...at('example.media.yaml'),
    range: finding!.range,
    context: { diagnostics: [finding] },
  })
  const fix = actions.find((a) => a.diagnostics?.[0]?.code === 'missing-unit')!
  expect(fix.kind).toBe('quickfix')
  const after = applied(PROFILE, fix, 'example.media.yaml')
  expect(after).toBe(PROFILE.replace('gap: 2\n', 'gap: 2 mm\n'))

  await client.change('example.media.yaml', 8, { text: after })
  await client.diagnostics('example.media.yaml', (p) => p.version === 8)
  expect(shown(client.published.at(-1)!.diagnostics).filter((d) => d.startsWith('missing-unit'))).toEqual([])

  await client.connection.sendNotification('textDocument/didClose', at('example.media.yaml'))
  expect(await client.diagnostics('example.media.yaml', (p) => p.version === undefined)).toEqual([])
})

describe.each(['utf-8', 'utf-16', 'utf-32'] as const)('a client that counts in %s', (encoding) => {
  test('edits behind an emoji and reads ranges back', async () => {
    const capabilities: ClientCapabilities = { ...FULL, general: { positionEncodings: [encoding] } }
    const { client, answer } = await start(SHOP, { capabilities })
    expect(answer.capabilities.positionEncoding).toBe(encoding)
    const text = PROFILE.replace('gap: 2\n', 'title: "🖨️ ½ µ" # 🖨️\ngap: 2 mm\n').replace('{date', '{lot: "🖨️", date')
    await client.open('example.media.yaml', text)
    const start_ = positionOf(text, '1996.0 mm', encoding)
    const end = { ...start_, character: start_.character + '1996.0 mm'.length }
    await client.change('example.media.yaml', 2, { range: { start: start_, end }, text: '1996.0' })
    const found = await client.diagnostics('example.media.yaml', has('missing-unit'))
    const next = text.replace('1996.0 mm', '1996.0')
    const from = positionOf(next, '1996.0,', encoding)
    expect(found.find((d) => d.code === 'missing-unit')!.range).toEqual({
      start: from,
      end: { ...from, character: from.character + '1996.0'.length },
    })
    const hover = await client.request<{ range: object }>('textDocument/hover', { ...at('example.media.yaml'), position: from })
    expect(hover.range).toEqual({ start: from, end: { ...from, character: from.character + '1996.0'.length } })
  })
})

test('edits in a row are each taken, and the last version is the one told of', async () => {
  const { client } = await start()
  await client.open('example.media.yaml', PROFILE)
  const { line, character } = positionOf(PROFILE, '2\nfeed')
  const insert = (version: number, text: string, by: number) =>
    client.change('example.media.yaml', version, {
      range: { start: { line, character: character + by }, end: { line, character: character + by } },
      text,
    })
  await insert(2, ' ', 1)
  await insert(3, 'm', 2)
  await insert(4, 'm', 3)
  const found = await client.diagnostics('example.media.yaml', (p) => p.version === 4)
  expect(shown(found).filter((d) => d.includes('unit'))).toEqual([])
})

test('edits that come together are told of once, and what is asked behind them is answered first', async () => {
  const { client } = await start()
  await client.open('example.media.yaml', PROFILE)
  await client.diagnostics('example.media.yaml')
  const uri = `${ROOT}example.media.yaml`
  const range = { start: positionOf(PROFILE, '2\nfeed'), end: positionOf(PROFILE, '2\nfeed') }
  const typed = (version: number) => ({
    method: 'textDocument/didChange',
    params: { textDocument: { uri, version }, contentChanges: [{ range, text: ' ' }] },
  })
  const asked = { id: 'asked', method: 'textDocument/hover', params: { textDocument: { uri }, position: range.start } }
  client.heard = ''
  client.together(typed(2), typed(3), typed(4), asked)
  await client.diagnostics('example.media.yaml', (p) => p.version === 4)
  expect(client.published.map((p) => p.version)).not.toContain(2)
  expect(client.published.map((p) => p.version)).not.toContain(3)
  const answer = client.heard.indexOf('"id":"asked"')
  expect(answer).toBeGreaterThanOrEqual(0)
  expect(answer).toBeLessThan(client.heard.indexOf('"version":4'))
})

test('a request that is cancelled while its documents are read is answered as cancelled', async () => {
  let release = (): void => undefined
  const held = new Promise<void>((done) => {
    release = done
  })
  class SlowHost extends MemoryHost {
    override async read(file: string): Promise<string> {
      if (file.endsWith('.stock.yaml')) await held
      return super.read(file)
    }
  }
  const { client } = await start(SHOP, { host: new SlowHost(parseFixture(SHOP).files), folders: undefined })
  await client.open('example.media.yaml', PROFILE)
  const { CancellationTokenSource } = await import('vscode-languageserver/node')
  const source = new CancellationTokenSource()
  const params = { ...at('example.media.yaml'), position: { line: 1, character: 8 } }
  const answer = client.connection.sendRequest('textDocument/hover', params, source.token).then(
    () => 'answered',
    (error: { code: number }) => error.code,
  )
  source.cancel()
  // The next message is answered after the cancellation was read.
  await client.request('rollbook/explain', { topic: 'feed.correction' })
  release()
  expect(await answer).toBe(-32800)
})

test('files that are none of ours, or were never opened, are answered with nothing', async () => {
  const { client } = await start()
  const position = { line: 0, character: 0 }
  for (const uri of ['file:///shop/other.yaml', 'file:///shop/never.media.yaml', 'untitled:Untitled-1', 'not a uri']) {
    const textDocument = { uri }
    expect(await client.request('textDocument/hover', { textDocument, position })).toBeNull()
    expect(await client.request('textDocument/documentSymbol', { textDocument })).toBeNull()
  }
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: 'file:///shop/never.media.yaml', version: 2 },
    contentChanges: [{ text: 'profile: x' }],
  })
  await client.open('example.media.yaml', PROFILE)
  expect(shown(await client.diagnostics('example.media.yaml', has('missing-unit')))).toContain('missing-unit 4:5')
})

const HOT = PROFILE.replace('gap: 2\n', 'gap: 2 mm\nheat: {platen: 42 °C}\n')

describe('the documents a profile rests on', () => {
  const told = async (client: Client, wanted: (p: PublishDiagnosticsParams) => boolean) =>
    shown(await client.diagnostics('example.media.yaml', wanted))

  test('made, changed and deleted on disk, they change what is told of it', async () => {
    const { client } = await start(SHOP.replace(/#- film[^#]*/, ''))
    await client.open('example.media.yaml', HOT)
    const before = await client.diagnostics('example.media.yaml', (p) =>
      p.diagnostics.some((d) => /film/.test(String(d.message))),
    )
    expect(before.filter((d) => /'film'/.test(String(d.message))).map((d) => d.range.start.line)).toEqual([1])
    client.host.files.set(`${ROOT}film.stock.yaml`, 'stock: film\nfamily: film-pvc-cast\nthickness: 50 µm\n')
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${ROOT}film.stock.yaml`, type: 1 }],
    })
    await client.diagnostics('example.media.yaml', (p) => !p.diagnostics.some((d) => d.range.start.line === 1))
    client.host.files.delete(`${ROOT}film.stock.yaml`)
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${ROOT}film.stock.yaml`, type: 3 }],
    })
    expect((await told(client, (p) => p.diagnostics.some((d) => d.range.start.line === 1))).length).toBeGreaterThan(0)
  })

  test('edited in the editor, unsaved, they do so at once', async () => {
    const { client } = await start()
    await client.open('example.media.yaml', HOT)
    await client.diagnostics('example.media.yaml')
    const hover = () =>
      client.request<{ contents: { value: string } }>('textDocument/hover', {
        ...at('example.media.yaml'),
        position: positionOf(HOT, 'film'),
      })
    expect((await hover()).contents.value).toContain('50 µm')
    const stock = client.host.files.get(`${ROOT}film.stock.yaml`)!
    await client.open('film.stock.yaml', stock)
    await client.change('film.stock.yaml', 2, { text: stock.replace('50 µm', '80 µm').replace('45 °C', '30 °C') })
    expect((await hover()).contents.value).toContain('80 µm')
    await client.diagnostics('example.media.yaml', ({ diagnostics }) =>
      diagnostics.some((d) => String(d.message).includes('30 °C')),
    )
    // Closed without saving, what is on disk counts again.
    await client.connection.sendNotification('textDocument/didClose', at('film.stock.yaml'))
    await client.diagnostics('film.stock.yaml', (p) => p.diagnostics.length === 0 && p.version === undefined)
    expect((await hover()).contents.value).toContain('50 µm')
  })

  test('changed on disk with the same ids, they are read anew, and what follows from them is told', async () => {
    const { client } = await start()
    await client.open('example.media.yaml', HOT)
    const hot = ({ diagnostics }: PublishDiagnosticsParams): boolean => diagnostics.some((d) => /30 °C/.test(String(d.message)))
    await client.request('textDocument/hover', { ...at('example.media.yaml'), position: positionOf(HOT, 'film') })
    expect(await client.diagnostics('example.media.yaml', (p) => !hot(p))).toBeDefined()
    const stock = client.host.files.get(`${ROOT}film.stock.yaml`)!
    client.host.files.set(`${ROOT}film.stock.yaml`, stock.replace('max-web-temperature: 45 °C', 'max-web-temperature: 30 °C'))
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${ROOT}film.stock.yaml`, type: 2 }],
    })
    const told = (await client.diagnostics('example.media.yaml', hot)).filter((d) => /30 °C/.test(String(d.message)))
    expect(told.map((d) => d.range.start.line)).toContain(5)
  })
})

test('references are given line by line in the order of the files, whichever of these are open', async () => {
  const other = (name: string, line: string): string => `#- ${name}.media.yaml\nprofile: ${name}\n# 🖨️\ntitle: A title\n${line}`
  const { client } = await start(
    `${SHOP}${other('zinc', 'printer: bay-1\nstock: film\n')}${other('amber', '\nstock: film\n')}${other('base', 'stock: other\n')}`,
  )
  await client.open('film.stock.yaml', client.host.files.get(`${ROOT}film.stock.yaml`)!)
  const ask = () =>
    client.request<{ uri: string; range: { start: object } }[]>('textDocument/references', {
      ...at('film.stock.yaml'),
      position: { line: 0, character: 9 },
      context: { includeDeclaration: false },
    })
  const expected = [
    { uri: `${ROOT}amber.media.yaml`, range: { start: { line: 4, character: 7 }, end: { line: 4, character: 11 } } },
    { uri: `${ROOT}zinc.media.yaml`, range: { start: { line: 4, character: 7 }, end: { line: 4, character: 11 } } },
  ]
  await client.diagnostics('film.stock.yaml')
  while ((await ask()).length < 2);
  expect(await ask()).toEqual(expected)
  await client.open('zinc.media.yaml', client.host.files.get(`${ROOT}zinc.media.yaml`)!)
  expect(await ask()).toEqual(expected)
  await client.connection.sendNotification('textDocument/didClose', at('zinc.media.yaml'))
  expect(await ask()).toEqual(expected)
})

describe('settings', () => {
  const hints = (client: Client) =>
    client.request<unknown[] | null>('textDocument/inlayHint', {
      ...at('example.media.yaml'),
      range: { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } },
    })

  test.each([
    ['nothing', null],
    ['a text', 'yes'],
    ['a list', [1]],
    ['a number where a group is due', { hints: 3 }],
    ['a text where true or false is due', { hints: { checks: 'no' } }],
  ])('%s in their place leaves the defaults', async (_, settings) => {
    const { client } = await start(SHOP, { settings, initializationOptions: settings })
    await client.open('example.media.yaml', PROFILE)
    expect(await hints(client)).toHaveLength(2)
  })

  test('turn hints off, and on again, for clients that are asked and for those that send', async () => {
    const { client } = await start(SHOP, { settings: { hints: { checks: false } } })
    await client.open('example.media.yaml', PROFILE)
    await client.diagnostics('example.media.yaml')
    expect(await hints(client)).toEqual([])
    client.settings = { hints: { checks: true } }
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null })
    await client.request('rollbook/explain', {})
    expect(await hints(client)).toHaveLength(2)
    await client.stop()

    const sending = await start(SHOP, { capabilities: { ...FULL, workspace: {} } })
    await sending.client.open('example.media.yaml', PROFILE)
    await sending.client.connection.sendNotification('workspace/didChangeConfiguration', {
      settings: { rollbook: { hints: { checks: false } } },
    })
    expect(await hints(sending.client)).toEqual([])
    expect(sending.client.asked).toEqual([])
  })
})

test('every capability that is declared has a handler that answers', async () => {
  const { client, answer } = await start()
  await client.open('example.media.yaml', PROFILE)
  const document = at('example.media.yaml')
  const position = { line: 1, character: 8 }
  const range = { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } }
  const ask: Readonly<Record<string, () => Promise<unknown>>> = {
    hoverProvider: () => client.request('textDocument/hover', { ...document, position }),
    completionProvider: () => client.request('textDocument/completion', { ...document, position }),
    codeActionProvider: () => client.request('textDocument/codeAction', { ...document, range, context: { diagnostics: [] } }),
    documentSymbolProvider: () => client.request('textDocument/documentSymbol', document),
    definitionProvider: () => client.request('textDocument/definition', { ...document, position }),
    referencesProvider: () =>
      client.request('textDocument/references', { ...document, position, context: { includeDeclaration: false } }),
    typeHierarchyProvider: () => client.request('textDocument/prepareTypeHierarchy', { ...document, position }),
    documentHighlightProvider: () => client.request('textDocument/documentHighlight', { ...document, position }),
    selectionRangeProvider: () => client.request('textDocument/selectionRange', { ...document, positions: [position] }),
    foldingRangeProvider: () => client.request('textDocument/foldingRange', document),
    documentLinkProvider: () => client.request('textDocument/documentLink', document),
    renameProvider: () => client.request('textDocument/rename', { ...document, position, newName: 'foil' }),
    workspaceSymbolProvider: () => client.request('workspace/symbol', { query: 'bay' }),
    documentFormattingProvider: () => client.request('textDocument/formatting', { ...document, options: {} }),
    documentRangeFormattingProvider: () => client.request('textDocument/rangeFormatting', { ...document, range, options: {} }),
    semanticTokensProvider: () => client.request('textDocument/semanticTokens/full', document),
    codeLensProvider: () => client.request('textDocument/codeLens', document),
    inlayHintProvider: () => client.request('textDocument/inlayHint', { ...document, range }),
  }
  const { capabilities } = answer
  const declared = Object.keys(capabilities).filter((key) => key.endsWith('Provider'))
  expect(declared.sort()).toEqual(Object.keys(ask).sort())
  for (const key of declared) expect(await ask[key]!(), key).not.toBeNull()
  expect(capabilities.completionProvider).toEqual({ triggerCharacters: [' ', '%'] })
  expect(capabilities.textDocumentSync).toEqual({ openClose: true, change: 2, save: false })
  expect(answer.serverInfo).toEqual({ name: 'rollbook', version: '1.2.3' })
})

test('a list is to be asked for again at every key, so that none stays open over what is typed', async () => {
  const { client } = await start()
  const ask = (character: number): Promise<CompletionList> =>
    client.request('textDocument/completion', { ...at('example.media.yaml'), position: { line: 2, character } })
  const text = `profile: example\nstock: film\nprinter: `
  await client.open('example.media.yaml', text)
  expect(await ask(9)).toMatchObject({ isIncomplete: true, items: [{ label: 'bay-1' }] })
  await client.change('example.media.yaml', 2, { text: `${text}bay-1` })
  expect(await ask(14)).toEqual({ isIncomplete: true, items: [] })
})

describe('a section is opened by its key', () => {
  const text = 'profile: example\nheat:\n  rea'
  const accept = async (completionItem: object): Promise<CompletionItem> => {
    const capabilities = { ...FULL, textDocument: { ...FULL.textDocument, completion: { completionItem } } }
    const { client } = await start(SHOP, { capabilities })
    await client.open('example.media.yaml', text)
    const ask = { ...at('example.media.yaml'), position: { line: 2, character: 5 } }
    const { items } = await client.request<CompletionList>('textDocument/completion', ask)
    return items.find(({ label }) => label === 'readings')!
  }

  test('with the line below where the client inserts lines as they are', async () => {
    const item = await accept({ insertTextModeSupport: { valueSet: [InsertTextMode.asIs, InsertTextMode.adjustIndentation] } })
    expect(item).toMatchObject({ insertTextMode: InsertTextMode.asIs, textEdit: { newText: 'readings:\n    - ' } })
  })

  test('alone where the client may indent that line once more', async () => {
    const item = await accept({})
    expect(item).toMatchObject({ textEdit: { newText: 'readings:' } })
    expect(item).not.toHaveProperty('insertTextMode')
  })
})

describe('a client that can do little', () => {
  const bare: Start = { capabilities: {}, folders: undefined }

  test('gets plain text, flat symbols, whole edits and nothing it did not declare', async () => {
    const { client } = await start(SHOP, bare)
    await client.open('example.media.yaml', PROFILE)
    const found = await client.diagnostics('example.media.yaml', has('missing-unit'))
    for (const diagnostic of found)
      expect(Object.keys(diagnostic).sort()).toEqual(['code', 'message', 'range', 'severity', 'source'])
    const position = positionOf(PROFILE, 'correction')
    const hover = await client.request<{ contents: { kind: string; value: string } }>('textDocument/hover', {
      ...at('example.media.yaml'),
      position,
    })
    expect(hover.contents.kind).toBe('plaintext')
    expect(hover.contents.value).not.toMatch(/\*\*|`|\\[-*_]|^#/m)
    const symbols = await client.request<{ name: string; containerName?: string; location: object }[]>(
      'textDocument/documentSymbol',
      at('example.media.yaml'),
    )
    expect(symbols.map((s) => [s.containerName, s.name].filter(Boolean).join(' > '))).toContain('feed > correction')
    const { items } = await client.request<CompletionList>('textDocument/completion', {
      ...at('example.media.yaml'),
      position: { line: 9, character: 0 },
    })
    expect(new Set(items.map((i) => i.insertTextFormat))).toEqual(new Set([1]))
    expect(items.map((i) => i.textEdit?.newText ?? '').filter((t) => t.includes('$'))).toEqual([])
    const all = { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } }
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      ...at('example.media.yaml'),
      range: all,
      context: { diagnostics: found },
    })
    expect(actions.length).toBeGreaterThan(0)
    for (const action of actions) {
      expect(action.edit?.changes, action.title).toBeDefined()
      expect(action.edit?.documentChanges).toBeUndefined()
      expect(action.disabled).toBeUndefined()
    }
    expect(client.asked).toEqual([])
  })

  test('finds the shop of a single file by looking upwards', async () => {
    const files = `${SHOP.replaceAll('#- ', '#- works/').replace('works/film', 'works/stocks/film')}#- works/profiles/deep/x.media.yaml\n${PROFILE}`
    const { client } = await start(files, bare)
    await client.open('works/profiles/deep/example.media.yaml', PROFILE)
    const params = { ...at('works/profiles/deep/example.media.yaml'), position: positionOf(PROFILE, 'film') }
    const hover = await client.request<{ contents: { value: string } }>('textDocument/hover', params)
    expect(hover.contents.value).toContain('50 µm')
  })

  test('takes what stands beside a single file for its shop where there is none above, and looks no deeper', async () => {
    const files =
      '#- film.stock.yaml\nstock: film\nthickness: 50 µm\n#- deeper/other.stock.yaml\nstock: other\nthickness: 60 µm\n'
    const { client } = await start(files, bare)
    const listed: (number | undefined)[] = []
    const list = client.host.list.bind(client.host)
    client.host.list = (folder, depth) => {
      listed.push(depth)
      return list(folder, depth)
    }
    const text = 'profile: example\nstock: \n'
    await client.open('example.media.yaml', text)
    await client.diagnostics('example.media.yaml')
    const { items } = await client.request<CompletionList>('textDocument/completion', {
      ...at('example.media.yaml'),
      position: { line: 1, character: 7 },
    })
    expect(items.map((i) => i.label)).toEqual(['film'])
    expect(listed).toEqual([0])
  })
})

test('URIs that the client spells its own way come back as it spells them', async () => {
  const { client } = await start()
  const uri = 'file:///shop/two words%21.media.yaml'
  await client.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'rollbook', version: 1, text: PROFILE },
  })
  await client.request('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 0 } })
  while (client.published.length === 0) await client.request('rollbook/explain', {})
  expect(client.published.map((p) => p.uri)).toContain(uri)
  const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
    context: { diagnostics: [] },
  })
  for (const { edit } of actions)
    expect((edit?.documentChanges?.[0] as { textDocument: { uri: string } } | undefined)?.textDocument.uri ?? uri).toBe(uri)
})

test('a profile is started: first what there is to choose, then its text and where it belongs', async () => {
  const { client } = await start(`${SHOP}#- s.stock.yaml
stock: s
title: Film
family: film-pet
thickness: 100 µm
#- printers/p.printer.yaml
printer: p
modes: {m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}}
carriage: {gaps: [1.5 mm]}
`)
  const uri = 'file:///shop/rollbook.yaml'
  expect(await client.request('rollbook/start', { uri })).toMatchObject({
    stocks: expect.arrayContaining([{ id: 's', title: 'Film' }]),
    printers: expect.arrayContaining([{ id: 'p', modes: ['m'] }]),
  })
  expect(await client.request('rollbook/start', { uri, stock: 's', printer: 'p' })).toMatchObject({
    id: 's-p',
    mode: 'm',
    uri: expect.stringMatching(/^file:\/\/\/shop\/(?:.*\/)?s-p\.media\.yaml$/),
    text: expect.stringMatching(/^profile: s-p$[\s\S]*^gap: 1\.5 mm$/m),
  })
  expect(await client.request('rollbook/start', { uri, stock: 's', printer: 'p', mode: 'n' })).toEqual({
    refused: "p has no mode 'n'. It has m.",
  })
})

test('a new document: what is asked, what is wrong with an answer, and in the end its text or what is added', async () => {
  const { client } = await start(SHOP)
  const uri = 'file:///shop/rollbook.yaml'
  const ask = <T>(params: object): Promise<T> => client.request<T>('rollbook/new', { uri, kind: 'stock', answers: {}, ...params })
  const { questions } = await ask<{ questions: { key: string; must: boolean }[] }>({})
  expect(questions.filter(({ must }) => must).map(({ key }) => key)).toEqual(['stock', 'family', 'thickness'])
  expect(await ask({ answers: { thickness: '0,4 mm' } })).toMatchObject({
    faults: [{ key: 'thickness', reason: expect.stringContaining("write a decimal point, '0.4 mm'") }],
  })
  const answers = { stock: 'x-1', family: 'canvas', thickness: '0.4 mm', widths: ['1 m', '1.5 m'], strange: 3 }
  expect(await ask({ answers, make: 'document' })).toMatchObject({
    uri: expect.stringMatching(/x-1\.stock\.yaml$/),
    text: 'stock: x-1\nfamily: canvas\nthickness: 0.4 mm\nwidths: [1 m, 1.5 m]\n',
  })
  expect(await ask({ answers: { stock: 'x-1' }, make: 'document' })).toMatchObject({
    ok: false,
    faults: [{ key: 'family' }, { key: 'thickness' }],
  })
  expect(await ask({ kind: 'instrument', answers: { instrument: 'loupe-7', kind: 'loupe' }, make: 'document' })).toMatchObject({
    uri,
    edits: [{ newText: expect.stringMatching(/loupe-7:\s+kind: loupe/) }],
  })
  expect(await ask({ kind: 'shop' })).toMatchObject({ refused: expect.stringMatching(/There is a shop already/), questions: [] })
  const { client: bare } = await start('')
  expect(
    await bare.request('rollbook/new', { uri, kind: 'shop', answers: { shop: 'Alder Lane Signs' }, make: 'document' }),
  ).toMatchObject({
    uri,
    text: 'shop: Alder Lane Signs\n',
  })
  expect(await ask({ kind: 'wall' })).toMatchObject({ refused: "Nothing new is made of the kind 'wall'." })
})

describe('explanations for a client', () => {
  const ask = async <T>(client: Client, params: object): Promise<T> => client.request<T>('rollbook/explain', params)

  test('a finding is linked to its page only where the client says where its pages are', async () => {
    const { client } = await start()
    await client.open('example.media.yaml', PROFILE)
    const findings = await client.diagnostics('example.media.yaml', has('missing-unit'))
    expect(findings.filter((finding) => finding.codeDescription !== undefined)).toEqual([])
  })

  test('names of settings in a page are links to their pages where the client has pages, and nothing else is', async () => {
    const linked = await start(SHOP, { initializationOptions: { explanationPage: 'pages/{topic}.md' } })
    const { markdown } = await ask<{ markdown: string }>(linked.client, { topic: 'bands-light' })
    expect(markdown).toContain('[`feed.correction`](feed.correction.md)')
    expect(markdown).not.toMatch(/\[`mm`\]/)
    const plain = await start()
    expect((await ask<{ markdown: string }>(plain.client, { topic: 'bands-light' })).markdown).toContain('`feed.correction`')
    expect((await ask<{ markdown: string }>(plain.client, { topic: 'bands-light' })).markdown).not.toContain('](')
  })

  test('what the cursor stands on comes first: the finding, the word, the setting', async () => {
    const { client } = await start()
    const text = `${PROFILE}observed:\n  - { date: 2026-11-20, fault: cockle, note: waves }\n`
    await client.open('example.media.yaml', text)
    const here = async (word: string): Promise<readonly string[]> => {
      const position = positionOf(text, word)
      return (
        await ask<{ here: string[] }>(client, {
          ...at('example.media.yaml'),
          uri: at('example.media.yaml').textDocument.uri,
          position,
        })
      ).here
    }
    expect(await here('2\n')).toEqual(['missing-unit', 'media:gap'])
    expect(await here('cockle')).toEqual(expect.arrayContaining(['cockle', 'media:observed.*.fault']))
    expect((await ask<{ here: string[] }>(client, {})).here).toEqual([])
  })
})

describe('a document without a file', () => {
  const UNTITLED = 'untitled:Untitled-1'
  const type = (client: Client, version: number, text: string): Promise<void> =>
    client.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri: UNTITLED, version },
      contentChanges: [{ text }],
    })
  const begin = async (client: Client, text: string, languageId = 'rollbook'): Promise<void> =>
    client.connection.sendNotification('textDocument/didOpen', { textDocument: { uri: UNTITLED, languageId, version: 1, text } })
  const hoverAt = (client: Client, text: string, word: string): Promise<{ contents: { value: string } } | null> =>
    client.request('textDocument/hover', { textDocument: { uri: UNTITLED }, position: positionOf(text, word) })
  const labels = async (client: Client, line: number): Promise<string[]> => {
    const params = { textDocument: { uri: UNTITLED }, position: { line, character: 0 } }
    return (
      await client
        .request<{ label: string }[] | { items: { label: string }[] }>('textDocument/completion', params)
        .then((answer) => (Array.isArray(answer) ? answer : answer.items))
    ).map(({ label }) => label)
  }

  test('is checked by its keys, with the stock and the printer of the open shop, and never by a file name', async () => {
    const { client } = await start()
    await begin(client, PROFILE)
    const told = () =>
      client.published
        .filter(({ uri }) => uri === UNTITLED)
        .at(-1)
        ?.diagnostics.map(({ code }) => code)
    await expect.poll(told).toContain('missing-unit')
    expect(told()).not.toContain('id-unlike-file')
    expect(told()).not.toContain('missing-stock')
    expect((await hoverAt(client, PROFILE, 'gap'))?.contents.value).toContain('gap')
  })

  test('becomes another kind when its keys do, and nothing of the first is left', async () => {
    const { client } = await start()
    await begin(client, '')
    expect(await labels(client, 0)).toContain('gap')
    await type(client, 2, 'stock: paper\n')
    expect(await labels(client, 1)).toEqual(expect.arrayContaining(['grammage', 'family']))
    expect(await labels(client, 1)).not.toContain('gap')
    await type(client, 3, 'printer: bay-9\n')
    expect(await labels(client, 1)).toEqual(expect.arrayContaining(['heads', 'modes']))
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: UNTITLED } })
    await expect.poll(() => client.published.filter(({ uri }) => uri === UNTITLED).at(-1)?.diagnostics).toEqual([])
  })

  test('of another language is none of ours', async () => {
    const { client } = await start()
    await begin(client, PROFILE, 'yaml')
    expect(await hoverAt(client, PROFILE, 'gap')).toBeNull()
  })
})
