// Our own reader against the library over many documents. `DOCUMENTS=1000000` compares more, `SEED=random` others.
import { expect, test } from 'vitest'
import { compareReaders, describeTally } from '../support/readers.ts'
import { seed } from '../support/seed.ts'
import { told } from './told.ts'

const documents = Number(process.env.DOCUMENTS ?? 200_000)

test(`the reader and the library read ${documents} documents alike`, () => {
  const tally = compareReaders({ seed, documents })
  told(describeTally(tally))
  expect(tally.differences).toEqual([])
  expect(tally.documents).toBeGreaterThanOrEqual(documents)
})
