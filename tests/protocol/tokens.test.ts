// Semantic tokens over the protocol: the numbers as they are sent, and that what has changed leads to what is there now.
import { afterEach, describe, expect, test } from 'vitest'
import type { SemanticTokens, SemanticTokensDelta } from 'vscode-languageserver'
import { ROOT } from '../support/fixture.ts'
import { Client, FULL } from './client.ts'

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

const TEXT = '# 🖨️\nprofile: e\nx-t: "🖨️"\ngap: "🖨️"\nheat: { platen: 40 °C, after: 48 °C }\n'
const at = { textDocument: { uri: `${ROOT}e.media.yaml` } }

describe.each(['utf-8', 'utf-16', 'utf-32'] as const)('in %s', (encoding) => {
  test('lines, columns and lengths are counted as agreed', async () => {
    const capabilities = { ...FULL, general: { positionEncodings: [encoding] } }
    running = (await Client.start('', { capabilities })).client
    await running.open('e.media.yaml', TEXT)
    const { data } = await running.request<SemanticTokens>('textDocument/semanticTokens/full', at)
    const degree = encoding === 'utf-8' ? 3 : 2
    const second = '40 °C, after: '.length + (degree - 2)
    expect(data).toEqual([1, 9, 1, 0, 1, 3, 16, 2, 2, 0, 0, 3, degree, 4, 0, 0, second - 3, 2, 2, 0, 0, 3, degree, 4, 0])
  })
})

test('a delta on the last answer is the whole, and on any other the whole is sent', async () => {
  running = (await Client.start('')).client
  await running.open('e.media.yaml', TEXT)
  let { resultId, data } = await running.request<SemanticTokens>('textDocument/semanticTokens/full', at)
  let version = 1
  for (const text of [TEXT, TEXT.replace(', after: 48 °C', ''), TEXT.replace('e\n', 'e\ngap: 1 ±0.1 mm\n'), '', TEXT]) {
    await running.change('e.media.yaml', ++version, { text })
    const answer = await running.request<SemanticTokensDelta>('textDocument/semanticTokens/full/delta', {
      ...at,
      previousResultId: resultId,
    })
    for (const { start, deleteCount, data: put } of answer.edits) data = data.toSpliced(start, deleteCount, ...(put ?? []))
    const whole = await running.request<SemanticTokens>('textDocument/semanticTokens/full', at)
    expect(data).toEqual(whole.data)
    resultId = whole.resultId
  }
  const other = await running.request<SemanticTokens>('textDocument/semanticTokens/full/delta', { ...at, previousResultId: 'x' })
  expect(other.data).toEqual(data)
})
