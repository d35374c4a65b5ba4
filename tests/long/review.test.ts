// Changes by chance, none missed and none invented. `MUTATIONS=100000` tries more, `SEED=random` others.
import { expect, test } from 'vitest'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { judged } from '../review/mutations.ts'
import { sampleShop } from '../review/reviewed.ts'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { told } from './told.ts'

const mutations = Number(process.env.MUTATIONS ?? 10_000)

test(`${mutations} changes of documents are told at their place, or as the same written anew`, () => {
  const documents = [...sampleShop()].filter(([file]) => kindOfFile(file))
  const { faults, counts } = judged(documents, mutations, new Chance(seed))
  told(`${mutations} changes (${[...counts].map(([what, count]) => `${what} ${count}`).join(', ')}): ${faults.length} told wrong`)
  expect(faults.slice(0, 20)).toEqual([])
})
