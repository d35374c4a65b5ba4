// What a client must keep to, and is told in plain words where it does not: the order of messages, and what each must carry.
import { PassThrough } from 'node:stream'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { ErrorCodes, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver/node'
import { createMessageConnection, type MessageConnection } from 'vscode-languageserver-protocol/node'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { serve } from '../../server/src/lsp/server.ts'
import { ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

const DOCUMENT = { uri: `${ROOT}example.media.yaml` }
const AT = { textDocument: DOCUMENT, position: { line: 0, character: 0 } }
const HELLO = { processId: null, rootUri: null, capabilities: {} }

/** A client that has not said hello. */
function stranger(): { client: MessageConnection; host: MemoryHost; stop: () => void } {
  const [up, down] = [new PassThrough(), new PassThrough()]
  const host = new MemoryHost(new Map())
  serve(createMessageConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), host, '1.2.3')
  const client = createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up))
  client.listen()
  return {
    client,
    host,
    stop: () => client.dispose(),
  }
}

/** The code and words of the error a request is answered with. */
const refusal = (client: MessageConnection, method: string, params?: object): Promise<[number, string]> =>
  client.sendRequest(method, params).then(
    (answer) => [0, JSON.stringify(answer)],
    (error) => [error.code, error.message],
  )

describe('the order of messages', () => {
  test('nothing is answered before hello, nor after goodbye, and hello is said once', async () => {
    const { client, host, stop } = stranger()
    const first = [ErrorCodes.ServerNotInitialized, 'The server waits for the request initialize first.']
    expect(await refusal(client, 'textDocument/hover', AT)).toEqual(first)
    expect(
      await refusal(client, 'textDocument/inlayHint', {
        textDocument: DOCUMENT,
        range: { start: AT.position, end: AT.position },
      }),
    ).toEqual(first)
    expect(await refusal(client, 'rollbook/explain', {})).toEqual(first)
    expect(await refusal(client, 'shutdown')).toEqual(first)
    await client.sendNotification('textDocument/didOpen', {
      textDocument: { ...DOCUMENT, languageId: 'rollbook', version: 1, text: 'profile: x' },
    })
    await client.sendRequest('initialize', HELLO)
    expect(host.logged).toEqual([
      'error: a message (textDocument/didOpen) is left out: The server waits for the request initialize first.',
    ])
    expect(await client.sendRequest('textDocument/documentSymbol', { textDocument: DOCUMENT })).toBeNull()
    expect(await refusal(client, 'initialize', HELLO)).toEqual([ErrorCodes.InvalidRequest, 'The server is initialized already.'])
    await client.sendRequest('shutdown')
    expect(await refusal(client, 'textDocument/hover', AT)).toEqual([
      ErrorCodes.InvalidRequest,
      'The server was told to shut down.',
    ])
    expect(await refusal(client, 'shutdown')).toEqual([ErrorCodes.InvalidRequest, 'The server was told to shut down.'])
    stop()
  })
})

describe('what a message must carry', () => {
  let client: Client
  beforeEach(async () => {
    ;({ client } = await Client.start(''))
  })
  afterEach(() => client.stop())

  test.each<[string, object, string]>([
    ['textDocument/hover', {}, "'textDocument' is missing: an object with a uri"],
    ['textDocument/hover', { textDocument: {}, position: AT.position }, "'textDocument' is not an object with a uri"],
    ['textDocument/completion', { textDocument: DOCUMENT }, "'position' is missing: a line and a character"],
    ['textDocument/definition', { textDocument: DOCUMENT, position: 5 }, "'position' is not a line and a character"],
    [
      'textDocument/codeAction',
      { textDocument: DOCUMENT, range: {} },
      "'range' is not a start and an end, each a line and a character",
    ],
    ['textDocument/inlayHint', { textDocument: DOCUMENT }, "'range' is missing: a start and an end, each a line and a character"],
    ['rollbook/feedReckoning', {}, "'uri' is missing: a text"],
    ['rollbook/explain', { topic: 5 }, "'topic' is not a text"],
    ['rollbook/start', { uri: 'x', mode: {} }, "'mode' is not a text"],
  ])('%s %j', async (method, params, fault) => {
    expect(await refusal(client.connection, method, params)).toEqual([
      ErrorCodes.InvalidParams,
      `The request cannot be answered: ${fault}.`,
    ])
  })

  test('a change that carries none, or is older than the text, is left out and logged; the others are taken', async () => {
    await client.open('example.media.yaml', 'profile: example\n', 2)
    await client.connection.sendNotification('textDocument/didChange', { textDocument: { ...DOCUMENT, version: 3 } })
    await client.change('example.media.yaml', 1, { text: 'profile: other\n' })
    await client.change('example.media.yaml', 4, { text: 'title: two\n' })
    await client.diagnostics('example.media.yaml', ({ version }) => version === 4)
    expect(client.published.map(({ version }) => version)).not.toContain(1)
    expect(client.host.logged.filter((line) => line.startsWith('error'))).toEqual([
      "error: a message (textDocument/didChange) is left out: 'contentChanges' is missing: a list of changes, each with its text",
      `error: a change to ${DOCUMENT.uri} is left out: it is not open, or the change is older than its text`,
    ])
  })
})
