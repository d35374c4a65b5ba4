// The server as a process of its own on standard input and output: it says hello, reads a folder on disk, and ends as it is told to.
import { type ChildProcessWithoutNullStreams, fork, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node'
import { fileUri } from '../../server/src/host/node.ts'
import { oneFile } from '../support/one-file.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const SHOP = fileUri(join(ROOT, 'samples', 'tern-quay'))

let program = ''
beforeAll(() => {
  program = oneFile('main-server', mkdtempSync(join(tmpdir(), 'rollbook-')))
}, 60_000)
afterAll(() => rmSync(dirname(program), { recursive: true, force: true }))

let server: ChildProcessWithoutNullStreams | undefined
afterEach(() => {
  server?.kill()
})

/** A server whose streams are written and read by hand. */
function raw(): { child: ChildProcessWithoutNullStreams; err: () => string; ended: Promise<number | null> } {
  const child = spawn(process.execPath, [program, '--stdio'], { cwd: ROOT })
  server = child
  let err = ''
  child.stderr.on('data', (chunk) => {
    err += chunk
  })
  child.stdin.on('error', () => undefined)
  return { child, err: () => err, ended: once(child, 'close').then(([code]) => code as number | null) }
}

/** The first message that it sends. */
const first = (child: ChildProcessWithoutNullStreams): Promise<object> =>
  new Promise((resolve) => void new StreamMessageReader(child.stdout).listen(resolve))

const framed = (message: object): string => {
  const body = JSON.stringify({ jsonrpc: '2.0', ...message })
  return `Content-Length: ${body.length}\r\n\r\n${body}`
}

const HELLO = framed({ id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } })

test('a header that says no length is told, and ends the talk', async () => {
  const { child, err, ended } = raw()
  child.stdin.write(`Hello: 5\r\n\r\n${HELLO}`)
  expect(await ended).toBe(1)
  expect(err()).toBe(
    'rollbook: A message cannot be told from the next, and the server ends: Header must provide a Content-Length property.\n',
  )
})

test('a message that is not JSON is told, and the next one is answered', async () => {
  const { child, err } = raw()
  child.stdin.write(`Content-Length: 3\r\n\r\n{a}${HELLO}`)
  expect(await first(child)).toMatchObject({ id: 1, result: { serverInfo: { name: 'rollbook' } } })
  expect(err()).toMatch(/^rollbook: A message is left out: [^\n]*\n$/)
})

test('messages that are none, and cancellations of nothing, are survived, and the next one is answered', async () => {
  const { child, err } = raw()
  const strange = [
    'null',
    '5',
    '"x"',
    '[]',
    '{}',
    '{"id":9,"result":1}',
    '{"id":{},"method":"shutdown"}',
    '{"method":"never/heard"}',
  ]
  const cancelling = ['{"method":"$/cancelRequest"}', '{"method":"$/cancelRequest","params":{"id":"gone"}}']
  for (const body of [...strange, ...cancelling]) child.stdin.write(`Content-Length: ${body.length}\r\n\r\n${body}`)
  child.stdin.write(HELLO)
  expect(await first(child)).toMatchObject({ id: 1, result: { serverInfo: { name: 'rollbook' } } })
  expect(err()).toMatch(/^rollbook: A message is left out: /m)
  expect(err()).not.toMatch(/^ {2,}at /m)
})

test('a client that reads no more ends it without a stack', async () => {
  const { child, err, ended } = raw()
  child.stdin.write(HELLO)
  await once(child.stdout, 'data')
  child.stdout.destroy()
  for (let id = 2; child.exitCode === null && id < 2000; id++) {
    child.stdin.write(framed({ id, method: 'rollbook/explain', params: { topic: 'feed' } }))
    await new Promise(setImmediate)
  }
  expect(await ended).toBe(1)
  expect(err()).toBe('')
})

function start() {
  const child = spawn(process.execPath, [program, '--stdio'], { cwd: ROOT })
  server = child
  const connection = createMessageConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin))
  connection.onRequest(() => null)
  connection.onNotification(() => undefined)
  connection.listen()
  const ended = once(child, 'exit').then(([code]) => code as number)
  const hello = () =>
    connection.sendRequest<{ serverInfo: { name: string } }>('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities: {},
      workspaceFolders: [{ uri: SHOP, name: 'shop' }],
    })
  return { connection, ended, hello }
}

