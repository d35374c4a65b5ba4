// No difference is missed and none is invented, whatever is changed in whatever document of the sample shop: some of what `npm run test:long` tries.
import { expect, test } from 'vitest'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { fault, judged, mutated } from './mutations.ts'
import { reviewed, reviewedFiles, sampleShop } from './reviewed.ts'

const FILES = sampleShop()
const DOCUMENTS = [...FILES].filter(([file]) => kindOfFile(file))

test('each of many mutations is told at its place, or as the same written anew', () => {
  const { faults, counts } = judged(DOCUMENTS, 800, new Chance(seed))
  expect(faults).toEqual([])
  // Each sort was tried, so that none is right for want of a try.
  expect(counts.size).toBe(7)
  expect(Math.min(...counts.values())).toBeGreaterThan(8)
})

test('what says the same moves nothing, begins nothing and has nobody key anything in', async () => {
  const chance = new Chance(seed + 1)
  const after = new Map(FILES)
  for (let made = 0; made < 25; ) {
    const [file, text] = chance.one([...after].filter(([name]) => kindOfFile(name)))
    const mutation = mutated(text, file, chance)
    // A rule may tell of how a value is written; none of comments and quotes.
    if (!mutation || !['a comment', 'quotes', 'order'].includes(mutation.what)) continue
    made++
    after.set(file, mutation.text)
  }
  const set = await reviewedFiles(FILES, after, '2026-11-25')
  expect(set.totals.changed).toBeGreaterThan(10)
  expect(set.documents.filter(({ how }) => how !== 'same')).toEqual([])
  expect(set.profiles).toEqual([])
  expect(set.keyIn).toEqual([])
  expect(set.notCompared).toEqual([])
})

test('a fault would be seen', async () => {
  const [file, text] = DOCUMENTS.find(([name]) => name.endsWith('banner-510.stock.yaml'))!
  const other = text.replace('390 µm', '391 µm')
  expect(fault(text, { text: other, at: undefined, what: 'a test' }, file)).toMatch(/invented thickness/)
  expect(fault(text, { text, at: ['thickness'], what: 'a test' }, file)).toMatch(/missed/)
  expect(fault(text, { text: other, at: ['grammage'], what: 'a test' }, file)).toMatch(/told as thickness/)
  expect((await reviewed('#- a.stock.yaml\nstock: a\n', '')).documents).toEqual([])
})
