// Counts above names over the protocol, and that they are asked for again when another document changes them.
import { afterEach, expect, test } from 'vitest'
import type { ClientCapabilities, CodeLens } from 'vscode-languageserver'
import { ROOT } from '../support/fixture.ts'
import { Client, FULL, type Start } from './client.ts'

const PROFILE = 'profile: a\nstock: film\nfeed: { checks: [{ with: tape }, { with: tape }] }\n'
const SHOP = `#- rollbook.yaml\nshop: Tern Quay\ninstruments: { tape: {}, rule: {} }\n#- film.stock.yaml\nstock: film\n#- a.media.yaml\n${PROFILE}`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

const REFRESHED: ClientCapabilities = {
  ...FULL,
  workspace: { ...FULL.workspace, codeLens: { refreshSupport: true }, semanticTokens: { refreshSupport: true } },
}

async function start(options: Start = {}): Promise<Client> {
  running = (await Client.start(SHOP, { capabilities: REFRESHED, ...options })).client
  return running
}

const at = (name: string) => ({ textDocument: { uri: ROOT + name } })
const lenses = (client: Client, name: string): Promise<CodeLens[]> => client.request('textDocument/codeLens', at(name))

test('a stock is counted at once, an instrument when it is looked at, and a click has a place', async () => {
  const client = await start({ initializationOptions: { referencesCommand: 'show' } })
  await client.open('film.stock.yaml', 'stock: film\n')
  const uri = `${ROOT}film.stock.yaml`
  await client.diagnostics('film.stock.yaml')
  expect((await lenses(client, 'film.stock.yaml')).map(({ command }) => command)).toEqual([
    { title: 'used by 1 profile', command: 'show', arguments: [uri, { line: 0, character: 7 }] },
  ])
  await client.open('rollbook.yaml', client.host.files.get(`${ROOT}rollbook.yaml`)!)
  const found = await lenses(client, 'rollbook.yaml')
  expect(found.map(({ command }) => command)).toEqual([undefined, undefined])
  const counted = await Promise.all(found.map((lens) => client.request<CodeLens>('codeLens/resolve', lens)))
  expect(counted.map(({ command }) => command?.title)).toEqual(['used by 1 profile', 'used by no profile'])
})

test('without a command of the client there are words alone', async () => {
  const client = await start()
  await client.open('film.stock.yaml', 'stock: film\n')
  await client.diagnostics('film.stock.yaml')
  expect((await lenses(client, 'film.stock.yaml'))[0]!.command).toEqual({ title: 'used by 1 profile', command: '' })
})

test('what another document changes is asked for again, and what none changes is not', async () => {
  const client = await start()
  await client.open('film.stock.yaml', 'stock: film\n')
  await client.open('a.media.yaml', PROFILE)
  await client.diagnostics('a.media.yaml')
  await lenses(client, 'film.stock.yaml')
  client.asked.length = 0
  await client.change('a.media.yaml', 2, { text: `${PROFILE}gap: 2 mm\n` })
  await client.diagnostics('a.media.yaml', ({ version }) => version === 2)
  await lenses(client, 'film.stock.yaml')
  expect(client.asked).toEqual([])
  await client.change('a.media.yaml', 3, { text: PROFILE.replace('film', 'foil') })
  await client.diagnostics('a.media.yaml', ({ version }) => version === 3)
  await client.askedFor('workspace/codeLens/refresh')
  expect((await lenses(client, 'film.stock.yaml'))[0]!.command!.title).toBe('used by no profile')
  // The stock takes the other name: the profile's text is the same, and its name leads somewhere now.
  await client.change('film.stock.yaml', 2, { text: 'stock: foil\n' })
  await client.askedFor('workspace/semanticTokens/refresh')
})
