// Editors that know JSON Schema alone: the published schemas under a YAML language server, by the file-match list beside them. Samples are clean, mistakes are told.
import { type ChildProcess, spawn } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver/node'
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node'
import { DOCUMENT_KINDS, kindOfFile } from '../../server/src/schema/schema.ts'
import { schemaFile } from '../../server/tools/schema/load.ts'
import { some } from '../support/counts.ts'

interface Catalog {
  readonly schemas: readonly { readonly fileMatch: readonly string[]; readonly url: string }[]
}

const SERVER = createRequire(import.meta.url).resolve('yaml-language-server/bin/yaml-language-server')
const CATALOG = new URL('../../schemas/catalog.json', import.meta.url)
const SAMPLES = join(import.meta.dirname, '..', '..', 'samples')
const { schemas }: Catalog = JSON.parse(readFileSync(CATALOG, 'utf8'))

let server: ChildProcess
let connection: MessageConnection
const waiting = new Map<string, (found: readonly Diagnostic[]) => void>()

beforeAll(async () => {
  server = spawn(process.execPath, [SERVER, '--stdio'], { stdio: ['pipe', 'pipe', 'ignore'] })
  connection = createMessageConnection(new StreamMessageReader(server.stdout!), new StreamMessageWriter(server.stdin!))
  const byFile = Object.fromEntries(schemas.map(({ url, fileMatch }) => [new URL(url, CATALOG).href, fileMatch]))
  const settings = { validate: true, schemas: byFile, schemaStore: { enable: false } }
  const configured = new Promise<void>((done) => {
    connection.onRequest('workspace/configuration', ({ items }: { items: readonly { section?: string }[] }) => {
      done()
      return items.map(({ section }) => (section === 'yaml' ? settings : null))
    })
  })
  connection.onRequest('client/registerCapability', () => null)
  connection.onNotification('textDocument/publishDiagnostics', ({ uri, diagnostics }: PublishDiagnosticsParams) =>
    waiting.get(uri)?.(diagnostics),
  )
  connection.listen()
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: { workspace: { configuration: true } },
  })
  await connection.sendNotification('initialized', {})
  await connection.sendNotification('workspace/didChangeConfiguration', { settings: null })
  await configured
})

afterAll(() => {
  connection?.dispose()
  server?.kill()
})

/** What is told of a sample: its lines from 1 on, and words. */
async function toldOf(file: string): Promise<string[]> {
  const uri = pathToFileURL(join(SAMPLES, file)).href
  const found = new Promise<readonly Diagnostic[]>((done) => waiting.set(uri, done))
  const text = readFileSync(join(SAMPLES, file), 'utf8')
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'yaml', version: 1, text } })
  return (await found).map(({ range, message }) => `${range.start.line + 1}: ${message}`)
}

test('the list names a schema for each kind of document, by the files that are of that kind', () => {
  expect(schemas.map(({ url }) => new URL(url, CATALOG).href).sort()).toEqual(
    DOCUMENT_KINDS.map((kind) => schemaFile(kind).href).sort(),
  )
  for (const { fileMatch, url } of schemas)
    for (const pattern of fileMatch) expect(`${kindOfFile(pattern.replace('*', 'x'))}.schema.json`).toBe(url)
})

test('every schema is called after its file, so that they find one another wherever they lie', () => {
  for (const name of ['common', ...DOCUMENT_KINDS] as const)
    expect(JSON.parse(readFileSync(schemaFile(name), 'utf8')).$id).toBe(`${name}.schema.json`)
})

const CLEAN = ['tern-quay', 'saltmarsh'].flatMap((shop) =>
  readdirSync(join(SAMPLES, shop), { recursive: true, encoding: 'utf8' })
    .filter((file) => kindOfFile(file) !== undefined)
    .map((file) => join(shop, file)),
)

test.each(some(CLEAN))('nothing is told of %s', async (file) => {
  expect(await toldOf(file)).toEqual([])
})

test.each([
  ['unknown-key.media.yaml', '8: Property corection is not allowed.'],
  ['missing-unit.media.yaml', '6: Incorrect type. Expected "string".'],
  ['unknown-value.media.yaml', '12: Value is not accepted. Valid values: "print-edge", "web-edge", "bed-end".'],
  ['missing-thickness.stock.yaml', '2: Missing property "thickness".'],
  ['wrong-count.printer.yaml', '7: Array has too few items. Expected 2 or more.'],
])('the mistake in %s is told at its line', async (file, told) => {
  expect(await toldOf(join('broken', file))).toEqual([told])
})