test('it answers from the documents on disk, and ends well when it is told to', async () => {
  const { connection, ended, hello } = start()
  expect((await hello()).serverInfo.name).toBe('rollbook')
  await connection.sendNotification('initialized', {})
  const uri = `${SHOP}/profiles/example.media.yaml`
  const text = 'profile: example\nstock: banner-510\nprinter: bay-1\n'
  await connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'rollbook', version: 1, text } })
  const definition = () =>
    connection.sendRequest<{ uri: string }[]>('textDocument/definition', {
      textDocument: { uri },
      position: { line: 1, character: 8 },
    })
  // The folder is read beside the talk: its documents are at hand some answers later.
  let found = await definition()
  while (found.length === 0) found = await definition()
  expect(found.map((location) => location.uri)).toEqual([`${SHOP}/stocks/banner-510.stock.yaml`])
  await connection.sendRequest('shutdown')
  await connection.sendNotification('exit')
  expect(await ended).toBe(0)
})

describe('documents on disk that cannot be read', () => {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-'))
  const root = fileUri(folder)
  afterAll(() => rmSync(folder, { recursive: true, force: true }))
  const PROFILE = 'profile: banner\nstock: matt\n'
  const logged: string[] = []
  let findings: (found: readonly string[]) => void = () => undefined

  /** A server over the folder that has the profile open, with what it finds. */
  async function serving() {
    writeFileSync(join(folder, 'rollbook.yaml'), 'shop: Tern Quay Print Works\n')
    writeFileSync(join(folder, 'matt.stock.yaml'), Buffer.from('stock: matt\ntitle: M\xe4tt\nfamily: banner-pvc\n', 'latin1'))
    const { connection } = start()
    connection.onNotification('window/logMessage', ({ type, message }) => void logged.push(`${type} ${message}`))
    connection.onNotification('textDocument/publishDiagnostics', ({ diagnostics }) =>
      findings(diagnostics.map((d: { message: string }) => d.message)),
    )
    const workspaceFolders = [{ uri: root, name: 'shop' }]
    await connection.sendRequest('initialize', { processId: null, rootUri: null, capabilities: {}, workspaceFolders })
    await connection.sendNotification('initialized', {})
    const next = (): Promise<readonly string[]> =>
      new Promise((resolve) => {
        findings = resolve
      })
    const told = next()
    await open(connection, `${root}/banner.media.yaml`, PROFILE)
    return { connection, found: await told, next }
  }

  const open = (connection: MessageConnection, uri: string, text: string): Promise<void> =>
    connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'rollbook', version: 1, text } })

  test('a stock that is not UTF-8 is not read with its letters replaced, and its profile is told so', async () => {
    const { connection, found, next } = await serving()
    expect(found).toContain("The document of stock 'matt', matt.stock.yaml, cannot be read.")
    expect(logged).toContain('1 matt.stock.yaml cannot be read: it is not UTF-8 text. Save it as UTF-8 in an editor.')
    writeFileSync(join(folder, 'matt.stock.yaml'), 'stock: matt\ntitle: M\ufffdtt\nfamily: banner-pvc\nthickness: 400 µm\n')
    const saved = next()
    await connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${root}/matt.stock.yaml`, type: 2 }],
    })
    expect((await saved).filter((message) => /stock/.test(message))).toEqual([])
  })

  test('closing one that was never saved, or is no file at all, is nobody’s mistake', async () => {
    const { connection } = await serving()
    logged.length = 0
    for (const uri of [`${root}/new.media.yaml`, 'untitled:new.media.yaml', 'untitled:Untitled-1']) {
      await open(connection, uri, 'profile: new\n')
      await connection.sendNotification('textDocument/didClose', { textDocument: { uri } })
    }
    while (logged.length < 3) await connection.sendRequest('rollbook/explain', { topic: 'feed.correction' })
    expect(logged.sort()).toEqual([
      '3 Untitled-1.media.yaml cannot be read: there is no such file',
      '3 new.media.yaml cannot be read: there is no such file',
      "3 untitled:new.media.yaml cannot be read: it is not a place on this machine's disk",
    ])
  })
})

test('it talks over the channel of an editor that forked it, and ends when that is gone', async () => {
  const child = fork(program, { cwd: ROOT })
  const ended = once(child, 'exit').then(([code]) => code as number)
  child.send({ jsonrpc: '2.0', id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } })
  expect((await once(child, 'message'))[0]).toMatchObject({ id: 1, result: { serverInfo: { name: 'rollbook' } } })
  child.disconnect()
  expect(await ended).toBe(1)
})

test('it ends with an error when it was not shut down before', async () => {
  const { connection, ended, hello } = start()
  await hello()
  await connection.sendNotification('exit')
  expect(await ended).toBe(1)
})
