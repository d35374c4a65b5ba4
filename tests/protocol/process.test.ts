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
