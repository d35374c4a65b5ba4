// One spelling for one file, whichever way a client encodes it.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { normalUri } from '../../server/src/base/uri.ts'

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
