// One spelling for one file, whichever way a client encodes it.
import { fileURLToPath, pathToFileURL } from 'node:url'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { normalUri, uriBeside } from '../../server/src/base/uri.ts'
import { fileUri, pathOf } from '../../server/src/host/node.ts'
import { runs } from '../support/counts.ts'
import { seed } from '../support/seed.ts'

test.each([
  ['file:///c%3A/shop/a.media.yaml', 'file:///c:/shop/a.media.yaml'],
  ['file:///C:/shop/a.media.yaml', 'file:///c:/shop/a.media.yaml'],
  ['file:///shop/two words.media.yaml', 'file:///shop/two%20words.media.yaml'],
  ['file:///shop/%C3%BCber.media.yaml', 'file:///shop/%C3%BCber.media.yaml'],
  ['file:///shop/über.media.yaml', 'file:///shop/%C3%BCber.media.yaml'],
  ['file:///shop/%23%3F.media.yaml', 'file:///shop/%23%3F.media.yaml'],
  ['file:///shop/a%2Fb.media.yaml', 'file:///shop/a%2Fb.media.yaml'],
  ['file:///shop/100%.media.yaml', 'file:///shop/100%.media.yaml'],
  ['file://server/share/a.media.yaml', 'file://server/share/a.media.yaml'],
  ['untitled:Untitled-1', 'untitled:Untitled-1'],
  ['vfs://host/x/a.media.yaml?ref=v1#L3', 'vfs://host/x/a.media.yaml?ref=v1#L3'],
  ['no uri at all', 'no uri at all'],
])('%s', (given, normal) => expect(normalUri(given)).toBe(normal))

test('a normal URI is its own spelling', () => {
  const uris = fc.oneof(
    fc.webUrl({ withQueryParameters: true }),
    fc.string().map((path) => `file:///${path}`),
  )
  fc.assert(
    fc.property(uris, (uri) => {
      expect(normalUri(normalUri(uri))).toBe(normalUri(uri))
    }),
  )
})

test.each([
  ['colour/target.txt', 'file:///shop/profiles/colour/target.txt'],
  ['../icc/bay 1.icc', 'file:///shop/icc/bay%201.icc'],
  ['.\\colour\\a.txt', 'file:///shop/profiles/colour/a.txt'],
  ['100%.txt', 'file:///shop/profiles/100%25.txt'],
  ['a//b.txt', 'file:///shop/profiles/a/b.txt'],
  ['über.txt', 'file:///shop/profiles/%C3%BCber.txt'],
  ['../../x.txt', 'file:///x.txt'],
  ['../../../x.txt', undefined],
  ['/etc/x.txt', undefined],
  ['\\\\server\\x.txt', undefined],
  ['C:\\x.txt', undefined],
  ['https://example.org/x.txt', undefined],
  ['', undefined],
  ['..', undefined],
  ['colour/', undefined],
])('the path %j beside a profile', (path, uri) => expect(uriBeside('file:///shop/profiles/a.media.yaml', path)).toBe(uri))

test('any path is a URI in its one spelling, or none', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (path) => {
      const uri = uriBeside('memfs:/shop/a.media.yaml', path)
      if (uri !== undefined) expect(normalUri(uri)).toBe(uri)
    }),
  )
})

test.skipIf(process.platform === 'win32')(
  'a path that is spelled alike in a URI becomes the same by the short way as by the long one, and back',
  () => {
    const step = fc.oneof(
      fc.constantFrom('.', '..', '...', '', 'profiles', 'C:', 'a~b'),
      fc.string({ unit: fc.constantFrom(...'aZ09._-~ é%#?:\\+@&') }),
    )
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 5 }), (steps) => {
        const path = `/${steps.join('/')}`
        const uri = normalUri(pathToFileURL(path).href)
        expect(fileUri(path)).toBe(uri)
        expect(pathOf(uri)).toBe(fileURLToPath(uri))
      }),
      { numRuns: runs(20_000), seed },
    )
  },
)
