// The picture over the protocol: what the core draws, with the lines its parts stand in, of the newest text.
import { afterEach, expect, test } from 'vitest'
import type { Range } from 'vscode-languageserver'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { pageBody } from '../../server/src/picture/page.ts'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { profile, shopWith, TODAY } from '../picture/shop.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { setupFrom } from '../support/setups.ts'
import { Client } from './client.ts'

const NAME = 'e.media.yaml'
const BASE = '#- base.media.yaml\nprofile: base\n\ncarriage: {strikes: 2}\n'
const SOURCE = shopWith(profile().replace('profile: e\n', 'profile: e\nbase: base\n')) + BASE
const TEXT = parseFixture(SOURCE).text

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

interface Answer {
  readonly title: string
  readonly body: string
  readonly style: string
  readonly places: readonly { readonly id: string; readonly uri: string; readonly range: Range }[]
}

const ask = (client: Client, name: string): Promise<Answer | null> =>
  client.request('rollbook/picture', { textDocument: { uri: ROOT + name } })

async function start(): Promise<Client> {
  running = (await Client.start(SOURCE, { host: new MemoryHost(parseFixture(SOURCE).files, TODAY) })).client
  await running.open(NAME, TEXT)
  return running
}

test('is what the core draws, and each part has its line, in a closed document too', async () => {
  const client = await start()
  const { body, places, style } = (await ask(client, NAME))!
  expect(body).toBe(pageBody(picturesOf(await setupFrom(SOURCE, TODAY))))
  expect(style).not.toMatch(/#[0-9a-f]{3,6}\b/)
  const lines = TEXT.split('\n')
  const third = places.find(({ id }) => id === 'feed-3')!
  expect(lines[third.range.start.line]).toContain('date: 2026-10-19')
  expect(third.range.end.line).toBe(third.range.start.line)
  expect(lines[places.find(({ id }) => id === 'alignment')!.range.start.line]).toBe('alignment:')
  const slot = places.filter(({ uri }) => uri === `${ROOT}base.media.yaml`)
  expect(slot.map(({ range }) => range.start)).toEqual([{ line: 2, character: 11 }])
})

test('follows the text, and is nothing for what is no profile', async () => {
  const client = await start()
  await client.change(NAME, 2, { text: TEXT.replace('correction: +0.17 %', 'correction: +0.21 %') })
  const { body } = (await ask(client, NAME))!
  expect(body).toContain('set +0.21 %')
  expect(body).not.toContain('set +0.17 %')
  await client.open('bay-1.printer.yaml', 'printer: bay-1\n')
  expect(await ask(client, 'bay-1.printer.yaml')).toBeNull()
})
