// The talk itself: messages cut from bytes however they come, and questions that nobody waits for any more or that nobody can answer.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Frames, framed } from '../../server/src/lsp/framing.ts'
import { type Channel, CODE, Refusal, Talk } from '../../server/src/lsp/talk.ts'

const bytesOf = (messages: readonly object[]): Uint8Array => Buffer.concat(messages.map(framed))

describe('messages on a stream', () => {
  test('are the same however the bytes are cut', () => {
    const message = fc.record({ method: fc.string({ unit: 'binary' }), params: fc.json() })
    fc.assert(
      fc.property(fc.array(message, { maxLength: 5 }), fc.array(fc.nat({ max: 40 })), (messages, cuts) => {
        const bytes = bytesOf(messages)
        const frames = new Frames()
        const texts: string[] = []
        let at = 0
        for (const cut of [...cuts, bytes.length]) {
          texts.push(...frames.take(bytes.slice(at, at + cut)))
          at += cut
        }
        expect(texts.map((text) => JSON.parse(text))).toEqual(JSON.parse(JSON.stringify(messages)))
      }),
    )
  })

  test.each(['Content-Type: x\r\n\r\n{}', 'Content-Length: many\r\n\r\n{}', 'x'.repeat(10_000)])(
    'need a length: %.30s',
    (text) => {
      expect(() => new Frames().take(Buffer.from(text))).toThrow(/Header/)
    },
  )

  test('may have other headers, in any case', () => {
    const text = 'content-type: application/json\r\ncontent-length: 2\r\n\r\n{}'
    expect(new Frames().take(Buffer.from(text))).toEqual(['{}'])
  })
})

/** A talk with what it says, and a hand to say something to it. */
function talking(): { talk: Talk; said: object[]; say: (message: unknown) => void; turns: () => Promise<void> } {
  const said: object[] = []
  let say: (message: unknown) => void = () => undefined
  const channel: Channel = {
    send: (message) => void said.push(message),
    listen(take) {
      say = take
    },
  }
  const talk = new Talk(channel)
  talk.listen()
  const turns = async (): Promise<void> => {
    for (let n = 0; n < 10; n++) await new Promise(setImmediate)
  }
  return { talk, said, say: (message) => say(message), turns }
}

describe('a talk', () => {
  test('answers what it can, and says of the rest that it cannot', async () => {
    const { talk, said, say, turns } = talking()
    talk.onRequest('nothing', () => undefined)
    talk.onRequest('refused', () => Promise.reject(new Refusal(CODE.invalidParams, 'No.')))
    talk.onRequest('broken', () => {
      throw new Error('inside')
    })
    const strange = [null, 5, 'x', [], {}, { id: 9, result: 1 }, { id: {}, method: 'nothing' }, { method: 'never/heard' }]
    for (const message of strange) say(message)
    for (const [id, method] of ['nothing', 'refused', 'broken', 'unknown'].entries()) say({ id, method })
    await turns()
    await turns()
    expect(said).toEqual([
      { jsonrpc: '2.0', id: 0, result: null },
      { jsonrpc: '2.0', id: 1, error: { code: -32602, message: 'No.' } },
      { jsonrpc: '2.0', id: 2, error: { code: -32603, message: 'Request broken failed with message: inside' } },
      { jsonrpc: '2.0', id: 3, error: { code: -32601, message: 'Unhandled method unknown' } },
    ])
  })

  test('a cancellation overtakes what waits, and others are not touched by it', async () => {
    const { talk, said, say, turns } = talking()
    talk.onRequest('ask', (_params, token) => token.isCancellationRequested)
    say({ id: 'a', method: 'ask' })
    say({ id: 'b', method: 'ask' })
    say({ method: '$/cancelRequest', params: { id: 'b' } })
    say({ method: '$/cancelRequest', params: { id: 'gone' } })
    say({ method: '$/cancelRequest' })
    await turns()
    expect(said).toEqual([
      { jsonrpc: '2.0', id: 'a', result: false },
      { jsonrpc: '2.0', id: 'b', result: true },
    ])
  })

  test('asks, and hears the answer or why there is none', async () => {
    const { talk, said, say, turns } = talking()
    const answers = ['a', 'b'].map((method) => talk.ask(method).catch((error: Error) => error.message))
    say({ id: 2, error: { code: 1, message: 'not here' } })
    say({ id: 1, result: [5] })
    await turns()
    expect(await Promise.all(answers)).toEqual([[5], 'not here'])
    expect(said).toEqual([
      { jsonrpc: '2.0', id: 1, method: 'a' },
      { jsonrpc: '2.0', id: 2, method: 'b' },
    ])
  })
})
