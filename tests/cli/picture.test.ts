// `rollbook picture`: a page or one drawing, into a new file or on standard output, and what is said where there is nothing to draw.
import { expect, test } from 'vitest'
import { pageHtml, pictureSvg } from '../../server/src/picture/page.ts'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { shopWith, TODAY } from '../picture/shop.ts'
import { setupFrom } from '../support/setups.ts'
import { ran, run } from './shell.ts'

const SHELL = { today: TODAY }

test('writes the page that anybody else would draw of it, and one drawing alone', async () => {
  const page = picturesOf(await setupFrom(shopWith(), TODAY))
  expect((await ran('picture e --html -', shopWith(), SHELL)).out).toBe(pageHtml(page))
  const { created, out, err, code } = await ran('picture e.media.yaml --svg feed.svg', shopWith(), SHELL)
  expect([out, err, code]).toEqual(['', '', 0])
  expect([...created]).toEqual([['/shop/feed.svg', pictureSvg(page.pictures[0]!)]])
  const suction = page.pictures.filter(({ id }) => id === 'suction')
  expect((await ran('picture e --html - --of suction', shopWith(), SHELL)).out).toBe(pageHtml({ ...page, pictures: suction }))
})

test('says where there is nothing to draw', async () => {
  expect(await run('picture e --svg - --of alignment', '#- e.media.yaml\nprofile: e\n', SHELL)).toBe(
    '! There is nothing to draw of the alignment of e.media.yaml.\nexit 1',
  )
  expect(await run('picture e --svg - --of settings', '#- e.media.yaml\nprofile: e\n', SHELL)).toBe(
    '! There is nothing to draw of the settings of e.media.yaml.\nexit 1',
  )
})

test('draws without what cannot be read, says so on the page and beside it, and does not pass as whole', async () => {
  const { out, err, code } = await ran('picture e --html -', '#- e.media.yaml\nprofile: e\nstock: gone\n', SHELL)
  expect(code).toBe(2)
  expect(err).toContain("There is no stock 'gone'")
  expect(out).toContain('Settle first: There is no stock &#39;gone&#39;')
})

test('asks where the pictures go, and writes over nothing', async () => {
  expect(await run('picture e', shopWith(), SHELL)).toBe(
    "! Say where the pictures go: --html FILE for a page, or --svg FILE for one drawing. See 'rollbook picture --help'.\nexit 2",
  )
  expect(await run('picture e --html a --svg b', shopWith(), SHELL)).toContain('! Say where the pictures go')
  expect(await run('picture e --svg - --of feeds', shopWith(), SHELL)).toContain('Do you mean feed?')
  expect(await run('picture e --html rollbook.yaml', shopWith(), SHELL)).toBe(
    '! There is a file /shop/rollbook.yaml already; it is not written over.\nexit 2',
  )
})
