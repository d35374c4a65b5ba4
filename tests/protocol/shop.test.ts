// The shop in view, as a client's side bar asks for it and hears that it is another.
import { readFileSync } from 'node:fs'
import { afterEach, expect, test } from 'vitest'
import type { ClientCapabilities, CodeLens } from 'vscode-languageserver'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { ProfileWord, ShopNode } from '../../server/src/workspace/shop-view.ts'
import { sampleWorkspace } from '../../server/tools/samples.ts'
import { ROOT } from '../support/fixture.ts'
import { Client, FULL } from './client.ts'

const sample = await sampleWorkspace('tern-quay')
const FILES = new Map(sample.workspace.everything().map(({ file }) => [file, readSample(file)]))
const PROFILE = 'profiles/banner-510-bay-1.media.yaml'

function readSample(file: string): string {
  return readFileSync(new URL(`../../samples/tern-quay/${file.slice(ROOT.length)}`, import.meta.url), 'utf8')
}

let client: Client
let host: MemoryHost
let changes: (() => void)[]
let changed = 0
afterEach(async () => {
  await client.stop()
})

async function start(capabilities: ClientCapabilities = FULL): Promise<void> {
  host = new MemoryHost(new Map(FILES), '2026-11-25')
  ;({ client } = await Client.start('', { host, capabilities, initializationOptions: { shopView: true } }))
  changed = 0
  changes = []
  client.connection.onNotification('rollbook/shopChanged', () => {
    changed++
    for (const wake of changes.splice(0)) wake()
  })
}

const shop = async (params: object = {}): Promise<readonly (ShopNode & { uri?: string })[]> =>
  (await client.request<{ nodes: ShopNode[] }>('rollbook/shop', { uri: `${ROOT}rollbook.yaml`, ...params })).nodes

const word = (name: string): Promise<ProfileWord | null> => client.request('rollbook/word', { uri: ROOT + name })

const next = (): Promise<void> => new Promise((wake) => changes.push(wake))

test('the shop by printer, by stock, by the day and by its words, each profile with its file', async () => {
  await start()
  expect((await shop()).map(({ label, says }) => `${label}: ${says}`)).toEqual([
    'bay-1: 7 profiles, 6 due',
    'bay-2: 6 profiles, 5 due',
    'bay-3: 3 profiles, 3 due',
  ])
  const due = await shop({ order: 'due' })
  expect(due[0]).toMatchObject({ label: 'banner-510-bay-1', says: 'off, due today', uri: ROOT + PROFILE })
  expect((await shop({ words: ['carried'] })).map(({ label }) => label)).toEqual(['bay-2'])
  // A folder above the shop shows the shop.
  expect((await shop({ uri: 'file:///rollbook.yaml' })).length).toBe(3)
})

test('an edit that changes what is known is told of once, and one that changes nothing is not', async () => {
  await start({ ...FULL, textDocument: { ...FULL.textDocument, diagnostic: {} } })
  void client.request('workspace/diagnostic', { previousResultIds: [], partialResultToken: 1 }).catch(() => undefined)
  await shop()
  const text = FILES.get(ROOT + PROFILE)!
  await client.open(PROFILE, `# A remark.\n${text}`)
  await shop()
  expect(await word(PROFILE)).toMatchObject({ word: 'off', says: 'off, due today' })
  const set = /correction: (\S+ %)/.exec(text)![1]!
  const told = next()
  await client.change(PROFILE, 2, { text: text.replace(`correction: ${set}`, 'correction: +0.24 %') })
  await told
  const [first] = await shop({ order: 'due' })
  expect(first!.label).not.toBe('banner-510-bay-1')
  expect((await word(PROFILE))!.word).not.toBe('off')
})

test('a client that asks for nothing else hears of any change, once until it asks again', async () => {
  await start()
  await shop()
  const told = next()
  await client.open(PROFILE, `# A remark.\n${FILES.get(ROOT + PROFILE)}`)
  await client.change(PROFILE, 2, { text: FILES.get(ROOT + PROFILE)! })
  await told
  await word(PROFILE)
  expect(changed).toBe(1)
})

test('what is no profile has no word', async () => {
  await start()
  expect(await word('stocks/banner-510.stock.yaml')).toBeNull()
  expect(await word('nowhere.media.yaml')).toBeNull()
})

test('above a stock stands how many of its profiles are off or doubtful, once they are judged', async () => {
  await start()
  const stock = 'stocks/banner-510.stock.yaml'
  const uri = ROOT + stock
  await client.open(stock, FILES.get(uri)!)
  const titles = async (): Promise<readonly (string | undefined)[]> =>
    (await client.request<CodeLens[]>('textDocument/codeLens', { textDocument: { uri } })).map(({ command }) => command?.title)
  await client.diagnostics(stock)
  expect(await titles()).toEqual(['used by 1 profile'])
  await shop()
  expect(await titles()).toEqual(['used by 1 profile, 1 off'])
})

test('a profile that goes while the shop is looked at is told of: who looks asks again, and it is gone', async () => {
  await start()
  const [read, gone, top] = [host.read.bind(host), `${ROOT}profiles/banner-510-bay-1.media.yaml`, `${ROOT}rollbook.yaml`]
  const changedOnDisk = (uri: string, type: number): Promise<void> =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri, type }] })
  await shop()
  // All are judged anew by another shop; one goes when it was judged and others are not.
  host.files.set(top, FILES.get(top)!.replace('length: 0.05 %', 'length: 0.06 %'))
  const other = next()
  await changedOnDisk(top, 2)
  await other
  let going: Promise<void> | undefined
  host.read = async (file) => {
    if (/pp-film-180-bay-2/.test(file) && !going) {
      host.files.delete(gone)
      going = changedOnDisk(gone, 3)
      await new Promise((resolve) => setTimeout(resolve, 50))
    }
    return read(file)
  }
  const heard = next()
  await shop()
  expect(going).toBeDefined()
  await heard
  expect(JSON.stringify(await shop({ order: 'due' }))).not.toContain('banner-510-bay-1')
})
