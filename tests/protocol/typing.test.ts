// Typing a document leaves that document: samples go in key by key over the protocol, with whatever lists open and are taken from meanwhile. A seeded
// part of the lines of a seeded tenth of the documents here, all of them in `npm run test:long`.
import { expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Chance } from '../support/chance.ts'
import { ROOT } from '../support/fixture.ts'
import { replay } from '../support/replay.ts'
import { seed } from '../support/seed.ts'
import { Typist } from '../support/typist.ts'
import { Client } from './client.ts'

test.each(['makes a line', 'takes the first'] as const)('where Enter %s, documents end as they are', async (enter) => {
  const chance = new Chance(seed + enter.length)
  const { otherwise, documents, keys } = await replay({
    folder: 'tern-quay',
    enter,
    isWanted: ({ name }) => name.endsWith('rollbook.yaml') || chance.once(10),
    isTyped: () => chance.once(16),
  })
  expect(otherwise).toEqual([])
  expect(documents).toBeGreaterThan(1)
  expect(keys).toBeGreaterThan(100)
})

test('a number without its unit is no whole value: there Enter takes the unit first, and then makes a line', async () => {
  const printer = 'printer: p\ncarriage: { gaps: [1.5 mm, 2.0 mm] }\n'
  const { client, answer } = await Client.start('', { host: new MemoryHost(new Map([[`${ROOT}p.printer.yaml`, printer]])) })
  const typist = await Typist.at(client, answer, 'e.media.yaml', 'profile: e\nprinter: p\n', 'takes the first')
  await typist.pressAll(['gap: 2.0', '<Enter>'])
  expect(typist.text).toBe('profile: e\nprinter: p\ngap: 2.0 mm')
  await typist.pressAll(['<Enter>', 'mode: m'])
  expect(typist.text).toBe('profile: e\nprinter: p\ngap: 2.0 mm\nmode: m')
  await client.stop()
})
