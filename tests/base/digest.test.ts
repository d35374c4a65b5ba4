// The marks by which texts are told from one another.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { digest, mark } from '../../server/src/base/digest.ts'

// Test vectors of FNV-1a, 64 bits: C. Noll, "FNV test vectors", isthe.com/chongo/tech/comp/fnv (from memory).
test.each([
  ['', 'cbf29ce484222325'],
  ['a', 'af63dc4c8601ec8c'],
  ['foobar', '85944171f73967e8'],
])('%j is %s', (text, hash) => {
  expect(digest(text)).toBe(hash)
})

test('a letter changed, moved or gone makes another mark', () => {
  const seen = new Map<string, string>()
  const texts = fc.sample(fc.string({ unit: 'binary', maxLength: 40 }), { numRuns: 400, seed: 9 })
  for (const text of texts) {
    const near = [
      text,
      `${text} `,
      text.slice(1),
      text.split('').reverse().join(''),
      ...[...text].map((_, i) => text.slice(0, i) + text.slice(i + 1)),
    ]
    for (const one of near) {
      const other = seen.get(mark(one))
      expect(other ?? one).toBe(one)
      seen.set(mark(one), one)
    }
  }
  expect(seen.size).toBeGreaterThan(2000)
})
