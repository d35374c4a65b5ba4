// Five thousand generated three-way merges: no measurement lost or doubled in silence. `PAIRS=`, `SEED=random`.
import { expect, test } from 'vitest'
import { mergeMany } from '../merge/merges.ts'
import { seed } from '../support/seed.ts'
import { told } from './told.ts'

const pairs = Number(process.env.PAIRS ?? 5000)

test(`${pairs} merges`, () => {
  const { merged, refused, told: said, silent } = mergeMany(seed, pairs)
  told(
    `three-way merges, seed ${seed}: ${pairs} pairs, ${merged} merged, ${refused} left to git's markers, ${said} of one measurement or two told of, ${silent.length} in silence`,
  )
  expect(silent).toEqual([])
})
