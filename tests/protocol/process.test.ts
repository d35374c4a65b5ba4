// The server as a process of its own on standard input and output: it says hello, reads a folder on disk, and ends as it is told to.
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver-protocol/node'
import { fileUri } from '../../server/src/host/node.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const SHOP = fileUri(join(ROOT, 'samples', 'tern-quay'))

let server: ChildProcessWithoutNullStreams | undefined
afterEach(() => {
  server?.kill()
})

/** A server whose streams are written and read by hand. */
function raw(): { child: ChildProcessWithoutNullStreams; err: () => string; ended: Promise<number | null> } {
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/src/main-node.ts', '--stdio'], { cwd: ROOT })
  server = child
  let err = ''
  child.stderr.on('data', (chunk) => {
    err += chunk
  })
  child.stdin.on('error', () => undefined)
  return { child, err: () => err, ended: once(child, 'close').then(([code]) => code as number | null) }
}

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
  expect(String((await once(child.stdout, 'data'))[0])).toContain('"name":"rollbook"')
  expect(err()).toMatch(/^rollbook: A message that is not JSON is left out: [^\n]*\n$/)
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
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/src/main-node.ts', '--stdio'], { cwd: ROOT })
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

test('it ends with an error when it was not shut down before', async () => {
  const { connection, ended, hello } = start()
  await hello()
  await connection.sendNotification('exit')
  expect(await ended).toBe(1)
})
