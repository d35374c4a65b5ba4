// Text edits: sorted, disjoint, nothing kept that changes nothing; applied, every byte outside them stays.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'

test('edits are sorted, and those that change nothing are dropped', () => {
  const text = 'gap: 2 mm\nmode: fast\n'
  const edits = editsOf(text, [
    { start: 16, end: 20, newText: 'slow' },
    { start: 0, end: 3, newText: 'gap' },
    { start: 5, end: 6, newText: '3' },
  ])
  expect(edits).toEqual([
    { start: 5, end: 6, newText: '3' },
    { start: 16, end: 20, newText: 'slow' },
  ])
  expect(applyEdits(text, edits)).toBe('gap: 3 mm\nmode: slow\n')
})

test('overlapping edits are a programming error', () => {
  expect(() =>
    editsOf('abcdef', [
      { start: 0, end: 3, newText: 'x' },
      { start: 2, end: 4, newText: 'y' },
    ]),
  ).toThrow('edits overlap')
})

test('edits that touch are taken, insertions at one place in the order given', () => {
  const edits = editsOf('abc', [
    { start: 1, end: 2, newText: 'X' },
    { start: 1, end: 1, newText: '1' },
    { start: 1, end: 1, newText: '2' },
    { start: 2, end: 3, newText: 'Y' },
  ])
  expect(applyEdits('abc', edits)).toBe('a12XY')
})

test('applied together, edits do what they do one by one from the last to the first', () => {
  const cuts = fc.uniqueArray(fc.nat(40), { minLength: 2, maxLength: 10 })
  fc.assert(
    fc.property(
      fc.string({ minLength: 41, maxLength: 60 }),
      cuts,
      fc.array(fc.string({ maxLength: 4 }), { minLength: 5, maxLength: 5 }),
      (text, at, words) => {
        const sorted = [...at].sort((a, b) => a - b)
        const wanted = words.flatMap((newText, i) =>
          sorted[2 * i + 1] === undefined ? [] : [{ start: sorted[2 * i]!, end: sorted[2 * i + 1]!, newText }],
        )
        const oneByOne = wanted.reduceRight((t, e) => t.slice(0, e.start) + e.newText + t.slice(e.end), text)
        expect(applyEdits(text, editsOf(text, [...wanted].reverse()))).toBe(oneByOne)
      },
    ),
  )
})
