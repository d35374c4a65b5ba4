// Typing a document leaves that document: samples go in key by key over the protocol, with whatever lists open and are taken from meanwhile. A seeded
// part of the lines of a seeded tenth of the documents here, all of them in `npm run test:long`.
import { expect, test } from 'vitest'
import { Chance } from '../support/chance.ts'
import { replay } from '../support/replay.ts'
import { seed } from '../support/seed.ts'

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
