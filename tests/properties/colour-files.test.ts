// A tenth of the changed colour files that `npm run test:long` goes through: each is told of, or gives a value; none is thrown at anybody.
import { expect, test } from 'vitest'
import { mutateCgats, mutateIcc } from '../support/colour-mutations.ts'

test('200 changed ICC profiles', async () => {
  const { files, told } = await mutateIcc(200)
  expect(files).toBe(200)
  // Some changes meet what is not read; most do not.
  expect(told).toBeGreaterThan(100)
})

test('200 changed measurement files', async () => {
  const { files, told } = await mutateCgats(200)
  expect(files).toBe(200)
  expect(told).toBeGreaterThan(100)
})
