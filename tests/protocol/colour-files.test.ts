// Colour files over the protocol: their names are watched once they were looked for, and what changes in them is told.
import { afterEach, expect, test } from 'vitest'
import { ROOT } from '../support/fixture.ts'
import { Client, has, shown } from './client.ts'

const PROFILE = 'profile: example\ncolour:\n  reference: colour/aim [1].txt\n'
const AIM = 'CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50 0 0\nEND_DATA\n'
const FILE = `${ROOT}colour/aim%20%5B1%5D.txt`

let running: Client | undefined
afterEach(async () => {
  await running?.stop()
  running = undefined
})

test('one that is missing is told, watched, and read when it comes', async () => {
  const { client } = await Client.start('#- rollbook.yaml\nshop: s\n')
  running = client
  await client.open('example.media.yaml', PROFILE)
  expect(shown(await client.diagnostics('example.media.yaml', has('colour-file-missing')))).toContain('colour-file-missing 2:13')
  // What a pattern takes for more than a letter stands for any one.
  expect(client.heard).toContain('"globPattern":"**/aim ?1?.txt"')
  expect(client.heard.split('aim ?1?').length).toBe(2)
  const change = (type: 1 | 2 | 3): Promise<void> =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: FILE, type }] })
  client.host.files.set(FILE, AIM)
  await change(1)
  await client.diagnostics('example.media.yaml', (p) => !has('colour-file-missing')(p))
  client.host.files.set(FILE, AIM.replace('50 0 0', '50,0 0 0'))
  await change(2)
  await client.diagnostics('example.media.yaml', has('cgats-broken'))
  client.host.files.delete(FILE)
  await change(3)
  await client.diagnostics('example.media.yaml', has('colour-file-missing'))
})
