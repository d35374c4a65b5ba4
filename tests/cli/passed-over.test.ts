// Files that `rollbook check` does not read and that somebody meant to be documents: told, and not passed over.
import { expect, test } from 'vitest'
import { nameMeant } from '../../server/src/schema/schema.ts'
import { ran } from './shell.ts'

const STOCK = 'stock: banner-440\nfamily: banner-pvc\nthickness: 440 µm\n'
const SHOP = `#- rollbook.yaml\nshop: Alder Lane Signs\n#- banner-440.stock.yaml\n${STOCK}`

test.each([
  ['rollbook.yml', 'rollbook.yaml'],
  ['Rollbook.yaml', 'rollbook.yaml'],
  ['stocks/banner.stock.yml', 'banner.stock.yaml'],
  ['banner.Stock.YAML', 'banner.stock.yaml'],
  ['bay-1.printer.yml', 'bay-1.printer.yaml'],
  ['banner-bay-1.profile.yaml', 'banner-bay-1.media.yaml'],
  ['banner.media.yaml', undefined],
  ['rollbook.yaml', undefined],
  ['banner.yaml', undefined],
  ['my-rollbook.yml', undefined],
  ['media.yml', undefined],
])('%s is meant to be %s', (name, meant) => expect(nameMeant(name)).toBe(meant))

test('a name that is almost right: nothing of it is judged, so not all was', async () => {
  const { err, code } = await ran('check', `${SHOP}#- profiles/banner-bay-1.media.yml\nprofile: banner-bay-1\n`)
  expect(err).toBe(
    'profiles/banner-bay-1.media.yml is not read: documents are named rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml. Rename it to banner-bay-1.media.yaml.\n',
  )
  expect(code).toBe(2)
  const { out } = await ran('check --format json', `${SHOP}#- a.media.yml\nprofile: a\n`)
  expect(JSON.parse(out)).toMatchObject({ notChecked: [expect.stringMatching(/^a\.media\.yml is not read/)] })
})

test('where nothing else is there, it is told all the same', async () => {
  const { err, code } = await ran('check', '#- banner.stock.yml\nstock: banner\n')
  expect([err, code]).toEqual([expect.stringMatching(/^banner\.stock\.yml is not read/), 2])
})

test('any other name over the text of a document is a remark', async () => {
  const { out, err, code } = await ran(
    'check',
    `${SHOP}#- drafts/banner.yaml\n${STOCK}#- compose.yml\nservices: {}\nprofile: dev\n`,
  )
  expect(out).toMatch(
    /^drafts\/banner\.yaml reads like a stock and is not checked: as a document it would be named banner\.stock\.yaml\.$/m,
  )
  expect([out.includes('compose'), err, code]).toEqual([false, '', 0])
})

test('named itself, it is told what it has to be called', async () => {
  const { err, code } = await ran('check banner.stock.yml', `${SHOP}#- banner.stock.yml\n${STOCK}`)
  expect([err, code]).toEqual([expect.stringMatching(/is not a Rollbook document.*Rename it to banner\.stock\.yaml\.\n$/), 2])
})
