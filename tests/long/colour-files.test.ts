// 2,000 changed ICC profiles and 2,000 changed measurement files: each is told of, or gives a value. `FILES=50000` tries more, `SEED=random` others.
import { expect, test } from 'vitest'
import { mutateCgats, mutateIcc } from '../support/colour-mutations.ts'
import { told } from './told.ts'

const files = Number(process.env.FILES ?? 2000)

test(`${files} changed ICC profiles`, async () => {
  const tally = await mutateIcc(files)
  told(`ICC profiles changed: ${tally.files}, told of by a finding: ${tally.told}, the rest give a value`)
  expect(tally.files).toBe(files)
})

test(`${files} changed measurement files`, async () => {
  const tally = await mutateCgats(files)
  told(`measurement files changed: ${tally.files}, told of by a finding: ${tally.told}, the rest give a value`)
  expect(tally.files).toBe(files)
})
