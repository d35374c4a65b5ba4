// Which open documents are let go of, and when: the clock is held.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

let client: Client
let rested: string[]

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] })
  rested = []
  const rest = Analysis.prototype.rest
  vi.spyOn(Analysis.prototype, 'rest').mockImplementation(function (this: Analysis, file) {
    rested.push(file)
    rest.call(this, file)
  })
})

afterEach(async () => {
  vi.useRealTimers()
  vi.restoreAllMocks()
  await client.stop()
})

const NAMES = ['a.media.yaml', 'b.media.yaml'] as const
const [A, B] = NAMES.map((name) => ROOT + name)

test('a document rests after a minute without an edit or a question, and the others do not', async () => {
  ;({ client } = await Client.start('#- rollbook.yaml\nshop: Tern Quay Print Works\n'))
  for (const name of NAMES) await client.open(name, `profile: ${name[0]}\n`)
  for (const name of NAMES) await client.diagnostics(name, () => true)
  vi.advanceTimersByTime(40_000)
  await client.connection.sendRequest('textDocument/hover', {
    textDocument: { uri: B },
    position: { line: 0, character: 0 },
  })
  vi.advanceTimersByTime(30_000)
  expect(rested).toEqual([A])
  vi.advanceTimersByTime(40_000)
  expect(rested).toEqual([A, B])
})
