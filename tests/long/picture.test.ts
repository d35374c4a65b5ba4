// The pictures of every setup there is: of the samples, the broken samples and the rules' examples.
import { expect, test } from 'vitest'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { faultsOf } from '../picture/faults.ts'
import { allSetups } from '../support/all-setups.ts'

test('are whole and safe, whatever is missing or wrong in the documents', async () => {
  const setups = await allSetups()
  expect(setups.length).toBeGreaterThan(300)
  for (const setup of setups) expect([setup.file, faultsOf(picturesOf(setup))]).toEqual([setup.file, []])
})
