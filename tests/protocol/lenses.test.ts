// Counts above names over the protocol, and that they are asked for again when another document changes them.
import { afterEach, describe, expect, test } from 'vitest'
import type { MessageConnection } from 'vscode-jsonrpc'
import type { ClientCapabilities, CodeLens } from 'vscode-languageserver'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { followsFrom } from '../../server/src/lsp/review.ts'
import { Session } from '../../server/src/lsp/session.ts'
import { inShop } from '../features/example-shop.ts'
import { ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'
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
  expect(looked.command?.title).toBe('under 5 %: mind the scatter')
  expect(looked.command?.tooltip).toMatch(/^More prints are not the way: look at what makes the feed scatter/)
})

test('what cannot be recorded by a command of the client is not offered', async () => {
  const client = await start()
  await client.open('a.media.yaml', PROFILE)
  await client.diagnostics('a.media.yaml')
  expect((await lenses(client, 'a.media.yaml')).filter(({ command }) => command?.title.startsWith('Record'))).toEqual([])
})

describe('at the head of what is not saved', () => {
  const shop = samples().filter(({ name }) => name.startsWith('tern-quay/'))
  const files = new Map(shop.map(({ name, text }) => [`${ROOT}${name.slice(10)}`, text]))
  const host = new MemoryHost(files, '2026-11-25')
  const profile = 'profiles/pp-film-180-bay-1.media.yaml'

  test('stands what follows from it, once nobody types, and a click reviews it; nothing where all is saved', async () => {
    const options = { host, initializationOptions: { reviewCommand: 'review' } }
    running = (await Client.start('', options)).client
    const own = host.files.get(ROOT + profile)!
    const follows = async (): Promise<CodeLens[]> =>
      (await lenses(running!, profile)).filter(({ data }) => (data as { follows?: string } | undefined)?.follows)
    await running.open(profile, own)
    expect(await follows()).toEqual([])
    await running.change(profile, 2, { text: own.replace('correction: +0.25 %', 'correction: +0.35 %') })
    const [lens, ...more] = await follows()
    expect(more).toEqual([])
    expect(lens!.range).toEqual({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } })
    const looked = await running.request<CodeLens>('codeLens/resolve', lens!)
    expect(looked.command).toMatchObject({ command: 'review', arguments: ['saved'] })
    expect(looked.command!.title).toMatch(/^Unsaved: 1 to key in, /)
  })

  test('nothing for a client that shows no review', async () => {
    running = (await Client.start('', { host })).client
    await running.open(profile, `${host.files.get(ROOT + profile)!}# remark\n`)
    expect((await lenses(running, profile)).filter(({ range }) => range.start.line === 0)).toEqual([])
  })

  test('in few words: to key in, lengths to prove again, findings, and what could not be compared', async () => {
    const nobody = { sendNotification: async () => undefined, sendRequest: async () => undefined }
    const session = new Session(nobody as unknown as MessageConnection, host)
    await session.workspace.addFolder(ROOT)
    const following = async (name: string, change: (text: string) => string): Promise<string | undefined> => {
      const file = ROOT + name
      const text = change(files.get(file)!)
      session.texts.open(file, file, 1, text)
      session.workspace.update(file, text)
      const words = await followsFrom(file, 'saved', session)
      await session.leave(file)
      return words
    }
    expect(await following(profile, (text) => text)).toBeUndefined()
    expect(await following(profile, (text) => text.replace('correction: +0.25 %', 'correction: +0.35 %'))).toMatchInlineSnapshot(
      `"1 to key in, no proven length to prove again, 2 findings more"`,
    )
    expect(await following(profile, (text) => text.replace('gap: 2.0 mm', 'gap: 1.5 mm'))).toMatchInlineSnapshot(
      `"1 to key in, no proven length to prove again, 1 finding more"`,
    )
    expect(await following(profile, (text) => `${text}# remark\n`)).toMatchInlineSnapshot(
      `"nothing to key in, no proven length to prove again"`,
    )
    expect(
      await following('stocks/cast-film-gloss-50.stock.yaml', (text) =>
        text.replace(/^max-web-temperature: .*$/m, 'max-web-temperature: 38 °C'),
      ),
    ).toMatchInlineSnapshot(`"nothing to key in, no proven length to prove again, 4 findings more, not all could be compared"`)
  })
})
