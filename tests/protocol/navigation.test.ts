// Navigation and renaming over the protocol: what is sent for open and for closed documents, and to clients that can do less.
import { afterEach, expect, test } from 'vitest'
import type {
  ClientCapabilities,
  CodeAction,
  Location,
  TextDocumentEdit,
  TypeHierarchyItem,
  WorkspaceEdit,
} from 'vscode-languageserver'
import { ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'
import { Client, FULL } from './client.ts'

const STOCK = '# film, as delivered\nstock: film\n'
const PROFILE = 'profile: example\nstock: film\n'
const SHOP = `#- film.stock.yaml\n${STOCK}#- example.media.yaml\n${PROFILE}#- closed.media.yaml\n# µ\nprofile: closed\nstock: "film"\n`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

async function start(capabilities: ClientCapabilities): Promise<Client> {
  running = (await Client.start(SHOP, { capabilities })).client
  await running.open('example.media.yaml', PROFILE, 4)
  return running
}

const WITH_FILES: ClientCapabilities = {
  ...FULL,
  workspace: { ...FULL.workspace, workspaceEdit: { documentChanges: true, resourceOperations: ['rename', 'create'] } },
  textDocument: { ...FULL.textDocument, rename: { prepareSupport: true } },
}

const here = { textDocument: { uri: `${ROOT}example.media.yaml` }, position: { line: 1, character: 8 } }
const range = (line: number, start: number, end: number) => ({
  start: { line, character: start },
  end: { line, character: end },
})

test('every document is edited, the open one at its version, and then the file is renamed', async () => {
  const client = await start(WITH_FILES)
  expect(await client.request('textDocument/prepareRename', here)).toEqual({ range: range(1, 7, 11), placeholder: 'film' })
  const edit = await client.request<WorkspaceEdit>('textDocument/rename', { ...here, newName: 'foil' })
  expect(edit).toEqual({
    documentChanges: [
      {
        textDocument: { uri: `${ROOT}film.stock.yaml`, version: null },
        edits: [{ range: range(1, 7, 11), newText: 'foil' }],
      },
      {
        textDocument: { uri: `${ROOT}closed.media.yaml`, version: null },
        edits: [{ range: range(2, 7, 13), newText: '"foil"' }],
      },
      {
        textDocument: { uri: `${ROOT}example.media.yaml`, version: 4 },
        edits: [{ range: range(1, 7, 11), newText: 'foil' }],
      },
      { kind: 'rename', oldUri: `${ROOT}film.stock.yaml`, newUri: `${ROOT}foil.stock.yaml` },
    ],
  })
})

test('a client that renames no files, or knows no versions, is sent the edits alone', async () => {
  const client = await start(FULL)
  const { documentChanges } = await client.request<WorkspaceEdit>('textDocument/rename', { ...here, newName: 'foil' })
  expect(documentChanges!.map((change) => 'kind' in change)).toEqual([false, false, false])
  await client.stop()
  const bare = await start({})
  const { changes } = await bare.request<WorkspaceEdit>('textDocument/rename', { ...here, newName: 'foil' })
  expect(Object.keys(changes!).sort()).toEqual(
    ['closed', 'example'].map((n) => `${ROOT}${n}.media.yaml`).concat(`${ROOT}film.stock.yaml`),
  )
})

test('a refusal is an error with its reason', async () => {
  const client = await start(WITH_FILES)
  const why = (method: string, params: object): Promise<unknown> =>
    client.request(method, params).then(
      () => 'answered',
      ({ code, message }: { code: number; message: string }) => ({ code, message }),
    )
  expect(await why('textDocument/rename', { ...here, newName: 'No Id' })).toEqual({
    code: -32803,
    message: "'No Id' is no name for a stock: lower-case words joined by hyphens are.",
  })
  const onKey = { ...here, position: { line: 1, character: 1 } }
  expect(await client.request('textDocument/prepareRename', onKey)).toBeNull()
  expect(await why('textDocument/rename', { ...onKey, newName: 'foil' })).toMatchObject({ code: -32803 })
})

test('references stand where they are, in documents that were never opened too', async () => {
  const client = await start(FULL)
  const ask = (includeDeclaration: boolean): Promise<Location[]> =>
    client.request('textDocument/references', { ...here, context: { includeDeclaration } })
  const calls = [
    { uri: `${ROOT}closed.media.yaml`, range: range(2, 7, 13) },
    { uri: `${ROOT}example.media.yaml`, range: range(1, 7, 11) },
  ]
  expect(await ask(false)).toEqual(calls)
  expect(await ask(true)).toEqual([{ uri: `${ROOT}film.stock.yaml`, range: range(1, 7, 11) }, ...calls])
})

test('documents of the shop are found by a few letters, with the place of their id', async () => {
  const client = await start(FULL)
  expect(await client.request('workspace/symbol', { query: 'clsd' })).toEqual([
    {
      name: 'closed',
      kind: 19,
      containerName: 'profile',
      location: { uri: `${ROOT}closed.media.yaml`, range: range(1, 9, 15) },
    },
  ])
  expect(await client.request('workspace/symbol', { query: '' })).toHaveLength(3)
})

test('profiles that build on one another, upwards and downwards, from their own names and from the base that they name', async () => {
  const names = (items: readonly TypeHierarchyItem[] | null): string =>
    items?.map(({ name, detail, range: { start } }) => `${name}${detail ? ` (${detail})` : ''}:${start.line}`).join(' ') ?? 'null'
  const heir = 'profile: heir\nbase: plain\n'
  const { client } = await Client.start(
    `#- plain.media.yaml\n# µ\nprofile: plain\ntitle: Everyday\nstock: film\n#- heir.media.yaml\n${heir}#- late.media.yaml\nprofile: late\nbase: heir\n`,
  )
  running = client
  await client.open('heir.media.yaml', heir)
  const prepare = (line: number): Promise<TypeHierarchyItem[]> =>
    client.request('textDocument/prepareTypeHierarchy', {
      textDocument: { uri: `${ROOT}heir.media.yaml` },
      position: { line, character: 9 },
    })
  const [own] = await prepare(0)
  const [base] = await prepare(1)
  expect([own, base].map((item) => names([item!]))).toEqual(['heir:0', 'plain (Everyday):1'])
  const ask = async (way: string, item: TypeHierarchyItem): Promise<string> =>
    names(await client.request(`typeHierarchy/${way}`, { item }))
  expect(await ask('supertypes', own!)).toBe('plain (Everyday):1')
  expect(await ask('subtypes', own!)).toBe('late:0')
  expect(await ask('supertypes', base!)).toBe('')
  expect(await ask('subtypes', base!)).toBe('heir:0')
  expect(await ask('subtypes', { ...base!, uri: 'file:///elsewhere/x.media.yaml' })).toBe('')
})

test('a base of what profiles share is shown before it is made, and not offered to who makes no files', async () => {
  const same = 'stock: film\nprinter: bay-1\nmode: standard\ngap: 2 mm\nsuction: 3\n'
  const shop = `#- a.media.yaml\nprofile: a\n${same}#- b.media.yaml\nprofile: b\n${same}`
  const able: ClientCapabilities = {
    ...FULL,
    workspace: {
      ...FULL.workspace,
      workspaceEdit: { documentChanges: true, resourceOperations: ['create'], changeAnnotationSupport: {} },
    },
  }
  const offers = async (capabilities: ClientCapabilities, only?: string[]): Promise<readonly CodeAction[]> => {
    running = (await Client.start(shop, { capabilities })).client
    await running.open('a.media.yaml', `profile: a\n${same}`, 4)
    const params = { textDocument: { uri: `${ROOT}a.media.yaml` }, range: range(0, 9, 9), context: { diagnostics: [], only } }
    const found = await running.request<CodeAction[]>('textDocument/codeAction', params)
    await running.stop()
    return found.filter(({ kind }) => kind === 'refactor.extract')
  }
  const [action, ...more] = await offers(able)
  expect(more).toEqual([])
  const { title, edit } = action!
  const note = { annotationId: title }
  const [make, text, own, other] = edit!.documentChanges as [unknown, TextDocumentEdit, TextDocumentEdit, TextDocumentEdit]
  expect(edit!.changeAnnotations).toEqual({ [title]: { label: title, needsConfirmation: true } })
  expect(make).toEqual({ kind: 'create', uri: `${ROOT}film-bay-1-base.media.yaml`, ...note })
  expect(text).toMatchObject({ textDocument: { version: null }, edits: [note] })
  const versions = [own, other].map(({ textDocument: { uri, version } }) => `${uri.slice(ROOT.length)} ${version}`).sort()
  expect(versions).toEqual(['a.media.yaml 4', 'b.media.yaml null'])
  for (const { edits } of [own, other]) for (const one of edits) expect(one).toMatchObject(note)
  expect(await offers(able, ['quickfix'])).toEqual([])
  expect(await offers(FULL)).toEqual([])
})

test('asked anywhere, of any beginning of a document and of damaged ones, each request is answered and nothing fails inside', async () => {
  const { client } = await Client.start(SHOP, { capabilities: WITH_FILES })
  running = client
  const sound = samples().find(({ name }) => name.endsWith('banner-510-bay-1.media.yaml'))!.text
  const texts = [
    ...Array.from({ length: 24 }, (_, i) => sound.slice(0, Math.floor((sound.length * (i + 0.37)) / 24))),
    ...['', '\ufeff', '{', 'stock: [', '- *a', '<<<<<<< a\n', 'stock: "fi\n  lm"\n', 'profile: example\r\nstock: film\rgap: 2'],
  ]
  const at = here.textDocument
  const places = [-1, 0, 3, 7, 99_999].flatMap((line) => [-1, 0, 9, 99_999].map((character) => ({ line, character })))
  let version = 1
  await client.open('example.media.yaml', '')
  for (const text of texts) {
    await client.change('example.media.yaml', ++version, { text })
    for (const position of places) {
      const range = { start: position, end: { line: 4, character: 2 } }
      const asked = [
        client.request('textDocument/documentHighlight', { textDocument: at, position }),
        client.request('textDocument/selectionRange', { textDocument: at, positions: [position] }),
        client.request('textDocument/references', { textDocument: at, position, context: { includeDeclaration: true } }),
        client.request('textDocument/definition', { textDocument: at, position }),
        client.request('textDocument/prepareTypeHierarchy', { textDocument: at, position }),
        client.request('textDocument/rangeFormatting', { textDocument: at, range, options: {} }),
        client.request('textDocument/semanticTokens/range', { textDocument: at, range }),
        // These may be refused, with the reason.
        client.request('textDocument/prepareRename', { textDocument: at, position }).catch(refusedOnly),
        client.request('textDocument/rename', { textDocument: at, position, newName: 'other' }).catch(refusedOnly),
      ]
      await Promise.all(asked)
    }
    const whole = ['foldingRange', 'documentLink', 'formatting', 'semanticTokens/full', 'codeLens', 'codeAction']
    const range = { start: { line: 0, character: 9 }, end: { line: 0, character: 9 } }
    const asked = { textDocument: at, options: {}, range, context: { diagnostics: [] } }
    await Promise.all(whole.map((method) => client.request(`textDocument/${method}`, asked)))
  }
  expect(client.host.logged.filter((line) => line.startsWith('error'))).toEqual([])
})

function refusedOnly({ code, message }: { code: number; message: string }): void {
  expect({ code, words: message.length > 10 }).toEqual({ code: -32803, words: true })
}
