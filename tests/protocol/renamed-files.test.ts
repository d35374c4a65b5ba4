// A file that the client has renamed is known by its new name at once, before anybody who watches the disk has told of it.
import { afterEach, expect, test } from 'vitest'
import { ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

let client: Client

afterEach(() => client.stop())

const PROFILE = 'profile: a\nstock: film\n'

test('a stock that was renamed with its file can be named and renamed again', async () => {
  ;({ client } = await Client.start(
    `#- rollbook.yaml\nshop: Tern Quay Print Works\n#- film.stock.yaml\nstock: film\n#- a.media.yaml\n${PROFILE}`,
  ))
  await client.open('a.media.yaml', PROFILE)
  await client.diagnostics('a.media.yaml', ({ diagnostics }) => !diagnostics.some(({ code }) => code === 'missing-stock'))
  const [from, to] = [`${ROOT}film.stock.yaml`, `${ROOT}pet.stock.yaml`]
  client.host.files.delete(from)
  client.host.files.set(to, 'stock: pet\n')
  await client.change('a.media.yaml', 2, { text: PROFILE.replace('film', 'pet') })
  await client.connection.sendNotification('workspace/didRenameFiles', { files: [{ oldUri: from, newUri: to }] })
  await client.diagnostics(
    'a.media.yaml',
    ({ version, diagnostics }) => version === 2 && !diagnostics.some(({ code }) => code === 'missing-stock'),
  )
  const textDocument = { uri: `${ROOT}a.media.yaml` }
  const edit = await client.connection.sendRequest('textDocument/rename', {
    textDocument,
    position: { line: 1, character: 8 },
    newName: 'film',
  })
  expect(JSON.stringify(edit)).toContain('film')
})
