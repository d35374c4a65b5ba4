// Counts above names over the protocol, and that they are asked for again when another document changes them.
import { afterEach, expect, test } from 'vitest'
import type { ClientCapabilities, CodeLens } from 'vscode-languageserver'
import { inShop } from '../features/example-shop.ts'
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

test('above the feed stands what to key in, and what another print gains where somebody looks', async () => {
  const now = 'stock: film, printer: bay-1, mode: standard, gap: 2.0 mm, suction: 3, web.tension: 2, heat.platen: 40 °C'
  const check =
    '{ date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: +0.10 %, with: tape-5m, web: 23 °C, under: s }'
  const text = `profile: a
stock: film
printer: bay-1
mode: standard
gap: 2.0 mm
feed:
  correction: +0.10 %
  checks:
    - ${check}
    - ${check.replace('20', '21')}
heat: { platen: 40 °C }
suction: 3
web: { tension: 2 }
conditions:
  s: { from: said, ${now} }
`
  const shop = inShop('').replace('entry: percent', 'entry: percent, pattern-lengths: [1000 mm]')
  running = (await Client.start(shop, { initializationOptions: { recordCommand: 'record' } })).client
  await running.open('a.media.yaml', text)
  await running.diagnostics('a.media.yaml')
  const found = await lenses(running, 'a.media.yaml')
  expect(found.map(({ command }) => command?.title ?? 'to be looked up')).toEqual([
    'Doubtful, 20 %: key in +0.20 %',
    'to be looked up',
    'Record a feed check',
  ])
  expect(found[2]!.command).toMatchObject({ command: 'record', arguments: ['feed.checks', `${ROOT}a.media.yaml`] })
  const looked = await running.request<CodeLens>('codeLens/resolve', found[1]!)
  expect(looked.command?.title).toBe('under 5 % by prints: mind the scatter')
  expect(looked.command?.tooltip).toMatch(/^More prints are not the way: look at what makes the feed scatter/)
})

test('what cannot be recorded by a command of the client is not offered', async () => {
  const client = await start()
  await client.open('a.media.yaml', PROFILE)
  await client.diagnostics('a.media.yaml')
  expect((await lenses(client, 'a.media.yaml')).filter(({ command }) => command?.title.startsWith('Record'))).toEqual([])
})
